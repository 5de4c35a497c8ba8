"""Keep a photo with a visit, also after it was closed: copied beside its session, recorded with its digest.

Exit code: 0 kept, 2 it could not be.
"""

from __future__ import annotations

import argparse
from pathlib import Path


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a session file")
    parser.add_argument("photo", metavar="PHOTO", help="the photo; it is copied")


def run(options: argparse.Namespace) -> int:
    """Copy it, then record it. Raises Refused."""
    from tui.desk.clock import SystemClock
    from tui.desk.photos import keep_after

    print(f"Kept as {keep_after(Path(options.file), options.photo, SystemClock())}.")
    return 0
