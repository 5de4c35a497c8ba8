"""Showing a visit to a person: on the screen, or line by line."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TextIO, TypeAlias

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.desk.session import Visit
    from tui.desk.settings import Settings
    from tui.tree.library import Library

LINE_BY_LINE = "Line by line: lowside walk --plain."
Begun: TypeAlias = "tuple[Visit, tuple[str, ...]]"


def need_a_terminal(*, plain: bool) -> None:
    """Refused before anything is recorded, where the screen could not be drawn or typed at."""
    if plain:
        return
    drawn_on = sys.__stderr__  # the screen is drawn there, so that stdout can be sent to a file
    if sys.stdin is None or not sys.stdin.isatty() or drawn_on is None or not drawn_on.isatty():
        raise Refused("no-terminal", "The screen needs a terminal, and this is none.", LINE_BY_LINE)
    if os.environ.get("TERM") == "dumb":
        raise Refused("no-terminal", "This terminal can't draw a screen (TERM=dumb).", LINE_BY_LINE)


def show(visit: Visit, *, plain: bool, notices: Iterable[str] = (), shown: TextIO | None = None) -> int:
    """Let a person walk. 0: it ended in a finding; 1: left or closed before any."""
    try:
        if plain:
            from tui.desk.plain import run_plain

            run_plain(visit, sys.stdin, shown or sys.stdout, notices)
        else:
            from tui.app import run_app
            from tui.cli.preferences import settings

            mine = settings()
            run_app(visit, notices, theme=mine.theme, keys=mine.keys, plain=drawn_plain(mine))
            say_what_is_left(visit)
    finally:
        visit.leave()
    return 0 if visit.walk.findings else 1


def show_start(
    prepare: Callable[[], Library], begin: Callable[[Library, str], Begun], mine: Settings, unit: str
) -> Visit | None:
    """A visit that begins on the screen, which stands before the trees are read. None: left before it began.

    begin: gives the visit, and what a person should be told. unit: its tag; empty: it is asked meanwhile.
    """
    gc.disable()  # nothing that is made while starting is garbage; the screen collects again when the walk begins
    from tui.app import Start, run_start

    visits: list[Visit] = []

    def kept(library: Library, tag: str) -> Begun:
        begun = begin(library, tag)
        visits.append(begun[0])
        return begun

    try:
        visit = run_start(Start(prepare, kept, unit), theme=mine.theme, keys=mine.keys, plain=drawn_plain(mine))
        if visit is not None:
            say_what_is_left(visit)
        return visit
    finally:
        gc.enable()
        for visit in visits:
            visit.leave()


def drawn_plain(mine: Settings) -> bool | None:
    """Whether the screen keeps to ASCII; None: as the terminal's encoding has it."""
    return {"plain": True, "lines": False}.get(mine.drawing)


def say_what_is_left(visit: Visit) -> None:
    """A person who goes hears what is on or open."""
    from tui.desk.saying import left_on_lines

    for line in left_on_lines(visit.walk):
        print(line, file=sys.stderr)
