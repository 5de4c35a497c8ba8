"""What earlier visits to a unit know of it: its circuits, plates, leaks, the last finding, gas that was added.

Only files whose name carries the unit's tag are opened, and those marked as its own, the latest first. What is
damaged, or of a newer program, is left out and said. Of what a session says only that counts which was not taken
back or corrected later.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.desk.emptied import EMPTY, ON, told
from tui.desk.past import ADDED, CHARGE_RIGHT, FINDING, NO_CAUSE, OWN, Past, past_of, tag_in
from tui.desk.store import MARK, marked, same_unit, tagged
from tui.quantity import Kind, Quantity, Refused, show
from tui.record.reader import OPEN, WHOLE, read
from tui.walk.reading import parse_reading

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.tree.model import Catalogue

MOST = 40  # sessions of one unit that are read
YEAR = 365  # days

Item = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Before:
    """`items` as `Walk.start` takes its history; `notices` are for the person."""

    items: tuple[Item, ...] = ()
    notices: tuple[str, ...] = ()


def before(folder: Path, unit: str, library: Library, today: date, but: Path | None = None) -> Before:
    """What the sessions in `folder` say of this unit. Never raises for what lies there. but: leaves this one out."""
    if not unit.strip():
        return Before()
    catalogue = library.catalogue
    past: list[Past] = []
    lost: list[str] = []
    whole_year = True
    for path, day in (each for each in _files(folder, unit) if each[0] != but):
        if len(past) == MOST:
            whole_year = whole_year and not _within_a_year(past[-1].day, today)
            break
        found, trouble = _past(path, unit, catalogue)
        if found is not None:
            past.append(found)
        if trouble:
            lost.append(trouble)
            whole_year = whole_year and not _within_a_year(day, today)
    items = told(list(_items(past, catalogue)), CHARGE_RIGHT)
    if whole_year:
        items += _added(past, catalogue, today)
    kept = tuple(item for item in items if _taken_today(item, catalogue))
    return Before(kept, (*_agreed(past[:1]), *_notices(kept, lost, catalogue)))


def _files(folder: Path, unit: str) -> list[tuple[Path, str]]:
    """(file, day) of every session under this unit's tag, or marked as this unit's, the latest first."""
    try:
        with os.scandir(folder) as entries:
            found = [(entry.name, Path(entry.path)) for entry in entries]
    except OSError:
        return []  # a folder that is not there yet; what ails another is said when the session is written
    own = {path for name, path in found if tagged(name, unit)}
    own |= {path.with_suffix(".jsonl") for name, path in found if name.endswith(MARK) and marked(path, unit)}
    return [(path, path.name[:10]) for path in sorted(own, reverse=True)]


def _past(path: Path, unit: str, catalogue: Catalogue) -> tuple[Past | None, str]:
    """A session's account, or why there is none; neither where it is another unit's."""
    try:
        reading = read(path)
    except Refused as refused:
        return None, f"{path.name} ({refused.message})"
    if reading.state not in (WHOLE, OPEN):
        return None, f"{path.name} ({reading.state})"
    events = reading.events
    if not same_unit(tag_in(events), unit):
        return None, ""
    try:
        past = past_of(events, path.name[:10], catalogue)
    except (KeyError, TypeError, ValueError, AttributeError, Refused):
        return None, f"{path.name} (not written by a walk)"
    odd = next((day for day in (past.day, *(day for _, day in past.values.values())) if not _is_day(day)), None)
    return (past, "") if odd is None else (None, f"{path.name} ({str(odd)[:20]!r} is no day)")


def _is_day(text: object) -> bool:
    """Whether an opening takes it as the day of a visit; empty: not known."""
    try:
        return text == "" or bool(date.fromisoformat(text))  # type: ignore[arg-type]  # a file may hold anything
    except (TypeError, ValueError):
        return False


def _items(past: list[Past], catalogue: Catalogue) -> Iterator[Item]:
    """The latest word on each reading. Circuits come first; nothing is said of one that is no longer named."""
    latest: dict[tuple[str, str], Item] = {}
    for each in past:
        for (circuit, reading), (value, day) in each.values.items():
            item = {"circuit": circuit, "reading": reading, "value": value, "visit": day}
            latest.setdefault((circuit, reading), item)
    names = next((r.id for r in catalogue.readings.values() if r.names), "")
    named = latest.pop(("", names), None)
    circuits = None if named is None else {name.strip() for name in str(named["value"]).split(",")}
    if named is not None:
        yield named
    yield from (item for (circuit, _), item in latest.items() if circuits is None or circuit in ("", *circuits))


def _added(past: list[Past], catalogue: Catalogue, today: date) -> Iterator[Item]:
    """What went into each circuit within a year and stayed; nothing where one session can't say how much."""
    recent = [each for each in past if _within_a_year(each.day, today)]
    for circuit in dict.fromkeys(name for each in recent for name in each.added):
        masses = [each.added[circuit] for each in recent if circuit in each.added]
        known = [mass for mass in masses if mass is not None]
        if len(known) == len(masses) and sum(known) > 0 and ADDED in catalogue.readings:
            day = next(each.day for each in recent if each.added.get(circuit))
            value = Quantity(Kind.MASS, sum(known))
            yield {"circuit": circuit, "reading": ADDED, "value": value, "visit": day}


