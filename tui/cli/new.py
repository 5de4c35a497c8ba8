"""Begin a tree of your own: a skeleton that holds as it stands, with its examples, or a copy of a tree to change.

It is written into your own trees (or the folder named with --in), which lie over those that come with lowside: a
tree of the same name takes the place of theirs. No file that is there is ever overwritten. Of the catalogue one entry
is copied, into the file of its section: it then takes the place of theirs.

  lowside new door-check
  lowside new both-low --copy
  lowside new figures/suction-band --copy
"""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.library import Library

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
_LONGEST = 40


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE", help="its name; with --copy also SECTION/ENTRY of the catalogue")
    parser.add_argument("--copy", action="store_true", help="a copy of the tree of that name, to be changed")
    parser.add_argument("--in", dest="folder", metavar="FOLDER", help="where to write it; else into your own trees")


def run(options: argparse.Namespace) -> int:
    """Write it and say what to do next. Raises Refused for a name that won't do or a file that is there."""
    from tui.cli.libraries import load, usual_folders
    from tui.desk.home import own_trees

    name = options.tree
    folder = Path(options.folder) if options.folder else own_trees()
    section, slash, entry = name.partition("/")
    if slash:
        return _copy_entry(options, section, entry, folder)
    if not _NAME.match(name) or len(name) > _LONGEST:
        cure = "Small letters, digits and single hyphens, a letter first, such as door-check."
        raise Refused("bad-name", f"{name!r} is no name for a tree.", cure)
    library = load(usual_folders())
    texts = _copied(library, name, folder) if options.copy else _new(library, name, folder)
    for path in texts:
        if path.exists():
            raise Refused("exists", f"{path}: there is such a file already.", "Choose another name, or edit that file.")
    for path, text in texts.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        print(f"Written: {path}")
    print(_what_next(folder, folder / f"{name}.yaml", named=bool(options.folder), copied=options.copy))
    return 0


def _copy_entry(options: argparse.Namespace, section: str, entry: str, folder: Path) -> int:
    """Add it at the end of the section's file. Raises Refused where there is none such, or it is there already."""
    from tui.cli.libraries import load, usual_folders

    if not options.copy:
        cure = f"To copy one there is: lowside new {section}/{entry} --copy"
        raise Refused("misuse", f"{section}/{entry}: an entry of the catalogue is not begun empty.", cure)
    text = _entry(load(usual_folders()), section, entry)
    file = folder / "catalogue" / f"{section}.yaml"
    before = _entries_there(file, entry)
    file.parent.mkdir(parents=True, exist_ok=True)
    gap = "" if not before or before.endswith("\n") else "\n"
    file.write_text(f"{before}{gap}{text}", encoding="utf-8", newline="\n")
    where = f" {folder}" if options.folder else ""
    print(f"Written: {entry}, at the end of {file}\nChange it there. Prove it:  lowside check{where}")
    return 0


def _entry(library: Library, section: str, entry: str) -> str:
    from tui.quantity import nearest

    sections = sorted({each for each, _ in library.entries})
    if section not in sections:
        cure = f"There are: {', '.join(sections)}."
        raise Refused("no-such-section", f"The catalogue has no section called {section!r}.", cure)
    if (section, entry) not in library.entries:
        near = nearest(entry, [each for part, each in library.entries if part == section])
        cure = f"Did you mean {section}/{near}?" if near else f"Look at a tree for a name of {section}."
        raise Refused("no-such-entry", f"There is nothing called {entry!r} in {section}.", cure)
    return library.entry_text(section, entry)


def _entries_there(file: Path, entry: str) -> str:
    """The text of a file of entries; empty where there is none."""
    from tui.tree.source import read_bytes

    before = read_bytes(file) if file.exists() else ""
    if re.search(rf"^['\"]?{re.escape(entry)}['\"]?\s*:", before, re.MULTILINE):
        raise Refused("exists", f"{file}: there is an entry {entry} already.", "Change it there.")
    return before


def _new(library: Library, name: str, folder: Path) -> dict[Path, str]:
    from tui.tree.skeleton import skeleton

    if name in library.trees:
        raise Refused("exists", f"There is a tree called {name} already.", f"To change it: lowside new {name} --copy")
    tree, examples = skeleton(name)
    return {folder / f"{name}.yaml": tree, folder / "examples" / f"{name}.yaml": examples}


def _copied(library: Library, name: str, folder: Path) -> dict[Path, str]:
    from tui.quantity import nearest
    from tui.tree.source import read_bytes

    if name not in library.trees:
        near = nearest(name, library.trees)
        cure = f"Did you mean {near}?" if near else "Without --copy a new one is begun."
        raise Refused("no-such-tree", f"There is no tree called {name!r} to copy.", cure)
    return {folder / f"{name}.yaml": read_bytes(Path(library.trees[name].spot.path))}


def _what_next(folder: Path, tree: Path, *, named: bool, copied: bool) -> str:
    where = f" {folder}" if named else ""
    raised = "Raise its `edition` by one: a changed tree is another edition.\n" if copied else ""
    return (
        f"{raised}Edit it beside a second window with:  lowside preview {tree}\n"
        f"Prove it:   lowside check{where}\n"
        f"Hold it:    lowside examples{where} --swap"
    )
