"""A tree as a picture, for a person to look at: steps, rows with their words, rounds, what follows it.

  lowside map both-low --out it.mmd                 for Mermaid (wikis)
  lowside map both-low --format dot --out it.dot    for Graphviz
  lowside map --session FILE                        the tree a visit stands in

Rows and findings that no example reaches are dashed and say so. With --session the tree is drawn as that visit
walked it, with the steps it came by and where it stands.

Exit code: 0 done, 2 it could not be.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.proof.cover import Uncovered
    from tui.proof.marks import Marks
    from tui.tree.chart import Chart
    from tui.tree.library import Library
    from tui.tree.model import Tree
    from tui.walk import Walk
    from tui.walk.passages import Passage


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", nargs="?", metavar="TREE", help="by name, or its file; with --session not needed")
    parser.add_argument("--format", choices=("mermaid", "dot"), default="mermaid", help="which program it is for")
    parser.add_argument("--out", metavar="FILE", help="write it there (UTF-8), not to the terminal")
    parser.add_argument("--session", metavar="FILE", help="also how this visit went")


def run(options: argparse.Namespace) -> int:
    """Print the picture's text."""
    from tui.cli.libraries import folders_of
    from tui.proof.marks import marks_of
    from tui.tree.chart import chart_of
    from tui.tree.library import Library

    as_file = options.tree is not None and options.tree.endswith(".yaml")
    folders = folders_of([options.tree] if as_file else [])
    library = Library.read(*folders)  # a tree that is not proven yet can be looked at all the same
    named = Path(options.tree).stem if as_file else options.tree
    walk = _walk(options.session) if options.session else None
    name = named or _standing(walk)
    passages = [each for each in _passages(walk) if each.tree.name == name]
    tree = passages[-1].tree if passages else _tree(library, name)
    missing = _missing(library, folders, tree)
    if walk is not None and not passages:
        print(f"note: this visit never came into {name}.", file=sys.stderr)
    text = _drawn(options.format, chart_of(tree, library.trees), marks_of(name, missing, passages))
    if options.out:
        from tui.desk.files import write_whole

        write_whole(Path(options.out), text)
    else:
        print(text, end="")
    return 0


def _tree(library: Library, name: str) -> Tree:
    from tui.quantity import nearest

    if name not in library.trees:
        near = nearest(name, library.trees)
        cure = f"Did you mean {near}?" if near else f"There are: {', '.join(sorted(library.trees))}."
        raise Refused("no-such-tree", f"lowside map: there is no tree {name!r}.", cure)
    return library.trees[name]


def _missing(library: Library, folders: list[Path], tree: Tree) -> list[Uncovered]:
    """What no example reaches; nothing, and a note, where that can't be told of this text of the tree."""
    from tui.proof.cover import uncovered
    from tui.proof.examples import run_examples
    from tui.proof.reading import example_files, read_examples
    from tui.tree.library import BrokenLibrary

    today = library.trees.get(tree.name)
    beside = [folder for folder in folders if (folder / "examples").is_dir()]
    if today is None:
        return _unmarked("the tree is not among yours")
    if today.digest != tree.digest:
        return _unmarked("the tree has changed since")
    if not beside:
        return _unmarked("there are no examples")
    try:
        proven = library.proven()
    except BrokenLibrary:
        return _unmarked("the trees do not hold (see lowside check)")
    return uncovered(proven, run_examples(proven, read_examples(proven, example_files(beside))))


def _unmarked(why: str) -> list[Uncovered]:
    print(f"note: {why}; rows without an example are not marked.", file=sys.stderr)
    return []


def _walk(session: str) -> Walk:
    from tui.record import read
    from tui.record.replay import walked

    return walked(read(session))


def _passages(walk: Walk | None) -> list[Passage]:
    from tui.walk.passages import passages_of

    return [] if walk is None else passages_of(walk.machine)


def _standing(walk: Walk | None) -> str:
    """The tree that the visit stands in."""
    from tui.walk.passages import standing_of

    if walk is None:
        raise Refused("misuse", "lowside map: which tree?", "Name one, or a visit with --session FILE.")
    standing = standing_of(walk.machine)
    if not standing:
        raise Refused("no-tree", "lowside map: this visit stands in no tree.", "Name the tree you want to see.")
    return standing[0].tree.name


def _drawn(wanted: str, chart: Chart, marks: Marks) -> str:
    from tui.proof.drawing import dot, mermaid

    writers: dict[str, Callable[[Chart, Marks], str]] = {"mermaid": mermaid, "dot": dot}
    return writers[wanted](chart, marks)
