"""Home: go on with what was cut off, start a visit, look at earlier ones, set what lowside knows of you.

The same as `lowside` alone.
"""

from __future__ import annotations

import argparse
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.app.front import Begun
    from tui.tree.library import Library


def arguments(parser: argparse.ArgumentParser) -> None:
    """None: everything is chosen on the screen."""


def run(options: argparse.Namespace) -> int:
    """Until the person leaves."""
    import gc

    from tui.cli.preferences import settings
    from tui.cli.visits import drawn_plain, need_a_terminal

    need_a_terminal(plain=False)
    mine = settings()
    gc.disable()  # as at the start of a visit: nothing made while starting is garbage
    try:
        from tui.app import run_home
        from tui.app.front import Front
        from tui.desk.clock import SystemClock
        from tui.desk.home import home

        where = home()
        today = SystemClock().today().isoformat()
        front = Front(where.sessions, where.settings, today, _start, _resume, mine.keys)
        run_home(front, _prepare, theme=mine.theme, plain=drawn_plain(mine))
    finally:
        gc.enable()
    return 0


def _prepare() -> Library:
    from tui.cli.libraries import load_to_walk

    for room in ("tui.desk.session", "tui.walk.core"):  # here it costs the person nothing
        import_module(room)
    return load_to_walk()


def _start(library: Library, unit: str) -> Begun:
    """With the settings as they are by now: they may have been changed at home."""
    from tui.cli.preferences import settings
    from tui.cli.walk import begun

    return begun(library, settings(), unit)


def _resume(library: Library, path: Path) -> Begun:
    from tui.desk.clock import SystemClock
    from tui.desk.session import resume

    resumed = resume(path, library, SystemClock())
    return resumed.visit, resumed.notices
