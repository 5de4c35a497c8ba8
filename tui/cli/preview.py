"""Walk a tree while it is edited: at every save it is read again, and the answers that still fit are kept.

TREE is a tree's file, or the name of one of the usual trees. Where the trees do not hold, what is wrong stands in
the place of the step until it is mended. Nothing goes into your sessions.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk import Walk
    from tui.walk.answers import Answers


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE", help="a tree's file, or its name")
    parser.add_argument("--answers", metavar="FILE", help="begin with the answers of this file")
    parser.add_argument("--example", metavar="NAME", help="begin with the answers of this example")
    parser.add_argument("--to", metavar="STEP", help="with either: only as far as this step")


def run(options: argparse.Namespace) -> int:
    """Until it is left."""
    from tui.cli.libraries import load
    from tui.cli.preferences import settings
    from tui.cli.visits import drawn_plain, need_a_terminal

    need_a_terminal(plain=False)
    mine = settings()
    folders, name = _meant(options.tree)

    def start(library: Library) -> Walk:
        return _begun(library, name, _given(library, folders, options), options.to or "")

    from tui.app.preview import Preview
    from tui.desk.clock import SystemClock

    app = Preview(
        folders,
        lambda: load(folders),
        start,
        SystemClock(),
        theme=mine.theme,
        keys=mine.keys,
        plain=drawn_plain(mine),
    )
    if mine.keys:
        app.set_keymap(mine.keys)
    app.run()
    return 0


def _meant(tree: str) -> tuple[list[Path], str]:
    """The folders to read, and the tree's name. Raises Refused for what is no tree."""
    from tui.cli.libraries import folders_of, usual_folders

    path = Path(tree)
    if path.suffix == ".yaml" or path.exists():
        if path.is_dir() or path.parent.name in ("catalogue", "examples"):
            raise Refused("no-trees", f"{tree}: this is no tree.", "Name one tree: its file, or its name.")
        return folders_of([tree]), path.stem
    return usual_folders(), tree


def _given(library: Library, folders: list[Path], options: argparse.Namespace) -> Answers | None:
    """The answers to begin with, of a file or of an example. Raises Refused."""
    from tui.walk.answers import Answers

    if options.answers:
        return Answers.read(Path(options.answers))
    if not options.example:
        return None
    from tui.proof.reading import example_files, read_examples
    from tui.quantity import nearest

    examples = {each.name: each for each in read_examples(library, example_files(folders, may_lack=True))}
    if options.example not in examples:
        near = nearest(options.example, examples)
        cure = f"Did you mean {near}?" if near else "lowside examples names them."
        raise Refused("no-such-example", f"There is no example called {options.example!r}.", cure)
    return examples[options.example].answers


def _begun(library: Library, name: str, answers: Answers | None, to: str) -> Walk:
    from tui.cli.preferences import settings
    from tui.desk.clock import SystemClock
    from tui.walk import Walk

    if answers:
        return _answered(library, name, answers, to)
    mine = settings()
    return Walk.start(
        library,
        name,
        site=mine.site(SystemClock().today()),
        units=mine.units,
        instruments=mine.accuracies,
        embed_texts=False,
    )


class _There(Exception):
    """The step is reached."""


def _answered(library: Library, name: str, given: Answers, to: str) -> Walk:
    """The walk after these answers, or at the first screen from step `to` on. Raises Refused where it never comes by.

    An answers file that begins in another tree which leads to this one begins there.
    """
    from tui.walk.answers import begin, drive
    from tui.walk.passages import passages_of

    walk = begin(library, given)

    def act(intent: Callable[[Walk], object]) -> None:
        if to and any(each.tree.name == name and to in each.passed for each in passages_of(walk.machine)):
            raise _There
        intent(walk)

    try:
        drive(walk, given, act)
    except _There:
        return walk
    if to:
        say = f"These answers never come to a step called {to} in {name}."
        raise Refused("not-reached", say, "Look at its name, or leave --to out.")
    return walk
