"""The job as plain text, to paste into any work order: made from its session file alone.

Lines have at most 78 characters. A damaged file gives what is whole in it, and says so.

Exit code: 0 done, 2 it could not be.
"""

from __future__ import annotations

import argparse
import sys


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a session file")
    parser.add_argument("--ascii", action="store_true", help="plain letters only: deg F, not the degree sign")


def run(options: argparse.Namespace) -> int:
    """Print the sheet; in plain letters where the stream has no others."""
    from tui.record import read
    from tui.review import sheet_of

    reading = read(options.file)
    text = sheet_of(reading, ascii_only=options.ascii)
    if not _carries(text):
        text = sheet_of(reading, ascii_only=True)
    print(text, end="")
    return 0


def _carries(text: str) -> bool:
    """Whether stdout has all the letters of a text."""
    try:
        text.encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
