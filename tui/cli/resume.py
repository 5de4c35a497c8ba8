"""Go on with a visit where the power went: at the last line that was whole.

Without FILE: the latest visit that has not ended. A torn last line is set aside beside the file and told of.

Exit code: 0 it ended in a finding, 1 it was left or closed before any, 2 it can't go on.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from tui.quantity.refused import Refused


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="?", metavar="FILE", help="a session file")
    parser.add_argument("--plain", action="store_true", help="line by line, for dumb terminals and screen readers")


def run(options: argparse.Namespace) -> int:
    """Open the visit, show it, exit as `walk` does."""
    from tui.cli.libraries import load_to_walk
    from tui.cli.visits import need_a_terminal, show
    from tui.desk.clock import SystemClock
    from tui.desk.session import resume

    need_a_terminal(plain=options.plain)
    path = Path(options.file) if options.file else _latest()
    resumed = resume(path, load_to_walk(), SystemClock())
    return show(resumed.visit, plain=options.plain, notices=resumed.notices)


def _latest() -> Path:
    from tui.desk.home import home
    from tui.desk.store import Store

    listed = Store(home().sessions).latest_open()
    if listed is None:
        raise Refused("nothing-open", f"There is no open visit in {home().sessions}.", "Begin one with: lowside walk")
    return listed.path
