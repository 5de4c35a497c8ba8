"""How exactly things are said: what an instrument is good to, in the units of the visit; masses as a scale reads."""

from __future__ import annotations

import re

from tui.quantity import Kind, Quantity, Refused, parse_literal, show, usual_unit

_AMERICAN = re.compile(r"\d+(?:\.\d+)?\s*(?:psig|psi|dF|°F|oz|lb|in|ft)\b")

_WHOLE_FROM = 0.010  # kg; scales in vans read whole grams, mostly two by two: common practice


def as_read(value: Quantity, unit: str | None) -> str:
    """A value that was worked out, in this unit, with no more digits than a scale has; a typed one as it was typed."""
    whole = value.kind is Kind.MASS and unit == "g" and not value.typed and abs(value.si) >= _WHOLE_FROM
    return show(value, unit, digits=0) if whole else show(value, unit)


def good_to_words(text: str, units: str) -> str:
    """``0.5 psi`` is ``0.03 bar`` where `units` are SI; what is no American unit stays as it is."""
    return text if units == "US" else _AMERICAN.sub(_metric, text)


def _metric(found: re.Match[str]) -> str:
    try:
        value = parse_literal(found.group())
    except Refused:
        return found.group()
    return show(value, usual_unit(value, "SI"))
