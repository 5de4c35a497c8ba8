"""All visits of a folder at a look: what a lead asks about first, then the rest.

First files that are not as they were written, then visits that left something on, open or without its charge, then
what was held against the walk or cut short, then what was not finished. With --replay each visit is walked again:
that finds a verdict or a way that was changed and hashed anew.

Exit code: 0 nothing is wrong with any file, 1 something is, 2 there is no such folder or no visit in it.
"""

from __future__ import annotations

import argparse
from pathlib import Path


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", metavar="DIR", help="a folder of sessions; without it, your own")
    parser.add_argument("--replay", action="store_true", help="walk each again, and name what comes out otherwise")
    parser.add_argument("--all", action="store_true", help="list also the visits with nothing out of the ordinary")


def run(options: argparse.Namespace) -> int:
    """Print the page; 1 where a file is wrong."""
    from tui.desk.home import home
    from tui.quantity.refused import Refused
    from tui.review.folder import review_of

    folder = Path(options.folder) if options.folder else home().sessions
    paths = sorted(folder.glob("*.jsonl")) if folder.is_dir() else []
    if not paths:
        what = "there is no session in it" if folder.is_dir() else "there is no such folder"
        raise Refused("nothing-to-review", f"{folder}: {what}.", "Name a folder that holds files ending in .jsonl.")
    text, wrong = review_of(paths, again=options.replay, all_of_them=options.all)
    print(text, end="")
    return 1 if wrong else 0
