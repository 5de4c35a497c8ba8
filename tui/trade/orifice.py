"""The superheat wanted of a fixed orifice in comfort cooling, where the maker gives none.

A fixed orifice holds no superheat: what is right hangs on how wet the indoor air is and how warm the outdoor air.
"""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused, parse_literal
from tui.trade.carry import carried, rectangular
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

# What the charts of the trade cover. Outside nothing is known.
_WET_BULB = parse_literal("50 °F"), parse_literal("76 °F")
_OUTDOOR = parse_literal("55 °F"), parse_literal("115 °F")
_LEAST = parse_literal("5 dF").si
"""CEC Residential Appendices RA3.2 (2008): under it the chart has a dash, no charge is judged by superheat."""
OFF_THE_CHART = parse_literal("2.5 dF").si
"""The most by which the rule lies off 32 cells of a chart (tests/published), half-width."""
CHART = "superheat chart"
_ZERO_F = parse_literal("0 °F").si
_DEGREE = parse_literal("1 dF").si


def rule(wet_bulb: float, outdoor: float) -> float:
    """dF of superheat at °F of indoor wet bulb and of outdoor air: (3 WB - 80 - DB) / 2, common practice."""
    return (3 * wet_bulb - 80 - outdoor) / 2


def orifice_superheat(site: Site, properties: Properties, wet_bulb: Quantity, outdoor: Quantity) -> Quantity:
    """Superheat wanted at the evaporator's outlet; a difference in K.

    Indoor wet bulb of the air to the evaporator, dry bulb of the air to the condenser. Comfort cooling only. That
    the rule is no chart is carried as an error. Raises Refused outside the charts, and where less than 5 dF is wanted:
    there only weighing tells.
    """
    _inside(wet_bulb, _WET_BULB, "wet bulb indoors")
    _inside(outdoor, _OUTDOOR, "outdoor air")
    wanted = rule((wet_bulb.si - _ZERO_F) / _DEGREE, (outdoor.si - _ZERO_F) / _DEGREE) * _DEGREE
    if wanted < _LEAST:
        raise Refused(
            "out-of-range",
            f"At a wet bulb of {wet_bulb} and {outdoor} outdoors less than 5 dF of superheat is wanted.",
            "No charge is judged by superheat there. Weigh it, or come back in other weather.",
        )
    parts = ((1.5, wet_bulb), (-0.5, outdoor))
    return carried(Kind.TEMPERATURE_DIFFERENCE, wanted, *parts, own={CHART: rectangular(OFF_THE_CHART)})


def _inside(one: Quantity, bounds: tuple[Quantity, Quantity], what: str) -> None:
    if not bounds[0].si <= one.si <= bounds[1].si:
        raise Refused(
            "out-of-range",
            f"{one} of {what} lies outside the charts for a fixed orifice.",
            f"They go from {bounds[0]} to {bounds[1]}. Weigh it instead.",
        )


SUMS = (
    Sum(
        "orifice-superheat",
        (Kind.TEMPERATURE, Kind.TEMPERATURE),
        Kind.TEMPERATURE_DIFFERENCE,
        "superheat wanted of a fixed orifice, by wet bulb indoors and air outdoors",
        "common practice, comfort cooling only; least value CEC RA3.2 (2008)",
        orifice_superheat,
    ),
)
