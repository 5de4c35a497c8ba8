"""Watch a call: invented, it plays itself, any key stops it, and it can be taken over. Nothing of it is kept."""

from __future__ import annotations

import argparse

PACES = ("slow", "normal", "quick")


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--pace", choices=PACES, default="normal", help="how fast it is typed")


def run(options: argparse.Namespace) -> int:
    """Until it is left."""
    from tui.cli.libraries import load_to_walk
    from tui.cli.preferences import settings
    from tui.cli.visits import drawn_plain, need_a_terminal

    need_a_terminal(plain=False)
    mine = settings()
    library = load_to_walk()
    from tui.app.demo import Demo

    Demo(library, pace=options.pace, theme=mine.theme, plain=drawn_plain(mine)).run()
    return 0
