"""Places that were looked at one after the other, each with what was seen there."""

from __future__ import annotations

from itertools import groupby

from tui.review.account import Account, Entry
from tui.review.taken import takes

BESIDE = "before the correction"
_TAKEN = ("answered", "told", "couldn't")


def place_of(entry: Entry) -> str:
    """The place of a list at which something was read or done; empty elsewhere."""
    return str(entry.event.get("place", ""))


def place_at(account: Account, at: Entry) -> str:
    """The place that an event says it is about, else the one looked at last before it in its tree; empty if none."""
    if place_of(at):
        return place_of(at)
    tree = at.event.get("tree")
    earlier = (e for e in account.entries if e.n < at.n and e.circuit == at.circuit and e.event.get("tree") == tree)
    return next((place for entry in reversed(list(earlier)) if (place := place_of(entry))), "")


def searched(account: Account, circuit: str) -> list[tuple[str, str]]:
    """Each place with what was seen there, in the order of the search; what a correction made needless comes last."""
    there = sorted((e for e in account.of(*_TAKEN, circuit=circuit) if place_of(e)), key=lambda entry: entry.n)
    led = {e.follows for e in account.of("routed", circuit=circuit) if place_of(e)}
    beside: list[Entry] = []
    for _, group in _by_place(there):
        beside += [] if not led or any(e.follows in led for e in group) else group
    rows = [(place, _said(account, group)) for place, group in _by_place([e for e in there if e not in beside])]
    needless = "; ".join(f"{place} - {_said(account, group)}" for place, group in _by_place(beside))
    return [*rows, (BESIDE, needless)] if needless else rows


def _by_place(entries: list[Entry]) -> list[tuple[str, list[Entry]]]:
    return [(place, list(group)) for place, group in groupby(entries, key=place_of)]


def _said(account: Account, group: list[Entry]) -> str:
    mine = {entry.n for entry in group}
    said = takes(account, lambda entry, _: entry.n in mine)
    return ", ".join(f"{label} {text}" for label, text in said.items())
