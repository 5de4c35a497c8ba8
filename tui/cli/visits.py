"""Showing a visit to a person: on the screen, or line by line."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from tui.desk.session import Visit


def show(visit: Visit, *, plain: bool, notices: Iterable[str] = (), shown: TextIO | None = None) -> int:
    """Let a person walk. 0: it ended in a finding; 1: left or closed before any."""
    try:
        if plain:
            from tui.desk.plain import run_plain

            run_plain(visit, sys.stdin, shown or sys.stdout, notices)
        else:
            from tui.app import run_app

            run_app(visit, notices)
    finally:
        visit.leave()
    return 0 if visit.walk.findings else 1
