"""Results that keep track of where their uncertainty came from."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

from tui.quantity import Kind, Quantity


def carried(
    kind: Kind, si: float, *parts: tuple[float, Quantity], own: Mapping[str, float] | None = None
) -> Quantity:
    """A quantity worked out from others, its errors carried to first order (JCGM 100, 5.1).

    Each part is (slope of the result by that quantity, in SI; the quantity). `own` adds what the
    sum itself does not know: source id -> signed standard contribution. The same source in two
    parts adds with its sign, so what cancels in the world cancels here.
    """
    errors = {source: error for source, error in (own or {}).items() if error}
    for slope, quantity in parts:
        for source, error in quantity.errors.items():
            errors[source] = errors.get(source, 0.0) + slope * error
    return Quantity(kind, si, errors=errors)


def rectangular(half_width: float) -> float:
    """Standard uncertainty of something known only to lie within a half-width (JCGM 100, 4.3.7)."""
    return half_width / sqrt(3.0)
