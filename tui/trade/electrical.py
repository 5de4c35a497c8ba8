"""How far three phases stand apart."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum


def unbalance(site: Site, properties: Properties, ab: Quantity, bc: Quantity, ca: Quantity) -> Quantity:
    """Largest distance of the three voltages from their mean, over the mean; a ratio.

    NEMA MG 1 14.36. It is the distance either way: a reading far below counts as one far above.
    Raises Refused ``no-volts`` where the mean is zero.
    """
    mean = (ab + bc + ca) / Quantity(Kind.NUMBER, 3.0)
    if mean.si <= 0:
        raise Refused("no-volts", "None of the three phases has any voltage.", "Measure the supply first.")
    furthest = max((each - mean if each.si >= mean.si else mean - each for each in (ab, bc, ca)), key=lambda d: d.si)
    return furthest / mean


SUMS = (
    Sum(
        "unbalance",
        (Kind.VOLTAGE, Kind.VOLTAGE, Kind.VOLTAGE),
        Kind.RATIO,
        "largest distance of a phase from the mean of the three, over the mean",
        "NEMA MG 1 14.36",
        unbalance,
    ),
)
