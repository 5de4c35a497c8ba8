"""The first place where two runs of one visit part."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tui.record.line import Event

DIGITS = 1e-9  # relative: numbers are the same when they are to nine digits
_NUMBER = re.compile(r"-?\d+(\.\d+)?([eE][+-]?\d+)?\Z")

# What says which texts and programs a visit was walked with, not what came of it.
_SETTING = {
    "opened": frozenset({"versions", "library"}),
    "entered": frozenset({"text", "catalogue", "digest", "edition"}),
}


@dataclass(frozen=True, slots=True)
class Difference:
    """`n`: the event's place. `what`: which part of it. `then`, `now`: what stood, what comes out."""

    n: int
    what: str
    then: str
    now: str


def first_difference(then: Sequence[Event], now: Sequence[Event]) -> Difference | None:
    """The first event that differs, None where all are the same to nine digits."""
    for n, (old, new) in enumerate(zip(then, now, strict=False)):
        found = _between(old, new)
        if found:
            what, was, is_now = found
            return Difference(n, what, was, is_now)
    if len(then) == len(now):
        return None
    n = min(len(then), len(now))
    return Difference(n, "what comes next", name_of(then[n : n + 1]), name_of(now[n : n + 1]))


def name_of(events: Sequence[Mapping[str, Any]]) -> str:
    """The first of these events in words: ``judged suction-level in main``, or ``nothing more``."""
    if not events:
        return "nothing more"
    event = events[0]
    subject = next((event[k] for k in ("result", "reading", "step", "tree", "at") if event.get(k)), "")
    circuit = f"in {event['circuit']}" if event.get("circuit") else ""
    return " ".join(str(part) for part in (event.get("event"), subject, circuit) if part)


def _between(old: Event, new: Event) -> tuple[str, str, str] | None:
    if old.get("event") != new.get("event"):
        return "event", name_of([old]), name_of([new])
    passed = _SETTING.get(str(old.get("event")), frozenset())
    for key in (*old, *(key for key in new if key not in old)):
        if key not in passed:
            parting = _part(key, old.get(key), new.get(key))
            if parting:
                where, was, is_now = parting
                return f"{name_of([old])}: {where}", was, is_now
    return None


def _part(where: str, old: Any, new: Any) -> tuple[str, str, str] | None:
    """Where two values part, going in as deep as both have the same shape."""
    if old == new and type(old) is type(new):
        return None
    if isinstance(old, dict) and isinstance(new, dict):
        keys = (*old, *(key for key in new if key not in old))
        parts = (_part(f"{where} {key}", old.get(key), new.get(key)) for key in keys)
        return next((part for part in parts if part), None)
    if isinstance(old, list | tuple) and isinstance(new, list | tuple) and len(old) == len(new):
        pairs = enumerate(zip(old, new, strict=True), start=1)
        parts = (_part(f"{where} {place}", *pair) for place, pair in pairs)
        return next((part for part in parts if part), None)
    if _same_number(old, new):
        return None
    return where, _shown(old), _shown(new)


def _same_number(old: Any, new: Any) -> bool:
    first, second = _number(old), _number(new)
    if first is None or second is None:
        return False
    return math.isclose(first, second, rel_tol=DIGITS, abs_tol=1e-15)


def _number(value: Any) -> float | None:
    if isinstance(value, str) and _NUMBER.match(value):
        return float(value)
    return float(value) if type(value) in (int, float) else None


def _shown(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return ", ".join(f"{key} {_shown(item)}" for key, item in value.items()) or "nothing"
    if isinstance(value, list | tuple):
        return ", ".join(map(_shown, value)) or "nothing"
    return str(value)
