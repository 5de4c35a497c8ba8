"""Your trees in one file, for other machines: checked, numbered, and with the name of whoever approved them.

FOLDER is a folder of trees to be laid over those of lowside; without it, your own. Its trees, its catalogue and its
examples go in; nothing else does. The same trees, edition, day and approval give the same bytes.

  lowside pack my-trees --edition 2 --approved-by lead-2
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.library import Library


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", metavar="FOLDER", help="the trees to pack; else your own")
    parser.add_argument("--out", metavar="FILE", help="the file to write; it must not exist yet")
    parser.add_argument("--edition", type=int, metavar="N", help="its number; else one more than what is installed")
    parser.add_argument("--approved-by", metavar="ID", default="", help="a role or an id, such as lead-2; no name")
    parser.add_argument("--date", metavar="DAY", help="the day it is of, such as 2026-11-30; else today")


def run(options: argparse.Namespace) -> int:
    """Write it. 1: the trees do not hold, and why was printed. Raises Refused for what can't be packed."""
    from tui.cli.libraries import no_such
    from tui.desk.clock import SystemClock
    from tui.desk.home import own_trees
    from tui.desk.laid_over import SHOWN
    from tui.desk.pack import manifest_of, packed, texts_of
    from tui.desk.saying import wrapped
    from tui.tree.bundled import bundled_trees

    folder = Path(options.folder) if options.folder else own_trees()
    if not folder.is_dir():
        raise no_such(folder, "Name the folder of your trees.")
    texts = texts_of(folder)
    day = options.date or SystemClock().today().isoformat()
    edition = _next_edition() if options.edition is None else options.edition
    manifest = manifest_of(texts, edition, day, options.approved_by)
    out = Path(options.out or f"trees-edition-{edition}.zip")
    if out.exists():
        cure = f"Raise the number: --edition {edition + 1}. Or write it elsewhere: --out FILE."
        raise Refused("exists", f"{out}: this file is there already, and an edition names one text.", cure)
    if not holds([bundled_trees(), folder]) or not _examples_hold([bundled_trees(), folder]):
        return 1
    _write(out, packed(manifest, texts))
    approved = f"approved by {manifest.approved_by}" if manifest.approved_by else "approved by nobody"
    said = f"Written: {out}, edition {edition} of {manifest.date}, {approved}, digest {manifest.digest[:SHOWN]}."
    print("\n".join(wrapped(said)))
    print(f"On each machine:  lowside install {out.name}")
    return 0


def holds(folders: Sequence[Path], done: str = "written") -> bool:
    """Whether these trees hold, one over the other; if not, every problem that stops is printed as check does."""
    from tui.cli.libraries import problems_in
    from tui.cli.output import say
    from tui.cli.problems import problem_line

    stops = [problem for problem in problems_in(folders) if problem.severity == "error"]
    for problem in stops:
        say(problem_line(problem))
    if stops:
        many = "1 problem" if len(stops) == 1 else f"{len(stops)} problems"
        print(f"These trees do not hold ({many}), so nothing was {done}.")
    return not stops


def _examples_hold(folders: Sequence[Path]) -> bool:
    """Whether every example ends as it says, lowside's own among them; which does not, is printed.

    Of lowside's own, those that can come into no tree that is new or changed end as before, and are spared.
    """
    from tui.cli.libraries import load
    from tui.proof.examples import run_examples
    from tui.proof.reading import example_files, read_examples

    library = load(folders)
    may_differ = _that_may_differ(library, folders[-1])
    examples = read_examples(library, example_files(folders, may_lack=True))
    own = folders[-1].resolve()
    walked = [each for each in examples
              if each.answers.tree in may_differ or own in Path(each.spot.path).resolve().parents]
    outcomes = run_examples(library, walked)
    for outcome in outcomes:
        spot = outcome.example.spot
        where = f"{spot.path}:{spot.line}:{spot.column}: {outcome.example.name}"
        if not outcome.ok:
            print(f"{where} ends otherwise.")
        elif outcome.example.unreviewed:
            print(f"{where} is unreviewed: nobody has written its why")
    failed = sum(not outcome.ok for outcome in outcomes)
    if failed:
        print(f"{failed} of {len(outcomes)} examples end otherwise, so nothing was written. See: lowside examples")
    return not failed


def _that_may_differ(library: Library, folder: Path) -> set[str]:
    """The trees from which a walk may come into one of this folder; all of them where its catalogue says something."""
    from tui.proof.unreached import leading_to

    if any((folder / "catalogue").glob("*.yaml")):
        return set(library.trees)
    found: set[str] = set()
    for name, tree in library.trees.items():
        if Path(tree.spot.path).resolve().parent == folder.resolve():
            found |= leading_to(library, name)
    return found


def _next_edition() -> int:
    from tui.desk.home import home
    from tui.desk.installed import installed

    one = installed(home().library)
    return 1 if one is None else one.manifest.edition + 1


def _write(out: Path, data: bytes) -> None:
    """Never over a file that is there: an edition that was handed out stays what it is."""
    from tui.record.trouble import refusal

    try:
        with out.open("xb") as stream:
            stream.write(data)
    except OSError as error:
        raise refusal(error, out, "write") from error
