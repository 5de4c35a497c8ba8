"""Saturation and density for gauge readings at the site's atmosphere."""

from __future__ import annotations

from functools import partial

from tui.quantity import Kind, Quantity, to_absolute
from tui.trade.carry import carried, rectangular
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

SOURCE = "saturation and density tables built from the property library"


def of_property(refrigerant: str) -> str:
    """Id of the error of a refrigerant's saturation line: one line, one error."""
    return f"property:{refrigerant}"


def of_density(refrigerant: str) -> str:
    """Id of the error of a refrigerant's densities."""
    return f"density:{refrigerant}"


def temperature(
    curve: str, site: Site, properties: Properties, pressure: Quantity, refrigerant: str
) -> Quantity:
    """Saturation temperature on `curve` (``dew-temperature`` ...) at a gauge pressure.

    Raises Refused: not a pressure, below or above the table, supercritical.
    """
    absolute = to_absolute(pressure, site.atmosphere)
    look = properties.look(curve, refrigerant, absolute.si)
    own = {of_property(refrigerant): rectangular(look.error)}
    return carried(Kind.TEMPERATURE, look.value, (look.slopes[0], absolute), own=own)


def pressure(curve: str, site: Site, properties: Properties, at: Quantity, refrigerant: str) -> Quantity:
    """Gauge saturation pressure on `curve` (``dew-pressure`` ...) at a temperature.

    A line that reads too warm for a pressure gives too little pressure for a temperature: the error
    has the other sign here, so that going there and back leaves none. Raises Refused as above.
    """
    look = properties.look(curve, refrigerant, at.si)
    own = {of_property(refrigerant): -rectangular(look.error)}
    gauge = look.value - site.atmosphere.pa
    return carried(Kind.GAUGE_PRESSURE, gauge, (look.slopes[0], at), own=own)


def glide(site: Site, properties: Properties, at: Quantity, refrigerant: str) -> Quantity:
    """Dew minus bubble temperature at one gauge pressure. Raises Refused as above."""
    return temperature("dew-temperature", site, properties, at, refrigerant) - temperature(
        "bubble-temperature", site, properties, at, refrigerant
    )


def vapour_density(
    site: Site, properties: Properties, at: Quantity, warm: Quantity, refrigerant: str
) -> Quantity:
    """Density of vapour at a gauge pressure and a temperature. Raises Refused where it is liquid."""
    absolute = to_absolute(at, site.atmosphere)
    look = properties.look("vapour-density", refrigerant, absolute.si, warm.si)
    own = {of_density(refrigerant): rectangular(look.error)}
    parts = ((look.slopes[0], absolute), (look.slopes[1], warm))
    return carried(Kind.DENSITY, look.value, *parts, own=own)


def liquid_density(site: Site, properties: Properties, warm: Quantity, refrigerant: str) -> Quantity:
    """Density of saturated liquid at a temperature. Raises Refused outside the table."""
    return density_at("liquid-density", properties, warm, refrigerant)


def density_at(name: str, properties: Properties, warm: Quantity, refrigerant: str) -> Quantity:
    """A density that hangs on temperature alone (saturated liquid, saturated vapour)."""
    look = properties.look(name, refrigerant, warm.si)
    own = {of_density(refrigerant): rectangular(look.error)}
    return carried(Kind.DENSITY, look.value, (look.slopes[0], warm), own=own)


def safety_class(site: Site, properties: Properties, refrigerant: str) -> str:
    """ASHRAE 34 safety class. Raises Refused for a refrigerant that is not carried."""
    return properties.fact("safety-class", refrigerant)


def charges_as(site: Site, properties: Properties, refrigerant: str) -> str:
    """How it leaves the cylinder: a blend as liquid, throttled; a single fluid as vapour."""
    return properties.fact("charges-as", refrigerant)


def _temperature_sum(name: str, say: str) -> Sum:
    kinds = (Kind.GAUGE_PRESSURE, Kind.CHOICE)
    return Sum(name, kinds, Kind.TEMPERATURE, say, SOURCE, partial(temperature, name))


def _pressure_sum(name: str, say: str) -> Sum:
    kinds = (Kind.TEMPERATURE, Kind.CHOICE)
    return Sum(name, kinds, Kind.GAUGE_PRESSURE, say, SOURCE, partial(pressure, name))


SUMS = (
    _temperature_sum("dew-temperature", "where the last liquid boils away at this pressure"),
    _temperature_sum("bubble-temperature", "where the first bubble forms at this pressure"),
    _temperature_sum("mid-temperature", "the middle between bubble and dew at this pressure"),
    _pressure_sum("dew-pressure", "pressure over the last liquid at this temperature"),
    _pressure_sum("bubble-pressure", "pressure at the first bubble at this temperature"),
    _pressure_sum("mid-pressure", "pressure whose bubble-dew middle is this temperature"),
    Sum(
        "glide",
        (Kind.GAUGE_PRESSURE, Kind.CHOICE),
        Kind.TEMPERATURE_DIFFERENCE,
        "dew minus bubble at this pressure",
        SOURCE,
        glide,
    ),
    Sum(
        "vapour-density",
        (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.CHOICE),
        Kind.DENSITY,
        "density of the vapour",
        SOURCE,
        vapour_density,
    ),
    Sum(
        "liquid-density",
        (Kind.TEMPERATURE, Kind.CHOICE),
        Kind.DENSITY,
        "density of the liquid",
        SOURCE,
        liquid_density,
    ),
    Sum(
        "safety-class",
        (Kind.CHOICE,),
        Kind.CHOICE,
        "safety class",
        "ASHRAE Standard 34",
        safety_class,
        ("A1", "A2L", "A2", "A3", "B1", "B2L"),
    ),
    Sum(
        "charges-as",
        (Kind.CHOICE,),
        Kind.CHOICE,
        "how it leaves the cylinder",
        "common practice: a blend parts if it is drawn as vapour",
        charges_as,
        ("liquid", "vapour"),
    ),
)
