"""What suction and head should be, and what they are, as temperatures of the coils.

A blend boils over a range. The mean temperature of an evaporator lies about a third of the glide
below dew (common practice), so that is where the wanted evaporating temperature is put. How far
below depends on how much flashes on the way in: fed from 85 to 115 °F, eight blends lie 0.19 to 0.44
of the glide below dew at -20 and 20 °F. That give is carried as an error of its own. A condenser is
taken at the middle of bubble and dew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from math import exp

from tui.quantity import Kind, Quantity, Refused, to_absolute
from tui.trade import saturation
from tui.trade.carry import carried, rectangular
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

BELOW_DEW = 1 / 3  # of the glide
BELOW_DEW_GIVE = 1 / 7  # half-width of that share
_CLOSE_ENOUGH = 1e-7  # K
_MOST_TRIES = 20


@dataclass(frozen=True, slots=True)
class _Coil:
    """Mean evaporating temperature in K at one absolute pressure, its slope in K/Pa, its own errors in K."""

    kelvin: float
    slope: float
    own: Mapping[str, float]


def _coil(properties: Properties, refrigerant: str, pa: float) -> _Coil:
    dew = properties.look("dew-temperature", refrigerant, pa)
    bubble = properties.look("bubble-temperature", refrigerant, pa)
    glide = dew.value - bubble.value
    error = dew.error + BELOW_DEW * (bubble.error - dew.error)
    return _Coil(
        dew.value - BELOW_DEW * glide,
        dew.slopes[0] + BELOW_DEW * (bubble.slopes[0] - dew.slopes[0]),
        {
            saturation.of_property(refrigerant): rectangular(error),
            f"coil mean:{refrigerant}": rectangular(BELOW_DEW_GIVE * glide),
        },
    )


def evaporating_temperature(
    site: Site, properties: Properties, suction: Quantity, refrigerant: str
) -> Quantity:
    """Mean temperature of the evaporator at a gauge suction pressure: dew less glide/3.

    It compares with box temperature less TD. Raises Refused outside the saturation table.
    """
    absolute = to_absolute(suction, site.atmosphere)
    coil = _coil(properties, refrigerant, absolute.si)
    return carried(Kind.TEMPERATURE, coil.kelvin, (coil.slope, absolute), own=coil.own)


def suction_wanted(site: Site, properties: Properties, evaporating: Quantity, refrigerant: str) -> Quantity:
    """Gauge suction pressure at which the evaporator's mean temperature is `evaporating`.

    The dew pressure at (evaporating + glide/3), the glide being the one at that pressure: found by
    Newton's method in log pressure, in which the curve is nearly straight. The inverse of
    evaporating_temperature, its errors too. Raises Refused outside the saturation table.
    """
    pa = properties.look("dew-pressure", refrigerant, evaporating.si).value
    for _ in range(_MOST_TRIES):
        coil = _coil(properties, refrigerant, pa)
        short = evaporating.si - coil.kelvin
        if abs(short) < _CLOSE_ENOUGH:
            own = {source: -error / coil.slope for source, error in coil.own.items()}
            gauge = pa - site.atmosphere.pa
            return carried(Kind.GAUGE_PRESSURE, gauge, (1.0 / coil.slope, evaporating), own=own)
        pa *= exp(short / (coil.slope * pa))
    raise Refused(
        "no-saturation",
        f"No suction pressure was found for {refrigerant} at this evaporating temperature.",
        "Look it up on the gauge's own scale and type the saturation it shows.",
    )


condensing_temperature = partial(saturation.temperature, "mid-temperature")
head_wanted = partial(saturation.pressure, "mid-pressure")


def suction_for_box(
    site: Site, properties: Properties, box: Quantity, difference: Quantity, refrigerant: str
) -> Quantity:
    """Gauge suction pressure for a box at `box` whose evaporator runs `difference` (TD) colder.

    Raises Refused as `suction_wanted`.
    """
    return suction_wanted(site, properties, box - difference, refrigerant)


def head_for_air(
    site: Site, properties: Properties, air: Quantity, split: Quantity, refrigerant: str
) -> Quantity:
    """Gauge head pressure where air of `air` goes into a condenser that runs `split` warmer.

    Raises Refused outside the saturation table.
    """
    return head_wanted(site, properties, air + split, refrigerant)


SUMS = (
    Sum(
        "evaporating-temperature",
        (Kind.GAUGE_PRESSURE, Kind.CHOICE),
        Kind.TEMPERATURE,
        "mean temperature of the evaporator: dew less a third of the glide",
        "common practice, on the saturation tables",
        evaporating_temperature,
    ),
    Sum(
        "suction-wanted",
        (Kind.TEMPERATURE, Kind.CHOICE),
        Kind.GAUGE_PRESSURE,
        "suction for a wanted evaporating temperature, at this altitude",
        "common practice, on the saturation tables",
        suction_wanted,
    ),
    Sum(
        "condensing-temperature",
        (Kind.GAUGE_PRESSURE, Kind.CHOICE),
        Kind.TEMPERATURE,
        "condensing temperature: the middle of bubble and dew",
        "common practice, on the saturation tables",
        condensing_temperature,
    ),
    Sum(
        "head-wanted",
        (Kind.TEMPERATURE, Kind.CHOICE),
        Kind.GAUGE_PRESSURE,
        "head for a wanted condensing temperature, at this altitude",
        "common practice, on the saturation tables",
        head_wanted,
    ),
    Sum(
        "suction-for-box",
        (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.CHOICE),
        Kind.GAUGE_PRESSURE,
        "suction where the evaporator is at box less TD",
        "common practice, on the saturation tables",
        suction_for_box,
    ),
    Sum(
        "head-for-air",
        (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.CHOICE),
        Kind.GAUGE_PRESSURE,
        "head where the condenser is at air plus split",
        "common practice, on the saturation tables",
        head_for_air,
    ),
)
