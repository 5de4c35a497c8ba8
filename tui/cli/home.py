"""Home: go on with what was cut off, start a visit, look at earlier ones, set what lowside knows of you.

The same as `lowside` alone.
"""

from __future__ import annotations

import argparse
import sys
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.app.front import Begun
    from tui.app.home import Home
    from tui.desk.session import Visit
    from tui.tree.library import Library


def arguments(parser: argparse.ArgumentParser) -> None:
    """None: everything is chosen on the screen."""


def run(options: argparse.Namespace) -> int:
    """Until the person leaves; a call that is watched comes back here."""
    import gc

    from tui.cli.visits import need_a_terminal

    need_a_terminal(plain=False)
    visits: list[Visit] = []
    said = ""
    while True:
        gc.disable()  # as at the start of a visit: nothing made while starting is garbage
        try:
            home = _at_home(said)
        finally:
            gc.enable()
        visits += home.visits
        if not home.demo:
            break
        said = _watch()
    _last_words(visits)
    return 0


def _at_home(said: str) -> Home:
    from tui.app import run_home
    from tui.app.front import Front
    from tui.cli.preferences import settings
    from tui.cli.visits import drawn_plain
    from tui.desk.clock import SystemClock
    from tui.desk.home import home

    mine, where = settings(), home()
    today = SystemClock().today
    front = Front(
        where.sessions, where.settings, lambda: today().isoformat(), _start, _resume, mine.keys, _laid_over
    )
    return run_home(front, _prepare, theme=mine.theme, plain=drawn_plain(mine), said=said)


def _watch() -> str:
    """The invented call at its usual pace. What kept it from being shown, if anything."""
    from tui.cli import demo

    try:
        demo.run(argparse.Namespace(pace="normal"))
    except (Refused, OSError) as problem:
        from tui.cli.problems import in_words

        return " ".join(in_words(problem).split())
    return ""


def _last_words(visits: list[Visit]) -> None:
    """How each visit that is still open goes on, and what is left on or open at its unit."""
    from tui.app.run import parting
    from tui.cli.visits import say_what_is_left

    for visit in {visit.path: visit for visit in visits}.values():
        if not visit.walk.closed:
            print(parting(visit), file=sys.stderr)
            say_what_is_left(visit)


def _prepare() -> Library:
    from tui.cli.libraries import load_to_walk

    for room in ("tui.desk.session", "tui.walk.core"):  # here it costs the person nothing
        import_module(room)
    return load_to_walk()


def _laid_over() -> tuple[str, ...]:
    from tui.desk.home import home
    from tui.desk.laid_over import lines

    return lines(home())


def _start(library: Library, unit: str, tree: str) -> Begun:
    """With the settings as they are by now: they may have been changed at home."""
    from tui.cli.preferences import settings
    from tui.cli.walk import begun

    return begun(library, settings(), unit, tree)


def _resume(library: Library, path: Path) -> Begun:
    from tui.desk.clock import SystemClock
    from tui.desk.session import resume

    resumed = resume(path, library, SystemClock())
    return resumed.visit, resumed.notices
