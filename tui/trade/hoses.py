"""What hoses hold: on a small circuit that is a good part of the charge.

The bore is asked, never taken from the fitting: a "1/4 in hose" is often 3/16 in inside.
"""

from __future__ import annotations

from math import pi

from tui.quantity import Kind, Quantity, Refused
from tui.trade import saturation
from tui.trade.carry import carried, rectangular
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

# A hose lies in the room, not in the box. How warm it is matters little to the vapour it holds, so
# an ordinary room is taken and the doubt about it carried.
ROOM = 298.15  # K
ROOM_GIVE = 15.0  # K, half-width


def hose_volume(site: Site, properties: Properties, length: Quantity, bore: Quantity) -> Quantity:
    """Inner volume, pi/4 bore^2 length, m3. Raises Refused unless both are above zero."""
    if length.si <= 0.0 or bore.si <= 0.0:
        raise Refused(
            "out-of-range",
            "A hose has a length and a bore above zero.",
            "Measure the length, and read the inner diameter off the hose.",
        )
    area = pi / 4 * bore.si**2
    around = pi / 2 * bore.si
    return carried(Kind.VOLUME, area * length.si, (area, length), (around * length.si, bore))


def hose_holds(
    site: Site,
    properties: Properties,
    length: Quantity,
    bore: Quantity,
    suction: Quantity,
    refrigerant: str,
) -> Quantity:
    """Mass of the vapour in a hose that is open to the suction side, at the gauge suction pressure.

    Once the cylinder is closed and the hose emptied into the running circuit, this much is left in
    it. Raises Refused for no hose, and where the pressure would make liquid at room temperature.
    """
    room = Quantity(Kind.TEMPERATURE, ROOM, errors={"hose temperature": rectangular(ROOM_GIVE)})
    density = saturation.vapour_density(site, properties, suction, room, refrigerant)
    return density * hose_volume(site, properties, length, bore)


def hose_from_cylinder(
    site: Site,
    properties: Properties,
    length: Quantity,
    bore: Quantity,
    warm: Quantity,
    refrigerant: str,
) -> Quantity:
    """Mass in a hose between an open cylinder and a closed manifold, both at temperature `warm`.

    Liquid for what charges as liquid, else vapour at the cylinder's own pressure: what the scale has
    lost although the circuit has not got it. Raises Refused for no hose or outside the tables.
    """
    as_liquid = properties.fact("charges-as", refrigerant) == "liquid"
    if as_liquid:
        return hose_of_liquid(site, properties, length, bore, warm, refrigerant)
    density = saturation.density_at("saturated-vapour-density", properties, warm, refrigerant)
    return density * hose_volume(site, properties, length, bore)


def hose_of_liquid(
    site: Site,
    properties: Properties,
    length: Quantity,
    bore: Quantity,
    warm: Quantity,
    refrigerant: str,
) -> Quantity:
    """Mass in a hose full of liquid at temperature `warm`. Raises Refused for no hose or outside the tables."""
    density = saturation.density_at("liquid-density", properties, warm, refrigerant)
    return density * hose_volume(site, properties, length, bore)


SUMS = (
    Sum(
        "hose-volume",
        (Kind.LENGTH, Kind.LENGTH),
        Kind.VOLUME,
        "inner volume of a hose",
        "pi/4 bore^2 length",
        hose_volume,
    ),
    Sum(
        "hose-holds",
        (Kind.LENGTH, Kind.LENGTH, Kind.GAUGE_PRESSURE, Kind.CHOICE),
        Kind.MASS,
        "vapour left in a hose at suction pressure",
        "inner volume times density",
        hose_holds,
    ),
    Sum(
        "hose-from-cylinder",
        (Kind.LENGTH, Kind.LENGTH, Kind.TEMPERATURE, Kind.CHOICE),
        Kind.MASS,
        "refrigerant in the hose between an open cylinder and a closed manifold",
        "inner volume times density",
        hose_from_cylinder,
    ),
    Sum(
        "hose-of-liquid",
        (Kind.LENGTH, Kind.LENGTH, Kind.TEMPERATURE, Kind.CHOICE),
        Kind.MASS,
        "a hose full of liquid",
        "inner volume times density",
        hose_of_liquid,
    ),
)
