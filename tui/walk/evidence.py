"""What was judged and decided, in words: rows of the readings table and the evidence of a finding."""

from __future__ import annotations

from typing import Any

from tui.quantity import Quantity, Refused, from_json, show, usual_unit
from tui.walk.exactness import as_read
from tui.walk.kinds import spoken
from tui.walk.prompt import Row


def evidence_of(event: dict[str, Any], units: str) -> dict[str, object]:
    """One judged or routed event as it stands in a finding: where, and what it says."""
    at = f"{event['tree']}/{event['step']}"
    if event["event"] == "routed":
        said: dict[str, object] = {"at": at, "says": " or ".join(event["rows"]), "to": event["to"]}
        return said | ({"close": event["close"]} if event.get("close") else {})
    row = row_of(event, units)
    said = {"at": at, "what": row.name, "measured": row.measured, "wanted": row.wanted, "says": row.says}
    said |= {"overruled": event["overruled"]} if event.get("overruled") else {}
    return said | ({"close": row.close} if row.close else {})


def row_of(event: dict[str, Any], units: str) -> Row:
    """A judged event as a row of the readings table."""
    name = spoken(event["compared"])
    value, low, high = (quantity_of(event[part]) for part in ("value", "low", "high"))
    verdict = event["verdict"] or "unknown"
    if value is None:
        return Row(name, "not had", _wanted(units, low, high), "", verdict)
    difference = _difference(units, value, low, high)
    return Row(name, _shown(units, value), _wanted(units, low, high), difference, verdict, event.get("close") or "")


def _shown(units: str, value: Quantity) -> str:
    return as_read(value, usual_unit(value, units))


def quantity_of(stored: object) -> Quantity | None:
    """The quantity an event holds; None for a word or nothing."""
    value = from_json(stored) if isinstance(stored, dict) else None
    return value if isinstance(value, Quantity) else None


def _wanted(units: str, low: Quantity | None, high: Quantity | None) -> str:
    if low is not None and high is not None:
        return f"{_shown(units, low)} to {_shown(units, high)}"
    if low is not None:
        return f"at least {_shown(units, low)}"
    return "unknown" if high is None else f"at most {_shown(units, high)}"


def _difference(units: str, value: Quantity, low: Quantity | None, high: Quantity | None) -> str:
    """From the edge of what is wanted that is passed, or from its only one; none between the two."""
    within = low is not None and high is not None and low.si <= value.si <= high.si
    edge = low if high is None or (low is not None and value.si < low.si) else high
    if edge is None or within:
        return ""
    try:
        gap = value - edge
    except Refused:
        return ""
    text = show(gap, "micron") if usual_unit(value, units) == "micron" else _shown(units, gap)
    return text if gap.si < 0 else f"+{text}"
