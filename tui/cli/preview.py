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


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", metavar="TREE", help="a tree's file, or its name")
    parser.add_argument("--answers", metavar="FILE", help="begin with the answers of this file")
    parser.add_argument("--to", metavar="STEP", help="with --answers: only as far as this step")


def run(options: argparse.Namespace) -> int:
    """Until it is left."""
    from tui.cli.libraries import load
    from tui.cli.preferences import settings
    from tui.cli.visits import drawn_plain, need_a_terminal

    need_a_terminal(plain=False)
    mine = settings()
    folders, name = _meant(options.tree)

    def start(library: Library) -> Walk:
        return _begun(library, name, options.answers, options.to or "")

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


def _begun(library: Library, name: str, answers: str | None, to: str) -> Walk:
    from tui.cli.preferences import settings
    from tui.desk.clock import SystemClock
    from tui.walk import Walk

    if answers:
        return _answered(library, name, Path(answers), to)
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


def _answered(library: Library, name: str, answers: Path, to: str) -> Walk:
    """The walk after these answers, or at the step `to`. Raises Refused where it never comes there."""
    from tui.walk.answers import Answers, begin, drive

    given = Answers.read(answers)
    given.tree = name
    walk = begin(library, given)

    def act(intent: Callable[[Walk], object]) -> None:
        if to and walk.prompt is not None and walk.prompt.step == to:
            raise _There
        intent(walk)

    try:
        drive(walk, given, act)
    except _There:
        return walk
    if to:
        say = f"These answers never come to a step called {to}."
        raise Refused("not-reached", say, "Look at its name, or leave --to out.")
    return walk
