"""The air at a height: what gauges read against."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, propagate, standard_atmosphere
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

SOURCE = "ISO 2533 standard atmosphere; the weather is not in it"


def air_pressure(site: Site, properties: Properties, altitude: Quantity) -> Quantity:
    """Absolute pressure of the air at a height above sea level. Raises Refused below -500 m and above 9,000 m."""
    return propagate(Kind.ABSOLUTE_PRESSURE, standard_atmosphere, altitude)


def full_vacuum(site: Site, properties: Properties, altitude: Quantity) -> Quantity:
    """What a gauge shows at that height when nothing is left inside. Raises Refused as `air_pressure`."""
    return propagate(Kind.GAUGE_PRESSURE, lambda height: -standard_atmosphere(height), altitude, unit="inHg vac")


SUMS = (
    Sum(
        "air-pressure",
        (Kind.LENGTH,),
        Kind.ABSOLUTE_PRESSURE,
        "pressure of the air at this height",
        SOURCE,
        air_pressure,
    ),
    Sum(
        "full-vacuum",
        (Kind.LENGTH,),
        Kind.GAUGE_PRESSURE,
        "what a gauge shows there when nothing is left inside",
        SOURCE,
        full_vacuum,
    ),
)