def _within_a_year(day: str, today: date) -> bool:
    try:
        return (today - date.fromisoformat(day)).days <= YEAR
    except ValueError:
        return True


def _taken_today(item: Mapping[str, Any], catalogue: Catalogue) -> bool:
    """Whether today's catalogue has the reading and still accepts the value."""
    reading = catalogue.readings.get(item["reading"])
    if reading is None or not (reading.remembered or reading.names or reading.id in OWN):
        return False
    if reading.of == "circuit" and not item["circuit"]:
        return False
    value = item["value"]
    try:
        if not isinstance(value, Quantity) and reading.answers and value not in reading.answers:
            return False
        parse_reading(None, reading, value)
    except Refused:
        return False
    return True


def _agreed(last: list[Past]) -> Iterator[str]:
    """What the last visit left to be done today; what stood before that has been looked at since."""
    for each in last:
        yield from (f"To be done, as noted on {each.day}: {text}" for text in each.follow_ups)


def _notices(items: tuple[Item, ...], lost: list[str], catalogue: Catalogue) -> tuple[str, ...]:
    said: list[str] = []
    circuits = dict.fromkeys(item["circuit"] for item in items if item["circuit"])
    if circuits:
        days = max(item["visit"] for item in items)
        known = "; ".join(f"{name} {_most_telling(items, name, catalogue)}" for name in circuits)
        last = f" (the last {days})" if days else ""
        said.append(f"From earlier visits{last}: {known}. Hold it against the plates; correct what is not so.")
    if lost:
        say = "1 earlier session" if len(lost) == 1 else f"{len(lost)} earlier sessions"
        few = ", ".join(lost[:3]) + (f" and {len(lost) - 3} more" if lost[3:] else "")
        said.append(f"{say} of this unit can't be read, so left out: {few}.")
    return tuple(said)


def _most_telling(items: tuple[Item, ...], circuit: str, catalogue: Catalogue) -> str:
    """How much is known of a circuit, and the words that matter most."""
    own = {item["reading"]: item["value"] for item in items if item["circuit"] == circuit}
    said = [_shown(own[reading]) for reading in ("refrigerant", "nameplate-charge") if reading in own]
    cause = own.get(FINDING, "")
    if cause not in NO_CAUSE and cause in catalogue.causes:
        said.append(f"last found: {catalogue.causes[cause].say}")
    if own.get(EMPTY) == "yes":
        said.append(f"LEFT EMPTY{f' {_shown(own[ON])}' if ON in own else ''}: do not start it")
    more = len(own) - len(said)
    count = f"{more} {'reading' if more == 1 else 'readings'}"
    return ", ".join([*said, *([f"{count} more" if said else count] if more else [])])


def _shown(value: Any) -> str:
    return show(value) if isinstance(value, Quantity) else str(value)
