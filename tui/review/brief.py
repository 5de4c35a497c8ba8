"""A session in a few words, for lists of many: how it stands, what it ended in, what became of the refrigerant."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tui.quantity import Refused
from tui.record import Reading, read
from tui.review import gas, job
from tui.review.account import Account, account_of
from tui.review.wording import Wording, library_of

_CANNOT = (KeyError, IndexError, TypeError, ValueError, AttributeError, Refused)


@dataclass(frozen=True, slots=True)
class Brief:
    """`unit`: its tag, empty where none was given. `open`: it can be gone on with.

    said: how it stands and what each circuit's walk ended in, or what ails the file.
    stopped: where an open one was left, in words. gas: refrigerant in and out, leaks; empty where none was touched.
    """

    unit: str
    open: bool
    said: str
    stopped: str = ""
    gas: str = ""


def brief(path: Path) -> Brief:
    """Never raises for what lies there."""
    try:
        reading = read(path)
    except Refused as refused:
        return Brief("", False, f"can't be read: {refused.message}")
    if reading.state in ("newer", "foreign") or not reading.lines:
        return Brief("", False, f"{reading.state}: {reading.message}")
    damaged = f"{reading.state.upper()}, as far as it goes: " if reading.state in ("torn", "altered") else ""
    try:
        wording = Wording(library_of(reading))
        account = account_of(reading.lines, wording.catalogue)
        unit = str(account.opened.get("unit", ""))
        is_open = not any(account.of("closed"))
        stopped, tree = job.stopped(account, wording) if is_open else ("", "")
        found = any(account.of("finding", "own-finding"))
        stands = [f"open, stopped {stopped}{tree}"] if is_open else _closed_early(account)
        said = damaged + "; ".join([*stands, *([_results(account, wording)] if found or not is_open else [])])
        return Brief(unit, is_open and reading.state != "altered", said, stopped, _gas(reading, account, wording))
    except _CANNOT:
        return Brief("", False, f"{damaged}its lines say what no walk writes")


def _results(account: Account, wording: Wording) -> str:
    parts = [part for part in account.parts if part] or [""]
    named = {part: f"{part}: " if len(parts) > 1 else "" for part in parts}
    return "; ".join(f"{named[part]}{job.result(account, wording, part)}" for part in parts)


def _closed_early(account: Account) -> list[str]:
    why = str(next(account.of("closed")).event.get("why", ""))
    return [] if why in ("", "ended") else [f"closed early ({why})"]


def _gas(reading: Reading, account: Account, wording: Wording) -> str:
    told = gas.moved(reading, account, wording)
    return "; ".join(f"{each}: {text}" if len(told) > 1 else text for each, text in told.items() if text)
