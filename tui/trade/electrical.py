"""How far three phases stand apart, and what a capacitor is worth in its running circuit."""

from __future__ import annotations

from math import pi

from tui.quantity import Kind, Quantity, Refused, propagate
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


def capacitance(site: Site, properties: Properties, current: Quantity, volts: Quantity, hertz: Quantity) -> Quantity:
    """Capacitance of a run capacitor: the current through it over 2 pi f times the volts across its own two terminals.

    C = I / (2 pi f V), for a sine; `hertz` is a bare number, 50 or 60. Not for a start capacitor, which is in
    its circuit for a moment only. Raises Refused unless volts and hertz are above zero.
    """
    if volts.si <= 0 or hertz.si <= 0:
        raise Refused(
            "no-volts",
            "Without volts across it and the mains frequency nothing is known of a capacitor.",
            "Measure across its own two terminals while it runs, or take it out and use a capacitor meter.",
        )
    return propagate(Kind.CAPACITANCE, lambda i, v, f: i / (2 * pi * f * v), current, volts, hertz)


SUMS = (
    Sum(
        "unbalance",
        (Kind.VOLTAGE, Kind.VOLTAGE, Kind.VOLTAGE),
        Kind.RATIO,
        "largest distance of a phase from the mean of the three, over the mean",
        "NEMA MG 1 14.36",
        unbalance,
    ),
    Sum(
        "capacitance",
        (Kind.CURRENT, Kind.VOLTAGE, Kind.NUMBER),
        Kind.CAPACITANCE,
        "a run capacitor by its current, the volts across it and the mains frequency",
        "C = I / (2 pi f V)",
        capacitance,
    ),
)
