"""Numbers in a tree: strictly one way to write each, so that a reviewer sees what the machine sees."""

from __future__ import annotations

import re

from tui.quantity.dates import seconds_of
from tui.quantity.kinds import Kind
from tui.quantity.refused import Refused
from tui.quantity.spelling import usual
from tui.quantity.typed import LONGEST, quoted
from tui.quantity.units import UNITS
from tui.quantity.value import Quantity
from tui.quantity.words import nearest

_LITERAL = re.compile(r"(-?(?:0|[1-9][0-9]{0,14})(?:\.[0-9]{1,15})?)(?: (\S(?:.*\S)?)|(%))?")
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")

# Plain words a trainer may write instead of a symbol; each stands for one unit.
_WORDS = {
    "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hour": "h", "hours": "h",
    "day": "d", "days": "d", "weeks": "week", "months": "month", "year": "yr", "years": "yr",
    "microns": "micron", "ohms": "ohm",
}
_SCALES = {"fahrenheit": "f", "celsius": "c", "centigrade": "c"}
_COMMON = "Common ones are: °F, °C, dF, dC, psig, barg, psia, psi, bar, oz, lb, g, kg, %, s, min, h, V, A, ft, in."
_TWO_MEANINGS = {"f": "°F is a temperature, dF a difference.", "c": "°C is a temperature, dC a difference."}


def parse_literal(text: str) -> Quantity:
    """A literal of a tree: ``5 dF``, ``7 %``, ``30 psig``, ``10 inHg vac``, ``3``, ``2026-01-01``.

    Number, one blank, the unit's symbol (``UNITS``). Decimal point only. Bare ``psi`` and ``bar`` are
    differences, bare ``kPa`` is absolute. Refused ``unreadable``, ``wrong-unit``, ``below-absolute-zero``,
    ``out-of-range``.
    """
    if len(text) > LONGEST:
        raise Refused("unreadable", f"A number with its unit is not {len(text)} letters long.", _CURE)
    day = _DAY.fullmatch(text)
    if day is not None:
        return Quantity(Kind.DATE, seconds_of(*map(int, day.groups())), "date", text)
    found = _LITERAL.fullmatch(text)
    if found is None:
        raise Refused("unreadable", f"{quoted(text)} is no number with a unit.", _CURE)
    symbol = found[2] or found[3] or ""
    one = UNITS.get(_WORDS.get(symbol, symbol))
    if one is None or one.kind is Kind.DATE:
        raise _no_unit(symbol)
    value = Quantity(one.kind, one.to_si(float(found[1])) + 0.0, one.symbol, text)
    if value.si < -1e-9 and value.kind in (Kind.TEMPERATURE, Kind.ABSOLUTE_PRESSURE):
        raise Refused("below-absolute-zero", f"{quoted(text)} is below absolute zero.", "Check the sign.")
    return value


_CURE = "Write it as 5 dF, 30 psig, 7 % or 3: a decimal point, one blank, the unit."


def _no_unit(symbol: str) -> Refused:
    bare = symbol.lower().removeprefix("degrees").removeprefix("degree").removeprefix("deg").strip(" .°º")
    hint = _TWO_MEANINGS.get(_SCALES.get(bare, bare))
    if hint is not None:
        return Refused("wrong-unit", f"{quoted(symbol)} is no unit in a tree.", hint)
    close = usual(symbol) or nearest(symbol, UNITS)
    return Refused("wrong-unit", f"{quoted(symbol)} is no unit in a tree.",
                   f"Did you mean {close}?" if close else _COMMON)
