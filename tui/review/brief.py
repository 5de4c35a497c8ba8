"""A session in one line: what was found, or why it can't be told. For lists of many."""

from __future__ import annotations

from pathlib import Path

from tui.quantity import Refused
from tui.record import read
from tui.review import job
from tui.review.account import account_of
from tui.review.wording import Wording, library_of

_CANNOT = (KeyError, IndexError, TypeError, ValueError, AttributeError, Refused)


def brief(path: Path) -> str:
    """What each circuit's walk ended in, and what ails the file. Never raises for what lies there."""
    try:
        reading = read(path)
    except Refused as refused:
        return f"can't be read: {refused.message}"
    if reading.state in ("newer", "foreign") or not reading.lines:
        return f"{reading.state}: {reading.message}"
    damaged = f"{reading.state.upper()}, as far as it goes: " if reading.state in ("torn", "altered") else ""
    try:
        wording = Wording(library_of(reading))
        account = account_of(reading.lines, wording.catalogue)
        parts = [part for part in account.parts if part] or [""]
        several = len(parts) > 1
        found = [f"{part}: {job.result(account, wording, part)}" if several else job.result(account, wording, part)
                 for part in parts]
    except _CANNOT:
        return f"{damaged}its lines say what no walk writes"
    return damaged + "; ".join(found)
