"""Warning: a judge with a band finer than the catalogue's instruments can tell.

Each judge is worked out once with made-up readings that carry their instruments' errors. A pressure
says least about temperature where it is low, so refrigerants are tried in a cold evaporator.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from tui.quantity import Accuracy, Atmosphere, Kind, Quantity, Refused, Value, to_gauge
from tui.refrigerant import dew_pressure, resolve
from tui.trade import SUMS, Site, TableProperties
from tui.tree.check.names import every_step
from tui.tree.model import (
    Binary,
    Call,
    Catalogue,
    Expression,
    Judge,
    Literal,
    Name,
    Negative,
    OfSeries,
    Reading,
    Tree,
    WorkOut,
)
from tui.tree.spot import Problem

SEA_LEVEL = Atmosphere(101325.0, "sea level")
COLD = 244.26  # K, evaporating at -20 °F: a freezer
WARM = 313.71  # K, condensing at 105 °F
LINE = 275.0  # K, any line or air
AMOUNT = 1.0  # anything else, in SI, or the least there can be
MOST_NAMED = 4
SHOWN_AT = "evaporating at -20 °F (-29 °C)"


def bands(trees: Mapping[str, Tree], catalogue: Catalogue) -> Iterator[Problem]:
    """One warning for each judge whose band is finer than what it compares is known to."""
    refrigerants = _coldest_first(catalogue)
    sums = {name: _sums_of(tree) for name, tree in trees.items()}
    anywhere = {name: e for of_tree in reversed(sums.values()) for name, e in of_tree.items()}
    for tree in trees.values():
        for step in every_step(tree.steps):
            if isinstance(step, Judge):
                samples = Samples(catalogue, {**anywhere, **sums[tree.name]})
                yield from _judge(step, samples, refrigerants)


def _sums_of(tree: Tree) -> dict[str, Expression]:
    """What a tree works out, by name, from its first step that does."""
    sums: dict[str, Expression] = {}
    for step in every_step(tree.steps):
        if isinstance(step, WorkOut):
            sums.setdefault(step.result, step.expression)
    return sums


def _judge(step: Judge, samples: Samples, refrigerants: list[str]) -> Iterator[Problem]:
    found = [(r, told) for r in refrigerants[:1] if (told := samples.finer(step, r)) is not None]
    if not found:
        return
    band, _ = found[0][1]
    if samples.pressures:
        found = [(r, told) for r in refrigerants if (told := samples.finer(step, r)) is not None]
    names = ", ".join(r for r, _ in found[:MOST_NAMED]) + (" and others" if len(found) > MOST_NAMED else "")
    where = f" on {names}, {SHOWN_AT}" if samples.pressures else ""
    worst = max((known for _, (_, known) in found), key=lambda q: q.si)
    best = f"these instruments tell it to {_shown(worst)}{where}"
    said = f"`{step.result}` is judged to {_shown(band)}, and {best}."
    cure = "Widen the band, or name a better instrument in instruments.yaml."
    yield Problem(step.spot, "finer-than-instruments", said, cure, severity="warning")


def _shown(value: Quantity) -> str:
    from tui.quantity import default_unit, show

    return show(value, default_unit(value.kind), digits=1)


def _coldest_first(catalogue: Catalogue) -> list[str]:
    """The refrigerants a person can choose, the lowest pressure first."""
    reading = catalogue.readings.get("refrigerant")
    found = []
    for word in reading.answers if reading is not None else ():
        try:
            found.append((dew_pressure(resolve(word), COLD), word))
        except Refused:
            continue
    return [word for _, word in sorted(found)]


@dataclass(slots=True)
class Samples:
    """Made-up readings of one tree. `pressures` says whether the last judge hung on a pressure.

    sums: what this tree, else any other, works out, by name.
    """

    catalogue: Catalogue
    sums: Mapping[str, Expression]
    refrigerant: str = ""
    pressures: bool = False
    _open: set[str] = field(default_factory=set)
    _site: Site = field(default_factory=lambda: Site(SEA_LEVEL, None, ""))

    def finer(self, step: Judge, refrigerant: str) -> tuple[Quantity, Quantity] | None:
        """(band, what can be told) if the band is finer; None if not, or if it can't be worked out."""
        self.refrigerant, self.pressures = refrigerant, False
        compared = self._number(step.compare)
        if step.target is not None and step.band is not None:
            target, band = self._number(step.target), self._number(step.band)
        elif step.on_from is not None and step.on_to is not None:
            low, target = self._number(step.on_from), self._number(step.on_to)
            band = None if low is None or target is None else (target - low) * Quantity(Kind.NUMBER, 0.5)
        else:
            return None
        if compared is None or target is None or band is None:
            return None
        difference = compared - target
        told = Quantity(band.kind, difference.U)
        return (band, told) if band.si < told.si else None

    def _number(self, e: Expression | None) -> Quantity | None:
        try:
            value = self._value(e)
        except (Refused, ZeroDivisionError, OverflowError):
            return None
        return value if isinstance(value, Quantity) else None

    def _value(self, e: Expression | None) -> Value | None:
        if isinstance(e, Literal):
            return e.value
        if isinstance(e, Name | OfSeries):
            return self._named(e.name)
        if isinstance(e, Negative):
            value = self._number(e.operand)
            return None if value is None else -value
        if isinstance(e, Binary):
            return self._binary(e)
        return self._call(e) if isinstance(e, Call) else None

    def _binary(self, e: Binary) -> Value | None:
        left, right = self._number(e.left), self._number(e.right)
        if left is None or right is None:
            return None
        if e.operator == "+":
            return left + right
        if e.operator == "-":
            return left - right
        return left * right if e.operator == "*" else left / right

    def _call(self, e: Call) -> Value | None:
        values = [self._value(argument) for argument in e.arguments]
        if e.function in ("first-known", "smaller", "larger"):
            return next((value for value in values if value is not None), None)
        if e.function not in SUMS or any(value is None for value in values):
            return None
        return SUMS[e.function].call(self._site, TableProperties(), *(v for v in values if v is not None))

    def _named(self, name: str) -> Value | None:
        reading = self.catalogue.readings.get(name)
        if reading is not None and reading.ask is not None:
            return self._reading(reading)
        figure = self.catalogue.figures.get(name)
        if figure is not None:
            return figure.value if figure.table is None else min(figure.values.values(), key=lambda v: v.si)
        if name in self._open:
            return None
        self._open.add(name)
        try:
            return self._value(self.sums.get(name))
        finally:
            self._open.discard(name)

    def _reading(self, reading: Reading) -> Value | None:
        if reading.answers:
            return self.refrigerant if reading.id == "refrigerant" else reading.answers[0]
        si = self._sample(reading)
        if reading.kind is Kind.TEXT or si is None:
            return None
        instrument = self.catalogue.instruments.get(reading.instrument or "")
        if instrument is None:
            return Quantity(reading.kind, si)
        good_to = Accuracy.parse(instrument.good_to)
        return Quantity(reading.kind, si, errors=good_to.contributions(si, instrument.id, reading.id))

    def _sample(self, reading: Reading) -> float | None:
        if reading.kind is Kind.TEMPERATURE:
            return LINE
        if reading.kind is not Kind.GAUGE_PRESSURE:
            return max(AMOUNT, reading.low or AMOUNT)
        self.pressures = True
        at = WARM if reading.instrument and "high" in reading.instrument else COLD
        absolute = Quantity(Kind.ABSOLUTE_PRESSURE, dew_pressure(resolve(self.refrigerant), at))
        return to_gauge(absolute, SEA_LEVEL).si


