"""What one session says that stays of use to the next visit, without walking it again.

What was taken back or corrected in it does not count: neither readings nor what followed from them. Work that
was done does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

from tui.desk.emptied import READINGS, emptied
from tui.desk.leak import MENDED as LEAK_MENDED
from tui.desk.leak import OPEN as LEAK_OPEN
from tui.desk.leak import Leak, leak_of
from tui.quantity import Kind, Quantity, Value, from_json
from tui.walk.following import followed
from tui.walk.kinds import UNIT
from tui.walk.naming import with_new_name
from tui.walk.opening import circuits_of, instead, put_right, renamed, righted

if TYPE_CHECKING:
    from tui.tree.model import Catalogue

Event = Mapping[str, Any]

# readings that an earlier visit answers by what was done on it
CHARGE_RIGHT = "charge-last-right"
ADDED = "added-last-year"
LEAK = "earlier-leak"
LEAK_PLACE = "earlier-leak-place"
FINDING = "earlier-finding"
OWN = frozenset({CHARGE_RIGHT, ADDED, LEAK, LEAK_PLACE, FINDING}) | READINGS

# what the trees' catalogue calls the work and the result that tell it
WEIGHS = "weighs the plate charge in"
ADDS = "adds refrigerant"
RECOVERS = "recovers refrigerant"
MISSING = "charge-missing"

NO_CAUSE = ("cannot-tell", "refrigeration-is-well")
_FOLLOWS = frozenset({"judged", "worked-out", "routed", "finding", "entered", "left"})


@dataclass(frozen=True, slots=True)
class Past:
    """`values`: (circuit, reading) to (value, day it is from); `added`: kg that stayed, None where nobody can say.

    leaks: each circuit's leak by what was done on this visit, which no answer can say. follow_ups: what was noted to be
    done at the next one.
    """

    day: str
    values: dict[tuple[str, str], tuple[Value, str]]
    added: dict[str, float | None]
    leaks: dict[str, Leak] = field(default_factory=dict)
    follow_ups: tuple[str, ...] = ()


def past_of(events: Sequence[Event], day: str, catalogue: Catalogue) -> Past:
    """The account of one session. Raises KeyError, TypeError or ValueError for what no walk writes."""
    opened = events[0]
    for event in events:
        if event["event"] == "corrected" and event["event_no"] == 0:
            opened = instead(opened, event)
        if event["event"] == "corrected" and event.get("renamed"):
            opened = renamed(opened, event["renamed"])
    day = str(opened["site"].get("today") or day)
    counted = _counted(events)
    values = dict(_opening(opened, day, catalogue))
    for _, event in counted:
        _take(values, event, day, catalogue)
    circuits = dict.fromkeys(str(event["circuit"]) for _, event in counted if event.get("circuit"))
    added: dict[str, float | None] = {}
    leaks: dict[str, Leak] = {}
    for circuit in circuits:
        own = [(n, event) for n, event in counted if event.get("circuit") == circuit]
        known = values.get((circuit, LEAK), ("", ""))[0] == LEAK_OPEN
        leaks[circuit] = leak_of(own, known, _last(own, WEIGHS))
        told = _told_by_work(own, leaks[circuit], day)
        values |= {(circuit, reading): (value, day) for reading, value in told}
        added[circuit] = _added(own, leaks[circuit])
        ended = {reading: value for (name, reading), (value, _) in values.items() if name == circuit}
        values |= {(circuit, name): (value, day) for name, value in emptied(own, ended, day, (RECOVERS, WEIGHS))}
    values.update({(circuit, FINDING): (cause, day) for circuit, cause in _causes(counted)})
    return Past(day, values, added, leaks, follow_ups(events))


def follow_ups(events: Sequence[Event]) -> tuple[str, ...]:
    """What was noted to be done at the next visit, and when."""
    noted = (event for event in events if event["event"] == "noted" and event.get("about") == "follow-up")
    return tuple(str(event["text"]) for event in noted)


def tag_in(events: Sequence[Event]) -> str:
    """The unit's tag, as it was put right."""
    found = str(events[0].get("unit", ""))
    for event in events:
        if event["event"] == "corrected" and event.get("reading") == UNIT and event.get("event_no") == 0:
            found = str(from_json(event["value"]))
    return found


def _counted(events: Sequence[Event]) -> list[tuple[int, Event]]:
    """(place, event) in the order in which it happened, without what was taken back; a corrected reading is right."""
    since = followed(events)
    kept: dict[int, Event] = {}
    for number, event in enumerate(events):
        kind = event["event"]
        if kind == "undone":
            back = event["back_to"]
            gone = _FOLLOWS | {"answered", "told"}
            kept = {n: each for n, each in kept.items() if since[n] < back or each["event"] not in gone}
        elif kind == "corrected":
            back, names = event["event_no"], event.get("renamed", {})
            if names:
                kept = {n: with_new_name(each, names) for n, each in kept.items()}
            else:
                kept = {n: each for n, each in kept.items() if since[n] < back or each["event"] not in _FOLLOWS}
            if event["value"] is None:
                kept.pop(back, None)
            elif back in kept and back > 0:
                kept[back] = righted(kept[back], event)
        else:
            kept[number] = event
    return list(enumerate(kept[n] for n in sorted(kept, key=lambda n: (since[n], n))))


