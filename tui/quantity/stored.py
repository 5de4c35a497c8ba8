"""Quantities as a file keeps them: exact text of the number, UCUM code, kind, the typed text.

UCUM (ucum.org) has no gauge unit, so a gauge pressure says ``gauge: true``; its number always counts
upwards (10 inHg of vacuum is ``-10`` ``[in_i'Hg]``). A temperature difference is always in ``K``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from tui.quantity.dates import iso_date, read_date
from tui.quantity.kinds import WORDS, Kind
from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.units import DAY, Unit, default_unit, units_of
from tui.quantity.value import Quantity, Value

_NEIGHBOURS = 4


def to_json(value: Value, *, errors: bool = False) -> dict[str, Any]:
    """A JSON-able dict: ``kind``, ``value`` (exact text), ``unit`` (UCUM), ``shown``, ``typed``, ``gauge``.

    `from_json` gives back the very same SI number. Where no text of the unit does, the number stands in
    the SI unit instead. errors: also the contributions, as exact texts.
    """
    if isinstance(value, str):
        return {"kind": Kind.TEXT.value, "value": value}
    if value.kind is Kind.DATE and value.si % DAY == 0:
        data: dict[str, Any] = {"kind": value.kind.value, "value": iso_date(value.si)}
    else:
        one = value.shown_unit
        text, ucum = _exact(value.si, one, value.kind)
        data = {"kind": value.kind.value, "value": text, "unit": ucum}
        if value.unit and value.unit != "date":
            data["shown"] = value.unit
    if value.kind is Kind.GAUGE_PRESSURE:
        data["gauge"] = True
    if value.typed:
        data["typed"] = value.typed
    if errors and value.errors:
        data["errors"] = {source: repr(float(error)) for source, error in value.errors.items()}
    return data


_SI_CODES = {
    Kind.TEMPERATURE: "K", Kind.TEMPERATURE_DIFFERENCE: "K", Kind.GAUGE_PRESSURE: "Pa",
    Kind.ABSOLUTE_PRESSURE: "Pa", Kind.PRESSURE_DIFFERENCE: "Pa", Kind.MASS: "kg", Kind.VOLUME: "m3",
    Kind.DENSITY: "kg/m3", Kind.LENGTH: "m", Kind.TIME_SPAN: "s", Kind.DATE: "s", Kind.RATIO: "1",
    Kind.VOLTAGE: "V", Kind.CURRENT: "A", Kind.RESISTANCE: "Ohm", Kind.CAPACITANCE: "F", Kind.POWER: "W",
    Kind.LEAK_RATE: "kg/s", Kind.NUMBER: "1",
}


def _exact(si: float, one: Unit, kind: Kind) -> tuple[str, str]:
    """A number text and its UCUM code that read back to exactly `si`."""
    if one.ucum == _SI_CODES[kind]:
        return _text(si), one.ucum
    factor, offset = one.stored_factor, one.offset
    number = (si - offset) / factor
    short = float(f"{number:.12g}")
    candidates = [short, number]
    up = down = number
    for _ in range(_NEIGHBOURS):
        up, down = math.nextafter(up, math.inf), math.nextafter(down, -math.inf)
        candidates += [up, down]
    for candidate in candidates:
        if candidate * factor + offset == si:
            return _text(candidate), one.ucum
    return _text(si), _SI_CODES[kind]


def _text(number: float) -> str:
    return str(int(number)) if number % 1 == 0 and abs(number) < 1e15 else repr(number)


def from_json(data: Mapping[str, Any]) -> Value:
    """The value `to_json` wrote. Refused ``unreadable`` (what is wrong is named), ``wrong-unit``."""
    kind = _kind(data.get("kind"))
    text = data.get("value")
    if not isinstance(text, str):
        raise Refused("unreadable", "A stored value has no text under “value”.", "The file is damaged.")
    if kind in WORDS:
        return text
    typed = data.get("typed", "")
    errors = data.get("errors", {})
    if not isinstance(typed, str) or not isinstance(errors, Mapping):
        raise Refused("unreadable", "A stored value's “typed” or “errors” can't be read.",
                      "The file is damaged.")
    contributions = {str(source): _number(error) for source, error in errors.items()}
    if kind is Kind.DATE and "unit" not in data:
        return Quantity(kind, read_date(text), "date", typed, contributions)
    si, symbol = _read(kind, text, data.get("unit"), data.get("shown"))
    return Quantity(kind, si, symbol, typed, contributions)


def _kind(word: object) -> Kind:
    for kind in Kind:
        if kind.value == word:
            return kind
    raise Refused("unreadable", f"{quoted(str(word))} is no kind of value.", "The file is damaged or newer.")


def _number(text: object) -> float:
    try:
        number = float(text) if isinstance(text, str) else math.nan
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise Refused("unreadable", f"{quoted(str(text))} is no stored number.", "The file is damaged.")
    return number


def _read(kind: Kind, text: str, ucum: object, shown: object) -> tuple[float, str]:
    number = _number(text)
    units = units_of(kind)
    symbol = shown if isinstance(shown, str) else ""
    if symbol and all(one.symbol != symbol for one in units):
        raise Refused("wrong-unit", f"{quoted(symbol)} is no unit of {kind.named}.", "The file is damaged.")
    if ucum == _SI_CODES[kind]:
        return number, symbol
    wanted = symbol or default_unit(kind)
    same = [one for one in units if one.ucum == ucum]
    same.sort(key=lambda one: one.symbol != wanted)
    if not same:
        raise Refused("wrong-unit", f"{quoted(str(ucum))} is no unit of {kind.named}.",
                      "The file is damaged or newer.")
    si = number * same[0].stored_factor + same[0].offset
    if not math.isfinite(si):
        raise Refused("unreadable", f"{quoted(text)} is no stored number.", "The file is damaged.")
    return si, symbol
