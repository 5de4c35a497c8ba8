"""Places that were looked at one after the other, each with what was seen there."""

from __future__ import annotations

from itertools import groupby

from tui.review.account import Account, Entry
from tui.review.taken import takes

_TAKEN = ("answered", "told", "couldn't")


def place_of(entry: Entry) -> str:
    """The place of a list at which something was read or done; empty elsewhere."""
    return str(entry.event.get("place", ""))


def place_at(account: Account, at: Entry) -> str:
    """The place that was looked at last before an event, in its tree; empty if there was none."""
    tree = at.event.get("tree")
    earlier = (e for e in account.entries if e.n < at.n and e.circuit == at.circuit and e.event.get("tree") == tree)
    return next((place for entry in reversed(list(earlier)) if (place := place_of(entry))), "")


def searched(account: Account, circuit: str) -> list[tuple[str, str]]:
    """Each place with what was seen there, in the order of the search."""
    there = sorted((e for e in account.of(*_TAKEN, circuit=circuit) if place_of(e)), key=lambda entry: entry.n)
    rows = []
    for place, entries in groupby(there, key=place_of):
        mine = {entry.n for entry in entries}
        said = takes(account, lambda entry, _, mine=mine: entry.n in mine)  # type: ignore[misc]
        rows.append((place, ", ".join(f"{label} {text}" for label, text in said.items())))
    return rows
