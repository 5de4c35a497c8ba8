"""What a tight circuit full of nitrogen shows after the temperature has changed."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, to_absolute
from tui.trade.carry import carried
from tui.trade.properties import NITROGEN, NITROGEN_PRESSURE, Properties
from tui.trade.site import Site
from tui.trade.sums import Sum


def nitrogen_expected(
    site: Site, properties: Properties, pressure: Quantity, then: Quantity, now: Quantity
) -> Quantity:
    """Gauge pressure expected at `now` of nitrogen that stood at `pressure` at `then`.

    Constant volume, real gas. After a fall of 10 dF from 500 psig the ideal law expects 0.8 psi more
    than a tight circuit shows, and that looks like a leak. Raises Refused outside the nitrogen data.
    """
    absolute = to_absolute(pressure, site.atmosphere)
    look = properties.look(NITROGEN_PRESSURE, NITROGEN, absolute.si, then.si, now.si)
    parts = zip(look.slopes, (absolute, then, now), strict=True)
    gauge = look.value - site.atmosphere.pa
    return carried(Kind.GAUGE_PRESSURE, gauge, *parts)


def nitrogen_fall(
    site: Site, properties: Properties, pressure: Quantity, then: Quantity, now: Quantity, held: Quantity
) -> Quantity:
    """How far the gauge at the end, `held`, stands below what a tight circuit shows; above zero is a fall.

    Errors of one source cancel in it: give each reading its own where an instrument may have drifted between the
    two looks. Raises Refused as `nitrogen_expected`.
    """
    return nitrogen_expected(site, properties, pressure, then, now) - held


def ideal_pressure(pressure: float, then: float, now: float) -> float:
    """The pocket rule p1/T1 = p2/T2, Pa absolute and K, for comparison with the real gas."""
    return pressure * now / then


_HOLD = (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.TEMPERATURE, Kind.GAUGE_PRESSURE)

SUMS = (
    Sum(
        "nitrogen-expected",
        (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.TEMPERATURE),
        Kind.GAUGE_PRESSURE,
        "pressure a tight circuit shows at the new temperature",
        "constant volume, nitrogen as a real gas",
        nitrogen_expected,
    ),
    Sum(
        "nitrogen-fall",
        _HOLD,
        Kind.PRESSURE_DIFFERENCE,
        "what a tight circuit shows, less what the gauge shows",
        "constant volume, nitrogen as a real gas",
        nitrogen_fall,
    ),
)
