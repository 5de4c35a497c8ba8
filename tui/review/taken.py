"""The readings of a visit: what was given for each, in order, and what could not be had."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tui.review.account import Account, Entry
from tui.review.wording import Wording, quantity, shown
from tui.tree.model import Reading
from tui.walk.kinds import ALTITUDE, spoken

NOT_HAD = "not had: "


def takes(account: Account, wanted: Callable[[Entry, str], bool]) -> dict[str, str]:
    """Label to text of every reading for which `wanted` holds (its event, its id), in the order of first takes."""
    found: dict[str, list[Entry]] = {}
    for entry in account.of("answered", "told", "couldn't"):
        for reading in _readings(entry):
            if wanted(entry, reading):
                found.setdefault(reading, []).append(entry)
    return {spoken(reading): _text(entries) for reading, entries in found.items()}


def of_unit(wording: Wording, entry: Entry, reading: str) -> bool:
    """Whether a reading is one of the whole unit."""
    asked = wording.asked(reading)
    return not entry.circuit or (asked is not None and asked.of == "unit")


def of_plate(asked: Reading | None) -> bool:
    """Whether it stays true from visit to visit: off a plate, or how the thing is built."""
    return asked is not None and asked.remembered


def _readings(entry: Entry) -> Iterator[str]:
    names = entry.event.get("readings") or [entry.event.get("reading")]
    return (str(name) for name in names if name and name != ALTITUDE)


def _text(entries: list[Entry]) -> str:
    """``8.2 psig (14:02), then 10.9 psig (14:20)``; what came out the same again is said once, with both times."""
    said: list[tuple[str, list[str]]] = []
    for entry in entries:
        text = f"{NOT_HAD}{entry.event['reason']}" if entry.kind == "couldn't" else shown(entry.event["value"])
        if not said or said[-1][0] != text:
            said.append((text, []))
        if entry.time not in said[-1][1]:
            said[-1][1].append(entry.time)
    if len(entries) == 1 or (len(said) == 1 and quantity(entries[0].event.get("value")) is None):
        return said[0][0]
    return ", then ".join(f"{text} ({', '.join(times)})" for text, times in said)
