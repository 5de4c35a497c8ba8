"""Evaluates the language's expressions, tests and texts over what is known.

Anything that needs an unknown value is unknown (None), except ``first-known``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol

from tui.quantity import Kind, Quantity, Refused, Value, compare, own_figures, usual_unit
from tui.trade import SUMS, Properties, Site
from tui.tree.model import (
    UNKNOWN,
    AllOf,
    Binary,
    Call,
    Compare,
    Expression,
    Figure,
    Is,
    Literal,
    Name,
    Negative,
    OfSeries,
    Test,
    Text,
)
from tui.walk.exactness import as_read

if TYPE_CHECKING:
    from collections.abc import Mapping


class Scope(Protocol):
    """Where names get their values: one circuit inside one tree."""

    def get(self, name: str) -> Value | None: ...
    def others(self, name: str) -> tuple[str, ...]: ...
    def series(self, name: str) -> list[Value]: ...
    def figure(self, name: str) -> Figure | None: ...
    def came_from(self, name: str) -> frozenset[str]: ...
    def say(self, name: str, word: str) -> str: ...


@dataclass(frozen=True, slots=True)
class Truth:
    """`likely` is True, False or None (unknown); `possible` adds what closeness leaves open."""

    likely: bool | None
    possible: frozenset[bool]

    @property
    def close(self) -> bool:
        return self.likely is not None and len(self.possible) > 1


YES = Truth(True, frozenset((True,)))
NO = Truth(False, frozenset((False,)))
OPEN = Truth(None, frozenset((True, False)))


def certain(value: bool) -> Truth:
    return YES if value else NO


@dataclass(slots=True)
class Evaluator:
    """One evaluation: remembers the readings it used and the words of a sum that refused."""

    scope: Scope
    site: Site
    properties: Properties
    used: set[str] = field(default_factory=set)
    refusals: list[str] = field(default_factory=list)

    def value(self, expression: Expression) -> Value | None:
        """The value, or None where something it needs is unknown or a sum refuses."""
        return _VALUE[type(expression)](self, expression)

    def quantity(self, expression: Expression | None) -> Quantity | None:
        """As `value`, for expressions that give a number."""
        value = None if expression is None else self.value(expression)
        return value if isinstance(value, Quantity) else None

    def doubted(self, expression: Expression) -> tuple[str, ...]:
        """The other words that a sum of words leaves possible."""
        made = SUMS.get(expression.function) if isinstance(expression, Call) else None
        if made is None or made.doubt is None or not isinstance(expression, Call) or self.value(expression) is None:
            return ()
        return made.doubt(self.site, self.properties, *(self.value(argument) for argument in expression.arguments))

    def truth(self, test: Test) -> Truth:
        """The test over what is known, with what close verdicts leave possible."""
        if isinstance(test, Compare):
            return self._compared(test)
        if isinstance(test, Is):
            return self._is(test)
        parts = [self.truth(part) for part in test.tests]
        every = isinstance(test, AllOf)
        return Truth(_joined(every, [part.likely for part in parts]), _joined_possible(every, parts))

    def text(self, text: Text | None, system: str) -> str:
        """The sentence with its ``<...>`` filled in, and all figures in one system of units (``US`` or ``SI``)."""
        if text is None:
            return ""
        return "".join(own_figures(p, system) if isinstance(p, str) else self._shown(p, system) for p in text.parts)

    def _shown(self, expression: Expression, system: str) -> str:
        value = self.value(expression)
        if value is None:
            return UNKNOWN
        if isinstance(value, Quantity):
            return as_read(value, usual_unit(value, system))
        return self.scope.say(expression.name, value) if isinstance(expression, Name) else value

    # ---- tests

    def _compared(self, test: Compare) -> Truth:
        left, right = self.quantity(test.left), self.quantity(test.right)
        if left is None or right is None:
            return OPEN
        difference = left.si - right.si
        likely = _RELATION[test.relation](difference)
        close = compare(left, None, right).close if (left.errors or right.errors) else False
        return Truth(likely, frozenset((True, False))) if close else certain(likely)

    def _is(self, test: Is) -> Truth:
        word = self.value(test.subject)
        words = test.words
        if word is None:
            return certain((UNKNOWN in words) != test.negated) if UNKNOWN in words else OPEN
        likely = (word in words) != test.negated
        others = self.scope.others(test.subject.name) if isinstance(test.subject, Name) else ()
        return Truth(likely, frozenset((likely, *((other in words) != test.negated for other in others))))

    # ---- values

    def _literal(self, e: Literal) -> Value | None:
        return e.value

    def _name(self, e: Name) -> Value | None:
        figure = self.scope.figure(e.name)
        if figure is not None:
            return self._figure(figure)
        self.used |= self.scope.came_from(e.name)
        return self.scope.get(e.name)

    def _figure(self, figure: Figure) -> Value | None:
        if figure.table is None:
            return figure.value
        words = []
        for column in figure.table.columns:
            self.used |= self.scope.came_from(column)
            value = self.scope.get(column)
            words.append(value if isinstance(value, str) else UNKNOWN)
        row = figure.table.row_for(tuple(words))
        return None if row is None else figure.values[row.to]

    def _binary(self, e: Binary) -> Value | None:
        left, right = self.quantity(e.left), self.quantity(e.right)
        if left is None or right is None:
            return None
        try:
            return _OPERATION[e.operator](left, right)
        except Refused as refused:
            self.refusals.append(str(refused))
        except (ZeroDivisionError, OverflowError):
            self.refusals.append("A number in this sum is zero or far out of reach.")
        return None

    def _negative(self, e: Negative) -> Value | None:
        value = self.quantity(e.operand)
        return None if value is None else -value

    def _of_series(self, e: OfSeries) -> Value | None:
        if e.function != "first":
            self.used |= self.scope.came_from(e.name)
        return _series(e.function, self.scope.series(e.name))

    def _call(self, e: Call) -> Value | None:
        if e.function == "first-known":
            return next((v for a in e.arguments if (v := self.value(a)) is not None), None)
        values = [self.value(a) for a in e.arguments]
        if any(v is None for v in values):
            return None
        if e.function in ("smaller", "larger"):
            pick = min if e.function == "smaller" else max
            numbers = [v for v in values if isinstance(v, Quantity)]
            return pick(numbers, key=lambda q: q.si) if numbers else None
        try:
            return SUMS[e.function].call(self.site, self.properties, *(v for v in values if v is not None))
        except Refused as refused:
            self.refusals.append(str(refused))
            return None


_VALUE: Mapping[type, Callable[..., Value | None]] = {
    Literal: Evaluator._literal,
    Name: Evaluator._name,
    Binary: Evaluator._binary,
    Negative: Evaluator._negative,
    OfSeries: Evaluator._of_series,
    Call: Evaluator._call,
}
_OPERATION: Mapping[str, Callable[[Quantity, Quantity], Quantity]] = {
    "+": lambda a, b: a + b,
    "-": lambda a, b: a - b,
    "*": lambda a, b: a * b,
    "/": lambda a, b: a / b,
}
_RELATION: Mapping[str, Callable[[float], bool]] = {
    "below": lambda d: d < 0,
    "above": lambda d: d > 0,
    "at least": lambda d: d >= 0,
    "at most": lambda d: d <= 0,
    "before": lambda d: d < 0,
    "on or after": lambda d: d >= 0,
}


def _joined(every: bool, likely: list[bool | None]) -> bool | None:
    """Three-valued ``and`` (every) or ``or``."""
    if (not every) in likely:
        return not every
    return None if None in likely else every


def _joined_possible(every: bool, parts: list[Truth]) -> frozenset[bool]:
    possible = set()
    if all(every in part.possible for part in parts):
        possible.add(every)
    if any((not every) in part.possible for part in parts):
        possible.add(not every)
    return frozenset(possible)


def _series(function: str, values: list[Value]) -> Value | None:
    if function == "count":
        return Quantity(Kind.NUMBER, float(len(values)))
    if not values:
        return None
    if function in ("first", "last"):
        return values[0] if function == "first" else values[-1]
    numbers = [v for v in values if isinstance(v, Quantity)]
    if not numbers:
        return None
    if function in ("lowest", "highest"):
        return (min if function == "lowest" else max)(numbers, key=lambda q: q.si)
    if function == "change":
        return numbers[-1] - numbers[0]
    total = numbers[0]
    for value in numbers[1:]:
        total = total + value
    return total
