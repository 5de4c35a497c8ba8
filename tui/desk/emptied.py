"""Whether a visit left a circuit empty: gas taken out, and no plate charge weighed in after it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from tui.quantity import Kind, Quantity, Value, from_json, show

Event = Mapping[str, Any]
Item = dict[str, Any]

# readings of the bundled catalogue that tell it to the next visit
EMPTY, ON, MASS, WHICH = "left-empty", "emptied-on", "emptied-mass", "empty-circuits"
READINGS = frozenset({EMPTY, ON, MASS, WHICH})
CHARGED_SINCE, IS_EMPTY, BEFORE, CAME_OUT = "charged-since", "circuit-empty", "recovery-before", "came-out"


def emptied(
    own: Sequence[tuple[int, Event]], values: Mapping[str, Value], day: str, works: tuple[str, str]
) -> Iterator[tuple[str, Value]]:
    """(reading, value) of one circuit, from its counted events; `values`: its readings as they stood at the end.

    `works`: what the catalogue calls recovering, and weighing the plate charge in. A recovery that was begun counts,
    finished or not; one that only takes out what was over the plate weighs no cylinder before it, and does not.
    """
    recovers, weighs = works
    weighed = _last(own, lambda event: event["event"] == "done" and event["work"] == weighs)
    taken = _last(own, lambda event: event["event"] == "done" and event["work"] == recovers)
    begun = _last(own, lambda event: event["event"] in ("answered", "told") and event.get("reading") == BEFORE)
    mass = _last(own, lambda event: event["event"] == "worked-out" and event["name"] == CAME_OUT)
    if weighed < begun < taken or values.get(IS_EMPTY) == "yes":
        yield EMPTY, "yes"
        yield ON, Quantity(Kind.DATE, (date.fromisoformat(day) - date(1970, 1, 1)).days * 86400.0)
        found = from_json(dict(own)[mass]["value"]) if mass > weighed and mass > begun else None
        if isinstance(found, Quantity):
            yield MASS, found
    elif weighed >= 0 or values.get(CHARGED_SINCE) == "yes":
        yield EMPTY, "no"


def _last(own: Sequence[tuple[int, Event]], is_it: Any) -> int:
    return max((n for n, event in own if is_it(event)), default=-1)


def told(items: Sequence[Item], charge_right: str) -> list[Item]:
    """The latest word on each reading, with what an empty circuit makes of the others.

    An empty circuit's charge is not right, whenever it was; its mass and day mean nothing once it is charged again.
    """
    empty = {item["circuit"]: item["visit"] for item in items if item["reading"] == EMPTY and item["value"] == "yes"}
    kept = [item for item in items if item["reading"] != charge_right or item["circuit"] not in empty]
    kept = [item for item in kept if item["reading"] not in (ON, MASS) or item["circuit"] in empty]
    if empty:
        which = "; ".join(_which(name, [item for item in kept if item["circuit"] == name]) for name in empty)
        kept.append({"circuit": "", "reading": WHICH, "value": which, "visit": max(empty.values())})
    return kept


def _which(circuit: str, own: Sequence[Item]) -> str:
    known = {item["reading"]: item["value"] for item in own}
    mass = show(known[MASS]) + " " if MASS in known else ""
    return f"{circuit} ({mass}taken out {show(known[ON])})" if ON in known else circuit
