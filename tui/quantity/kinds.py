"""Kinds of quantity, and which of them may be added, subtracted, multiplied and divided.

The algebra is static: the tree's typing asks `kind_of` the same question that a sum asks at run time.
"""

from __future__ import annotations

from enum import StrEnum

from tui.quantity.refused import Refused


class Kind(StrEnum):
    """What a value is, whatever its unit. The value is the word used in the trees."""

    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    GAUGE_PRESSURE = "gauge pressure"
    ABSOLUTE_PRESSURE = "absolute pressure"
    PRESSURE_DIFFERENCE = "pressure difference"
    MASS = "mass"
    VOLUME = "volume"
    DENSITY = "density"
    LENGTH = "length"
    TIME_SPAN = "time span"
    DATE = "date"
    RATIO = "ratio"
    VOLTAGE = "voltage"
    CURRENT = "current"
    RESISTANCE = "resistance"
    CAPACITANCE = "capacitance"
    POWER = "power"
    LEAK_RATE = "leak rate"
    NUMBER = "number"
    TEXT = "text"
    CHOICE = "choice"
    YES_NO = "yes/no"

    @property
    def named(self) -> str:
        """The kind with its article: ``an absolute pressure``."""
        return f"{'an' if self.value[0] in 'aeiou' else 'a'} {self.value}"


class KindRefused(Refused):
    """Two kinds that cannot be put together so; code ``wrong-kind``."""

    def __init__(self, message: str, cure: str = "") -> None:
        super().__init__("wrong-kind", message, cure)


WORDS = frozenset({Kind.TEXT, Kind.CHOICE, Kind.YES_NO})
"""Kinds whose values are plain text, not quantities."""

# Points on a scale: only their differences can be added or scaled.
_DIFFERENCE_OF: dict[Kind, Kind] = {
    Kind.TEMPERATURE: Kind.TEMPERATURE_DIFFERENCE,
    Kind.GAUGE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
    Kind.ABSOLUTE_PRESSURE: Kind.PRESSURE_DIFFERENCE,
    Kind.DATE: Kind.TIME_SPAN,
}
_UNSCALABLE = frozenset({Kind.TEMPERATURE, Kind.GAUGE_PRESSURE, Kind.DATE}) | WORDS

_PRODUCTS: dict[tuple[Kind, Kind], Kind] = {
    (Kind.DENSITY, Kind.VOLUME): Kind.MASS,
    (Kind.LEAK_RATE, Kind.TIME_SPAN): Kind.MASS,
    (Kind.VOLTAGE, Kind.CURRENT): Kind.POWER,
    (Kind.CURRENT, Kind.RESISTANCE): Kind.VOLTAGE,
}


def difference_of(kind: Kind) -> Kind:
    """The kind of a difference of two values of `kind` (itself, for what is no point on a scale)."""
    return _DIFFERENCE_OF.get(kind, kind)


def kind_of(operator: str, left: Kind, right: Kind) -> Kind | None:
    """The kind of ``left operator right`` (one of ``+ - * /``), or None where it makes no sense."""
    if left in WORDS or right in WORDS:
        return None
    if operator == "+":
        return _sum(left, right)
    if operator == "-":
        return _difference(left, right)
    if operator == "*":
        return _product(left, right)
    if operator == "/":
        return _quotient(left, right)
    raise ValueError(f"operator {operator!r} is none of + - * /")


def _sum(left: Kind, right: Kind) -> Kind | None:
    if left == right:
        return None if left in _DIFFERENCE_OF else left
    if _DIFFERENCE_OF.get(left) == right:
        return left
    if _DIFFERENCE_OF.get(right) == left:
        return right
    return None


def _difference(left: Kind, right: Kind) -> Kind | None:
    if left == right:
        return difference_of(left)
    return left if _DIFFERENCE_OF.get(left) == right else None


def _product(left: Kind, right: Kind) -> Kind | None:
    for scale, other in ((left, right), (right, left)):
        plain = scale is Kind.NUMBER or (scale is Kind.RATIO and other is not Kind.NUMBER)
        if plain and other not in _UNSCALABLE:
            return other
    return _PRODUCTS.get((left, right)) or _PRODUCTS.get((right, left))


def _quotient(left: Kind, right: Kind) -> Kind | None:
    if left in _UNSCALABLE or right in _UNSCALABLE:
        return None
    if left == right:
        return Kind.NUMBER if left is Kind.NUMBER else Kind.RATIO
    if right in (Kind.NUMBER, Kind.RATIO):
        return Kind.RATIO if left is Kind.NUMBER else left
    for factors, product in _PRODUCTS.items():
        if product is left and right in factors:
            return factors[1] if right is factors[0] else factors[0]
    if (left, right) == (Kind.MASS, Kind.VOLUME):
        return Kind.DENSITY
    return Kind.LEAK_RATE if (left, right) == (Kind.MASS, Kind.TIME_SPAN) else None


def negative_of(kind: Kind) -> Kind | None:
    """The kind of ``- x``, or None: a point on a scale has no opposite."""
    return None if kind in _DIFFERENCE_OF or kind in WORDS else kind


_VERBS = {"+": "added to", "-": "subtracted from", "*": "multiplied by", "/": "divided by"}


def refuse_kinds(operator: str, left: Kind, right: Kind) -> KindRefused:
    """The refusal to raise where `kind_of` says None."""
    first, second = (right, left) if operator in "+-" else (left, right)
    message = f"{first.named} can't be {_VERBS[operator]} {second.named}."
    message = message[0].upper() + message[1:]
    if Kind.GAUGE_PRESSURE in (left, right) and Kind.ABSOLUTE_PRESSURE in (left, right):
        return KindRefused(message, "Turn one into the other with the site's atmosphere first.")
    if left == right and left in _DIFFERENCE_OF and operator == "+":
        return KindRefused(message, f"Add {_DIFFERENCE_OF[left].named} to it, or take one from the other.")
    if operator in "*/" and (left in _UNSCALABLE or right in _UNSCALABLE):
        point = left if left in _UNSCALABLE else right
        cure = f"{point.named.capitalize()} is a point on a scale: only differences can be scaled."
        return KindRefused(message, cure)
    return KindRefused(message)
