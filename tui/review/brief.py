"""A session in a few words, for lists of many: how it stands, what it ended in, what became of the refrigerant."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from pathlib import Path

from tui.desk.past import follow_ups
from tui.quantity import Refused
from tui.record import Reading, read
from tui.review import gas, job, unusual
from tui.review.account import Account, account_of
from tui.review.wording import Wording, library_of

_CANNOT = (KeyError, IndexError, TypeError, ValueError, AttributeError, Refused)


class Rank(IntEnum):
    """How soon a lead looks at a visit."""

    FILE = 0  # its file is not as it was written, or does not come to the same again
    LEFT = 1  # something was left on, open or without its charge
    HELD = 2  # the technician held something against the walk
    UNFINISHED = 3
    NOTHING = 4  # nothing out of the ordinary


@dataclass(frozen=True, slots=True)
class Brief:
    """`unit`: its tag, empty where none was given. `open`: it can be gone on with.

    said: how it stands and what each circuit's walk ended in, or what ails the file.
    stopped: where an open one was left, in words. gas: refrigerant in and out, leaks; empty where none was touched.
    follow_ups: what was noted to be done at the next visit.
    rank: how soon a lead looks at it. why: what he asks about. seen: what a walk that named no cause stopped at.
    """

    unit: str
    open: bool
    said: str
    stopped: str = ""
    gas: str = ""
    rank: Rank = Rank.FILE
    why: tuple[str, ...] = ()
    seen: str = ""
    follow_ups: tuple[str, ...] = ()


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
        resumes, moved = is_open and reading.state != "altered", _gas(reading, account, wording)
        rank, why = _asks(reading, account, wording)
        rank = Rank.FILE if damaged else rank
        return Brief(unit, resumes, said, stopped, moved, rank, why, _seen(account), follow_ups(reading.events))
    except _CANNOT:
        return Brief("", False, f"{damaged}its lines say what no walk writes")


def _asks(reading: Reading, account: Account, wording: Wording) -> tuple[Rank, tuple[str, ...]]:
    left = tuple(unusual.left_behind(reading, account, wording))
    held = tuple(unusual.first_to_ask(account))
    if left:
        return Rank.LEFT, (*left, *held)
    if held:
        return Rank.HELD, held
    finished = any(account.of("closed")) and not _closed_early(account)
    return Rank.NOTHING if finished else Rank.UNFINISHED, ()


def _seen(account: Account) -> str:
    """What the last findings without a cause say, by circuit."""
    last = {entry.circuit: entry.event for entry in account.of("finding")}
    return " ".join(str(event["seen"]) for event in last.values() if event["cause"] == job.OPEN)


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
