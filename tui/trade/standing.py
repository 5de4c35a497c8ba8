"""What the pressure of a stopped, evened-out circuit says about what is inside."""

from __future__ import annotations

from tui.quantity import Kind, Quantity
from tui.trade import saturation
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

VAPOUR_ONLY = "vapour only"
LIQUID_INSIDE = "liquid inside"
AIR_INSIDE = "air inside"


def standing_says(
    site: Site, properties: Properties, standing: Quantity, coldest: Quantity, refrigerant: str
) -> str:
    """What a gauge standing pressure means at the temperature of the coldest part.

    Below dew only vapour is left. Above bubble something that doesn't condense is in there. Between
    them, or nearer to them than the instruments can tell (coverage factor 2), liquid stands inside,
    how much can't be told: a blend's saturation is a band, a single fluid's a line.
    A tree that wants to know how close it was judges the pressure against dew-pressure and
    bubble-pressure instead. Raises Refused outside the saturation table.
    """
    dew = saturation.pressure("dew-pressure", site, properties, coldest, refrigerant)
    bubble = saturation.pressure("bubble-pressure", site, properties, coldest, refrigerant)
    under = dew - standing
    if under.si > under.U:
        return VAPOUR_ONLY
    over = standing - bubble
    if over.si > over.U:
        return AIR_INSIDE
    return LIQUID_INSIDE


SUMS = (
    Sum(
        "standing-says",
        (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.CHOICE),
        Kind.CHOICE,
        "what the standing pressure means",
        "common practice, on the saturation tables",
        standing_says,
        (VAPOUR_ONLY, LIQUID_INSIDE, AIR_INSIDE),
    ),
)
