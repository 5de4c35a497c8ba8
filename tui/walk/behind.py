"""The sum behind a number: its formula as the tree has it, with the numbers put in, and where each is from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt
from typing import TYPE_CHECKING

from tui.quantity import Quantity, Value, difference_of, show
from tui.trade import SUMS
from tui.tree.model import Binary, Call, Expression, Judge, Literal, Name, Negative, OfSeries, WorkOut
from tui.walk import showing
from tui.walk.circuit import Circuit
from tui.walk.evaluate import Evaluator
from tui.walk.exactness import good_to_words
from tui.walk.judging import limits
from tui.walk.kinds import spoken
from tui.walk.machine import Machine
from tui.walk.wording import said

if TYPE_CHECKING:
    from tui.walk.core import Walk


@dataclass(frozen=True, slots=True)
class Working:
    """One number: `formula` in the tree's words, `numbers` the same with values, `result` as it is shown.

    `wanted`: what it is judged against and with which verdict. `inputs`: (what, value, where it is from).
    `errors`: (instrument, share of the uncertainty), the largest first. `sources`: (sum, its source).
    """

    name: str
    at: str
    formula: str
    numbers: str
    result: str
    wanted: str
    inputs: tuple[tuple[str, str, str], ...]
    errors: tuple[tuple[str, str], ...]
    sources: tuple[tuple[str, str], ...]


def names_of(walk: Walk) -> list[str]:
    """What was worked out or judged on the circuit at hand and still holds, the latest first."""
    circuit = walk.looked_at()
    return [] if circuit is None else list(reversed(walk.machine.results(circuit)))


def working_of(walk: Walk, name: str) -> Working:
    """The sum behind `name` (one of `names_of`), with the values as they are now. KeyError for another."""
    circuit = walk.looked_at()
    assert circuit is not None
    made = walk.machine.results(circuit)[name]
    with walk.machine.properties.aside():
        return _Writer(walk.machine, circuit, made.tree).write(name, made.step)


class _Writer:
    """Writes down the expressions of one step."""

    def __init__(self, machine: Machine, circuit: Circuit, tree: str) -> None:
        self.machine, self.circuit, self.tree = machine, circuit, tree
        self.evaluator: Evaluator = machine.evaluator(circuit, tree)

    def write(self, name: str, step: WorkOut | Judge) -> Working:
        main = step.expression if isinstance(step, WorkOut) else step.compare
        taken = self._taken(main)
        value = self.evaluator.value(main)
        wanted = self._wanted(step, value) if isinstance(step, Judge) else ""
        parts = [taken, *(self._limits(step) if isinstance(step, Judge) else [])]
        names = {each.name: each for part in parts for each in _names(part)}
        calls = dict.fromkeys(each.function for part in parts for each in _calls(part) if each.function in SUMS)
        return Working(
            name.rpartition("/")[2],
            f"{self.tree}/{step.name}",
            said(_spelled(taken)),
            self._filled(taken),
            self._shown(value),
            wanted,
            tuple(self._input(each) for each in names.values()),
            tuple(self._errors(name, value)),
            tuple((SUMS[call].say, SUMS[call].source) for call in calls),
        )

    def _taken(self, expression: Expression) -> Expression:
        """Of several that would do, the one that was had."""
        if isinstance(expression, Call) and expression.function == "first-known":
            had = (each for each in expression.arguments if self.evaluator.value(each) is not None)
            return self._taken(next(had, expression.arguments[0]))
        return expression

    def _limits(self, step: Judge) -> list[Expression]:
        edges = (step.target, step.band, step.on_from, step.on_to)
        return [self._taken(edge) for edge in edges if edge is not None]

    def _wanted(self, step: Judge, value: Value | None) -> str:
        low, high = limits(self.evaluator, step)
        edges = [self._shown(edge) for edge in (low, high)]
        if low is not None and high is not None:
            text = f"wanted {edges[0]} to {edges[1]}"
        elif low is not None:
            text = f"wanted at least {edges[0]}"
        else:
            text = f"wanted at most {edges[1]}"
        if step.target is not None and step.band is not None:
            text += f" ({self._filled(self._taken(step.target))} ± {self._filled(self._taken(step.band))})"
        nearest = _nearest(value, low, high)
        return text if nearest is None else f"{text}; {self._shown(nearest)} from the nearest edge"

    def _input(self, each: Name) -> tuple[str, str, str]:
        name, value = each.name, self.evaluator.value(each)
        figure = self.machine.catalogue.figures.get(name)
        if figure is not None:
            return spoken(name), self._shown(value), f"figure: {figure.source}"
        reading = self.machine.catalogue.readings.get(name)
        if reading is not None and reading.ask is not None and name not in self.machine.results(self.circuit):
            return spoken(name), self._shown(value), self._taken_with(name)
        return spoken(name), self._shown(value), "a sum of its own"

    def _taken_with(self, name: str) -> str:
        reading = self.machine.catalogue.readings[name]
        before = showing.since_when(self.machine, self.circuit, name).strip(" ()")
        instrument = self.machine.catalogue.instruments.get(reading.instrument or "")
        if before or instrument is None:
            return before or "as you said"
        good_to = good_to_words(self.machine.good_to(instrument.id), self.machine.units)
        return f"{instrument.say or spoken(instrument.id)}, good to {good_to}"

    def _errors(self, name: str, value: Value | None) -> Iterator[tuple[str, str]]:
        """Of the verdict where it is one, else of the value itself; as half-widths (JCGM 100, 4.3.7: a = u sqrt 3)."""
        if not isinstance(value, Quantity):
            return
        shares = self.machine.keeper(self.circuit, name).errors.get(name) or dict(value.errors)
        kind = difference_of(value.kind)
        together: dict[str, float] = {}
        for source, share in shares.items():  # what an instrument is wrong by each time, and its readings' own
            name = self._named(source)
            together[name] = hypot(together.get(name, 0.0), share)
        for name, share in sorted(together.items(), key=lambda each: -each[1]):
            if share:
                yield name, self._shown(Quantity(kind, share * sqrt(3)))

    def _named(self, source: str) -> str:
        """An instrument, or the property tables, as a person calls it."""
        instrument = self.machine.catalogue.instruments.get(source.partition("#")[0])
        if instrument is not None:
            return instrument.say or spoken(instrument.id)
        kind, _, of = source.partition(":")
        return f"tables of {of}" if kind == "property" else spoken(source)

    def _shown(self, value: Value | None) -> str:
        if isinstance(value, Quantity):
            return show(value, self.machine.unit_for(value))
        return value or "not known"

    def _filled(self, e: Expression) -> str:
        """The expression with what its names are."""
        if isinstance(e, Binary):
            left, right = self._filled(e.left), self._filled(self._taken(e.right))
            return _joined(e, left, right)
        if isinstance(e, Negative):
            return f"-{self._filled(e.operand)}"
        if isinstance(e, Call):
            return f"{spoken(e.function)}({', '.join(self._filled(self._taken(each)) for each in e.arguments)})"
        return self._shown(self.evaluator.value(e))


def _nearest(value: Value | None, low: Quantity | None, high: Quantity | None) -> Quantity | None:
    """How far the value is from the edge it is nearest to."""
    if not isinstance(value, Quantity):
        return None
    gaps = [abs(value.si - edge.si) for edge in (low, high) if edge is not None]
    return Quantity(difference_of(value.kind), min(gaps)) if gaps else None


def _joined(e: Binary, left: str, right: str) -> str:
    """The two sides, in brackets where they need them."""
    if isinstance(e.left, Binary) and e.operator in "*/" and e.left.operator in "+-":
        left = f"({left})"
    if isinstance(e.right, Binary) and (e.operator in "-/" or e.right.operator in "+-"):
        right = f"({right})"
    return f"{left} {e.operator} {right}"


def _spelled(e: Expression) -> str:
    if isinstance(e, Binary):
        return _joined(e, _spelled(e.left), _spelled(e.right))
    if isinstance(e, Negative):
        return f"-{_spelled(e.operand)}"
    if isinstance(e, Call):
        return f"{e.function}({', '.join(map(_spelled, e.arguments))})"
    if isinstance(e, OfSeries):
        return f"{e.function}({e.name})"
    return show(e.value) if isinstance(e, Literal) else e.name


def _names(e: Expression) -> Iterator[Name]:
    if isinstance(e, Name):
        yield e
    elif isinstance(e, OfSeries):
        yield Name(e.name, e.spot)
    for part in _parts(e):
        yield from _names(part)


def _calls(e: Expression) -> Iterator[Call]:
    if isinstance(e, Call):
        yield e
    for part in _parts(e):
        yield from _calls(part)


def _parts(e: Expression) -> tuple[Expression, ...]:
    if isinstance(e, Binary):
        return e.left, e.right
    if isinstance(e, Negative):
        return (e.operand,)
    return e.arguments if isinstance(e, Call) else ()
