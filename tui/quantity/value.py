"""A quantity: a number in SI with its kind, the unit it is shown in, what was typed, and its errors."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from tui.quantity.kinds import Kind, KindRefused, kind_of, negative_of, refuse_kinds
from tui.quantity.refused import Refused
from tui.quantity.units import Unit, default_unit, unit, units_of

COVERAGE = 2.0
"""Coverage factor of an expanded uncertainty (JCGM 100, 6.2)."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One value.

    si: K (temperature and difference), Pa (gauge: above the site's atmosphere; absolute; difference),
    kg, m3, kg/m3, m, s (a date: since 1970-01-01), 1 (ratio, number), V, A, ohm, F, W, kg/s.
    unit: symbol it was typed in or is to be shown in; "" is the kind's default.
    typed: the person's own text.
    errors: source -> signed contribution in SI, sensitivity times standard uncertainty (JCGM 100, 5.1).
    The same source in both sides of a difference cancels.
    """

    kind: Kind
    si: float
    unit: str = ""
    typed: str = ""
    errors: Mapping[str, float] = field(default_factory=dict, hash=False)

    @classmethod
    def of(cls, number: float, symbol: str, kind: Kind | None = None) -> Quantity:
        """`number` of the unit `symbol`, as a tree spells it. Refused ``wrong-unit``."""
        found = unit(symbol, kind)
        return cls(found.kind, found.to_si(number), symbol)

    @property
    def u(self) -> float:
        """Standard uncertainty in SI: root sum of squares of the contributions (JCGM 100, 5.1.2)."""
        return math.hypot(*self.errors.values()) if self.errors else 0.0

    @property
    def U(self) -> float:
        """Expanded uncertainty in SI, coverage factor 2 (JCGM 100, 6.2.1)."""
        return COVERAGE * self.u

    def to(self, symbol: str) -> float:
        """The number in this unit. Refused ``wrong-unit`` for a unit of another kind."""
        return unit(symbol, self.kind).from_si(self.si)

    def shown_in(self, symbol: str) -> Quantity:
        """The same value, to be shown in another unit of its kind."""
        unit(symbol, self.kind)
        return Quantity(self.kind, self.si, symbol, self.typed, self.errors)

    def with_error(self, source: str, u: float) -> Quantity:
        """The same value with the signed contribution `u` (SI) of `source` added."""
        errors = dict(self.errors)
        errors[source] = errors.get(source, 0.0) + u
        return Quantity(self.kind, self.si, self.unit, self.typed, errors)

    @property
    def shown_unit(self) -> Unit:
        """The unit it is shown in: its own, else the default of its kind."""
        return unit(self.unit or default_unit(self.kind), self.kind)

    def __str__(self) -> str:
        from tui.quantity.show import show

        return show(self)

    def __add__(self, other: Quantity | float) -> Quantity:
        return _linear("+", self, _quantity(other), 1.0)

    def __sub__(self, other: Quantity | float) -> Quantity:
        return _linear("-", self, _quantity(other), -1.0)

    def __mul__(self, other: Quantity | float) -> Quantity:
        return _times(self, _quantity(other))

    def __truediv__(self, other: Quantity | float) -> Quantity:
        return _over(self, _quantity(other))

    def __radd__(self, other: float) -> Quantity:
        return _linear("+", _quantity(other), self, 1.0)

    def __rsub__(self, other: float) -> Quantity:
        return _linear("-", _quantity(other), self, -1.0)

    def __rmul__(self, other: float) -> Quantity:
        return _times(_quantity(other), self)

    def __rtruediv__(self, other: float) -> Quantity:
        return _over(_quantity(other), self)

    def __neg__(self) -> Quantity:
        if negative_of(self.kind) is None:
            raise KindRefused(f"{self.kind.named} is a point on a scale and has no opposite.")
        return Quantity(self.kind, -self.si, self.unit, "", _joined((-1.0, self)))


Value: TypeAlias = Quantity | str
"""What a reading holds: a quantity, or plain text for text, choice and yes/no."""


def _quantity(value: Quantity | float) -> Quantity:
    return value if isinstance(value, Quantity) else Quantity(Kind.NUMBER, float(value))


def _joined(*parts: tuple[float, Quantity]) -> dict[str, float]:
    """Contributions of several quantities, each with its sensitivity, added source by source."""
    errors: dict[str, float] = {}
    for slope, quantity in parts:
        for source, error in quantity.errors.items():
            errors[source] = errors.get(source, 0.0) + slope * error
    return errors


def _kind(operator: str, left: Quantity, right: Quantity) -> Kind:
    kind = kind_of(operator, left.kind, right.kind)
    if kind is None:
        raise refuse_kinds(operator, left.kind, right.kind)
    return kind


def _unit_for(kind: Kind, left: Quantity, right: Quantity) -> str:
    """The unit a result is shown in: that of the side with its kind, else the side's difference unit."""
    for side in (left, right):
        if side.kind is kind and side.unit:
            return side.unit
    if left.kind is right.kind and left.kind not in (kind, Kind.NUMBER):
        delta = left.shown_unit.delta
        if delta and any(one.symbol == delta for one in units_of(kind)):
            return delta
    return ""


def _finite(kind: Kind, si: float, symbol: str, errors: dict[str, float]) -> Quantity:
    if not math.isfinite(si):
        raise Refused("out-of-range", f"The {kind.value} worked out is too large for a number.",
                      "One of the figures that went in must be wrong.")
    return Quantity(kind, si, symbol, "", errors)


def _linear(operator: str, left: Quantity, right: Quantity, sign: float) -> Quantity:
    kind = _kind(operator, left, right)
    errors = _joined((1.0, left), (sign, right)) if left.errors or right.errors else {}
    return _finite(kind, left.si + sign * right.si, _unit_for(kind, left, right), errors)


def _times(left: Quantity, right: Quantity) -> Quantity:
    kind = _kind("*", left, right)
    errors = _joined((right.si, left), (left.si, right)) if left.errors or right.errors else {}
    return _finite(kind, left.si * right.si, _unit_for(kind, left, right), errors)


def _over(left: Quantity, right: Quantity) -> Quantity:
    kind = _kind("/", left, right)
    if right.si == 0:
        raise Refused("divided-by-zero", f"{left} can't be divided by {right}.",
                      "The figure below the line must not be zero.")
    value = left.si / right.si
    errors = _joined((1 / right.si, left), (-value / right.si, right)) if left.errors or right.errors else {}
    return _finite(kind, value, _unit_for(kind, left, right), errors)