def _opening(opened: Event, day: str, catalogue: Catalogue) -> Iterator[tuple[tuple[str, str], tuple[Value, str]]]:
    """What that visit itself knew beforehand; of an earlier visit with its day."""
    for item in opened["history"]:
        if item["reading"] not in (ADDED, FINDING):
            since = day if put_right(opened, item) else item.get("visit", "")
            yield (item["circuit"], item["reading"]), (from_json(item["value"]), since)
    names = next((reading.id for reading in catalogue.readings.values() if reading.names), "")
    if names and opened["known"]["circuits"]:
        yield ("", names), (", ".join(circuits_of(opened)), day)
    for circuit, readings in opened["known"]["circuits"].items():
        for reading, value in readings.items():
            yield (circuit, reading), (from_json(value), day)


def _take(values: dict[tuple[str, str], tuple[Value, str]], event: Event, day: str, catalogue: Catalogue) -> None:
    """A reading that was taken, or work that made some untrue."""
    if event["event"] in ("answered", "told") and "value" in event:
        reading = catalogue.readings.get(event["reading"])
        if reading is not None and reading.id != ADDED:  # a year of another day; `added` is summed anew
            at = "" if reading.of == "unit" else event["circuit"]
            values[(at, reading.id)] = (from_json(event["value"]), day)
    elif event["event"] == "done":
        work = catalogue.works.get(event["work"])
        for changed in work.changes if work is not None else ():
            values.pop((event["circuit"], changed), None)


def _told_by_work(own: list[tuple[int, Event]], leak: Leak, day: str) -> Iterator[tuple[str, Value]]:
    """The plate charge weighed in, a leak found, a leak mended."""
    if _plate_charge_is_in(own, _last(own, WEIGHS)):
        yield CHARGE_RIGHT, Quantity(Kind.DATE, _days(day) * 86400.0)
    places = [event["place"] for _, event in own if event["event"] == "finding" and event.get("place")]
    if places:
        yield LEAK_PLACE, str(places[-1])
    if leak.state:
        yield LEAK, leak.state


def _days(day: str) -> int:
    return (date.fromisoformat(day) - date(1970, 1, 1)).days


def _last(own: list[tuple[int, Event]], work: str) -> int:
    """The number of the event that did it last; -1 where nobody did."""
    return max((n for n, event in own if event["event"] == "done" and event["work"] == work), default=-1)


def _plate_charge_is_in(own: list[tuple[int, Event]], weighed: int) -> bool:
    """It was weighed in, and the next mass that was judged was as wanted."""
    if weighed < 0:
        return False
    judged = [event for n, event in own if n > weighed and event["event"] == "judged" and _mass(event) is not None]
    return bool(judged) and judged[0]["verdict"] == "on"


def _mass(event: Event) -> float | None:
    """Of a judged or worked-out event, in kg."""
    value = from_json(event["value"]) if isinstance(event.get("value"), dict) else None
    return value.si if isinstance(value, Quantity) and value.kind is Kind.MASS else None


def _added(own: list[tuple[int, Event]], leak: Leak) -> float | None:
    """What went in and stayed beyond what came out: as much as was missing. None where that is not known.

    A charge test's gas that was recovered again is not in it; a plate charge weighed in makes good what was missing.
    Behind a leak that was mended and proven it is the circuit's own charge again: nothing was topped up.
    """
    adds, weighs, recovers = (_last(own, work) for work in (ADDS, WEIGHS, RECOVERS))
    if leak.state == LEAK_MENDED and weighs > max(adds, recovers) and _plate_charge_is_in(own, weighs):
        return 0.0
    if max(adds, weighs) < 0 or (weighs < 0 and recovers > adds):
        return 0.0
    if weighs >= 0 and (recovers > weighs or not _plate_charge_is_in(own, weighs)):
        return None
    missing = [_mass(event) for _, event in own if event["event"] == "worked-out" and event["name"] == MISSING]
    typed = [event for _, event in own if event["event"] in ("answered", "told") and event.get("reading") == MISSING]
    if missing:
        return missing[-1]
    return _mass(typed[-1]) if typed else None


def _causes(counted: list[tuple[int, Event]]) -> Iterator[tuple[str, str]]:
    """The last cause that was found on each circuit; proven well, or nothing told, only where it found no other."""
    causes: dict[str, list[str]] = {}
    for _, event in counted:
        if event["event"] == "finding" and event["circuit"]:
            causes.setdefault(event["circuit"], []).append(event["cause"])
    for circuit, found in causes.items():
        real = [cause for cause in found if cause not in NO_CAUSE]
        yield circuit, real[-1] if real else found[-1]
