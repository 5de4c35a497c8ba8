"""What the pressure of a stopped, evened-out circuit says about what is inside."""

from __future__ import annotations

import math

from tui.quantity import Kind, Quantity
from tui.trade import saturation
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

VAPOUR_ONLY = "vapour only"
LIQUID_INSIDE = "liquid inside"
AIR_INSIDE = "air inside"
NEAR = (0.5, 0.5 + math.sqrt(3))


def standing_says(
    site: Site, properties: Properties, standing: Quantity, coldest: Quantity, refrigerant: str
) -> str:
    """What a gauge standing pressure means at the temperature of the coldest part.

    Below dew only vapour is left. Above bubble something that doesn't condense is in there. Between
    them, or nearer to them than the instruments can tell (coverage factor 2), liquid stands inside,
    how much can't be told: a blend's saturation is a band, a single fluid's a line.
    Raises Refused outside the saturation table.
    """
    beyond = _beyond(site, properties, standing, coldest, refrigerant)
    return next((word for word, far in beyond if far > 1.0), LIQUID_INSIDE)


def standing_can_be(
    site: Site, properties: Properties, standing: Quantity, coldest: Quantity, refrigerant: str
) -> tuple[str, ...]:
    """The other words, where a gauge or a clamp worse than it is held to be would give them.

    NEAR, in expanded uncertainties beyond the line: so wide that one of them, wrong by twice what it is good to (root
    3 of its own expanded uncertainty), leads from no side to the other without being on it. Where it begins is judged.
    """
    word = standing_says(site, properties, standing, coldest, refrigerant)
    near = [at for at, far in _beyond(site, properties, standing, coldest, refrigerant) if NEAR[0] < far < NEAR[1]]
    return tuple(LIQUID_INSIDE if at == word else at for at in near)


def _beyond(
    site: Site, properties: Properties, standing: Quantity, coldest: Quantity, refrigerant: str
) -> list[tuple[str, float]]:
    """Each word that is not liquid, and how far the pressure is on its side, in expanded uncertainties."""
    dew = saturation.pressure("dew-pressure", site, properties, coldest, refrigerant)
    bubble = saturation.pressure("bubble-pressure", site, properties, coldest, refrigerant)
    return [
        (word, over.si / over.U if over.U else math.copysign(math.inf, over.si) if over.si else 0.0)
        for word, over in ((VAPOUR_ONLY, dew - standing), (AIR_INSIDE, standing - bubble))
    ]


SUMS = (
    Sum(
        "standing-says",
        (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.CHOICE),
        Kind.CHOICE,
        "what the standing pressure means",
        "common practice, on the saturation tables",
        standing_says,
        (VAPOUR_ONLY, LIQUID_INSIDE, AIR_INSIDE),
        standing_can_be,
    ),
)
