"""Install trees out of one file that `lowside pack` wrote. No network is needed.

They lie over the trees that came with lowside, and under your own. What was installed before is replaced; your own
trees, visits and settings are not touched. The file is looked at first: every text must be what was packed, and the
trees must hold. An older edition, or another text with the same number, takes --again.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.desk.installed import Installed
    from tui.desk.pack import Manifest


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="what lowside pack wrote")
    parser.add_argument("--again", action="store_true", help="also an older edition, or over a damaged one")


def run(options: argparse.Namespace) -> int:
    """Install it. 1: the trees do not hold, and why was printed. Raises Refused; then nothing changed."""
    import shutil

    from tui.desk.home import home
    from tui.desk.installed import make_it_count, unpack_into
    from tui.desk.laid_over import lines
    from tui.desk.pack import unpacked
    from tui.desk.saying import wrapped

    mine, file = home(), Path(options.file)
    manifest, texts = unpacked(file)
    if not options.again and (before := _before(mine.library)) is not None:
        if before.manifest == manifest and not before.changed():
            print(f"Edition {manifest.edition} is installed already. Nothing was changed.")
            return 0
        _is_newer(file, manifest, before)
    folder = unpack_into(mine.library, manifest, texts)
    if not _hold(folder, mine.trees):
        shutil.rmtree(folder, ignore_errors=True)
        return 1
    make_it_count(mine.library, manifest, folder)
    print("\n".join(["Installed.", *(line for each in lines(mine) for line in wrapped(each))]))
    return 0


def _before(library: Path) -> Installed | None:
    from tui.desk.installed import installed

    return installed(library)


def _is_newer(file: Path, manifest: Manifest, before: Installed) -> None:
    """Raises Refused for an edition that is not above what is installed."""
    there = before.manifest
    cure = f"To install it all the same: lowside install {file} --again"
    if manifest.edition < there.edition:
        say = f"{file}: edition {manifest.edition} of {manifest.date} is older than what is installed, edition"
        raise Refused("older", f"{say} {there.edition} of {there.date}.", cure)
    if manifest.edition == there.edition and manifest != there:
        say = f"{file}: edition {manifest.edition} is installed already, with another text, day or approval."
        raise Refused("same-edition", say, f"An edition names one text: pack it with the next number. {cure}")
    if manifest == there:
        changed = ", ".join(before.changed())
        raise Refused("changed", f"It is installed already, and was changed since: {changed}.", cure)


def _hold(folder: Path, own: Path) -> bool:
    """Whether the trees hold by themselves, and with the person's own over them."""
    from tui.cli.pack import holds
    from tui.tree.bundled import bundled_trees

    if not holds([bundled_trees(), folder], "installed"):
        return False
    if not own.is_dir() or holds([bundled_trees(), folder, own], "installed"):
        return True
    print(f"By themselves they hold: your own trees in {own} do not fit over them. Mend those or move them away.")
    return False
