"""Any value in other units: what it can be, and what it is then."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tui.app.mode import Host, Mode
from tui.app.sheet import FAINT, STRONG, WARN, Part, item
from tui.app.sums.around import Surroundings
from tui.app.sums.using import Use, usable, use_of
from tui.app.view import View
from tui.quantity import (
    Atmosphere,
    Kind,
    Quantity,
    Refused,
    default_unit,
    difference_of,
    parse,
    show,
    to_absolute,
    to_gauge,
    units_of,
)
from tui.quantity.spelling import spelled

KINDS = tuple(kind for kind in Kind if len(units_of(kind)) > 1)
PRESSURES = frozenset({Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE})
MOST = 6  # units a kind is told in
_INTO = re.compile(r"\s(?=(?:in|to|into|as|=)\s+(\S.*)\Z)", re.IGNORECASE)  # 1/4 in in mm: at each of them
_CURE = "Such as 12 psig, 35 °F, 14 oz; or: 12 bar in psi."


@dataclass(frozen=True, slots=True)
class Converted:
    """A value of one kind, and what it is in others of its units; `use` is what a step would be given."""

    kind: Kind
    texts: tuple[str, ...]
    use: str

    def __str__(self) -> str:
        return f"{self.kind.value}: {' = '.join(self.texts)}"


def converted(line: str, around: Surroundings) -> list[Converted]:
    """``12 bar``, ``12 bar in psi``, ``20 inHg vac in micron``: one a kind that it can be.

    Raises Refused, in the words of what it most likely is.
    """
    found = [_told(value, around) for value in values_of(line)]
    if found:
        return found
    for into in _INTO.finditer(line):
        values = values_of(line[: into.start()])
        if values:
            return _into(values, into.group(1), around.air)
    raise _refused(line)


def values_of(text: str) -> list[Quantity]:
    """Everything that a value with its unit can be, likeliest first; ``12 A`` is no twelve years.

    Raises Refused for what is below absolute zero.
    """
    found: list[Quantity] = []
    for kind in KINDS:
        try:
            value = parse(text, kind, shown=None)
        except Refused as problem:
            if problem.code == "below-absolute-zero":
                raise
            continue
        assert isinstance(value, Quantity)
        found.append(value)
    exact = {value.kind for value in found if re.search(rf"(?<![^\d\s]){re.escape(value.unit)}\Z", text.strip())}
    if not exact:
        return found
    return [value for value in found if any(_related(value.kind, kind) for kind in exact)]


def _related(one: Kind, other: Kind) -> bool:
    """Written in the same units: pressures, or a temperature and its difference."""
    differences = {difference_of(one), difference_of(other)}
    return len(differences) == 1


def _told(value: Quantity, around: Surroundings) -> Converted:
    """In all its units, the usual one of the person first."""
    usual = default_unit(value.kind, around.units)
    symbols = [usual, *(each.symbol for each in units_of(value.kind))]
    others = [show(value, symbol) for symbol in symbols if symbol != value.unit and _sensible(value, symbol)]
    others += _other_pressure(value, around.air)
    texts = tuple(dict.fromkeys([show(value, value.unit), *others]))
    return Converted(value.kind, texts[:MOST], texts[1] if value.unit != usual and len(texts) > 1 else texts[0])


def _sensible(value: Quantity, symbol: str) -> bool:
    """Not a vacuum above the air, nor what the kind shows by a number of many noughts."""
    if value.kind is Kind.GAUGE_PRESSURE and symbol == "inHg vac":
        return value.si < 0
    size = abs(value.to(symbol))
    return value.si == 0 or value.kind is Kind.TEMPERATURE or 1e-3 <= size < 1e6


def _other_pressure(value: Quantity, air: Atmosphere) -> Iterator[str]:
    """Gauge as absolute and the other way, which only the air here can tell."""
    try:
        if value.kind is Kind.GAUGE_PRESSURE:
            yield show(to_absolute(value, air))
        elif value.kind is Kind.ABSOLUTE_PRESSURE:
            yield show(to_gauge(value, air))
    except Refused:
        return


def _into(values: list[Quantity], wanted: str, air: Atmosphere) -> list[Converted]:
    found: list[Converted] = []
    for value in values:
        for kind in (value.kind, *(PRESSURES - {value.kind} if value.kind in PRESSURES else ())):
            into = spelled(wanted, kind, None)
            if into is None:
                continue
            same = value if kind is value.kind else _across(value, air)
            symbol = "inHg vac" if into.vacuum else into.unit.symbol
            text = show(same, symbol)
            found.append(Converted(value.kind, (show(value, value.unit), text), text))
            break
    if not found:
        what = " or ".join(dict.fromkeys(value.kind.named for value in values))
        units = ", ".join(each.symbol for each in units_of(values[0].kind) if each.symbol)
        raise Refused("wrong-unit", f"“{wanted}” is no unit of {what}.", f"One of: {units}.")
    return found


def _across(value: Quantity, air: Atmosphere) -> Quantity:
    return to_absolute(value, air) if value.kind is Kind.GAUGE_PRESSURE else to_gauge(value, air)


def _refused(line: str) -> Refused:
    """Out of nature in one kind says more than no unit of another."""
    for kind in KINDS:
        try:
            parse(line, kind, shown=None)
        except Refused as problem:
            if problem.code in ("out-of-range", "below-absolute-zero", "ambiguous", "no-unit"):
                return Refused(problem.code, problem.message, problem.cure)
    return Refused("unreadable", f"“{line}” is no value with its unit.", _CURE)


class Units(Mode):
    """One value in other units."""

    own_words = True

    def __init__(self, talk: Host, around: Surroundings, use: Use | None) -> None:
        super().__init__(talk)
        self.around, self.use = around, use
        self.found: list[Converted] = []

    def view(self, width: int) -> View:
        parts: list[Part] = [item("sum", "A value in other units", STRONG)]
        parts += conversions(self.found, self.use)
        parts.append(item("", f"Gauge and absolute pressure by the air here: {self.around.air.source}.", FAINT))
        parts.append(item("", "12 bar in psi: only that. ESC: back to the list.", FAINT))
        return View(tuple(parts), (), "value", "with its unit: 12 bar, 10 inHg, 35 °F, 14 oz")

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or use_of(line) is not None:
            return ()
        try:
            return tuple(conversions(converted(line, self.around), None))
        except Refused as problem:
            return (item("not yet", f"{problem.message} {problem.cure}".strip(), label_style=WARN),)

    def enter(self, line: str) -> None:
        wanted = use_of(line)
        if wanted is not None:
            usable([each.use for each in self.found], wanted, self.use)
            return
        if not line:
            raise Refused("empty", "Nothing was typed.", _CURE)
        self.found = converted(line, self.around)


def conversions(found: list[Converted], use: Use | None) -> Iterator[Part]:
    """One item each, with the word that uses it where it can be used."""
    for place, each in enumerate(found, start=1):
        yield item(f"use {place}" if use is not None else "=", str(each), STRONG)
