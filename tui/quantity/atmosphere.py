"""Gauge and absolute pressure: only ever through the atmosphere at the site."""

from __future__ import annotations

from dataclasses import dataclass

from tui.quantity.kinds import Kind, KindRefused
from tui.quantity.refused import Refused
from tui.quantity.show import show
from tui.quantity.value import Quantity

SEA_LEVEL = 101325.0
LOWEST, HIGHEST = -500.0, 9000.0
"""Altitudes in metres between which people service cabinets."""

_BAROMETER_LOWEST, _BAROMETER_HIGHEST = 30_000.0, 110_000.0
# ISO 2533:1975, clause 2 and table 1: lapse rate, sea-level temperature, gas constant, gravity.
_LAPSE, _SEA_LEVEL_K, _GAS_CONSTANT, _GRAVITY = 0.0065, 288.15, 287.05287, 9.80665


def standard_atmosphere(altitude_m: float) -> float:
    """Pressure in Pa at a geopotential altitude in metres, by the ISO 2533 standard atmosphere.

    Taken as the height above sea level (at 9,000 m the two differ by 13 m). Refused ``out-of-range``
    below -500 m and above 9,000 m.
    """
    if not LOWEST <= altitude_m <= HIGHEST:
        number = f"{altitude_m:,.0f}" if abs(altitude_m) < 1e12 else f"{altitude_m:g}"
        raise Refused("out-of-range", f"An altitude of {number} m is no place to service a cabinet.",
                      "Give the height above sea level, between -1,600 ft (-500 m) and 29,500 ft (9,000 m).")
    temperature = 1 - _LAPSE * altitude_m / _SEA_LEVEL_K
    return float(SEA_LEVEL * temperature ** (_GRAVITY / (_GAS_CONSTANT * _LAPSE)))


@dataclass(frozen=True)
class Atmosphere:
    """The air pressure at the site in Pa, and in words where it comes from."""

    pa: float = SEA_LEVEL
    source: str = "sea level, not set"

    @classmethod
    def from_altitude(cls, altitude: Quantity) -> Atmosphere:
        """From a height above sea level. Refused ``wrong-kind``, ``out-of-range``."""
        _must_be(altitude, Kind.LENGTH, "An altitude is a length, such as 300 ft or 90 m.")
        return cls(standard_atmosphere(altitude.si), f"altitude {show(altitude)}")

    @classmethod
    def from_barometer(cls, reading: Quantity) -> Atmosphere:
        """From a barometer's own reading at the site. Refused ``wrong-kind``, ``out-of-range``."""
        _must_be(reading, Kind.ABSOLUTE_PRESSURE, "A barometer reads such as 29.92 inHg or 1013 mbar.")
        if not _BAROMETER_LOWEST <= reading.si <= _BAROMETER_HIGHEST:
            raise Refused("out-of-range", f"{show(reading)} is no air pressure on this earth.",
                          "A barometer reads between 8.9 inHg (300 mbar) and 32.5 inHg (1100 mbar).")
        return cls(reading.si, f"barometer {show(reading)}")


def _must_be(value: Quantity, kind: Kind, cure: str) -> None:
    if value.kind is not kind:
        raise KindRefused(f"{show(value)} is {value.kind.named}; {kind.named} is wanted.", cure)


_ABSOLUTE = {"psig": "psia", "barg": "bara", "kPag": "kPa", "MPag": "kPa", "inHg vac": "psia"}
_GAUGE = {"psia": "psig", "bara": "barg", "kPa": "kPag", "mbar": "barg", "Pa": "kPag"}


def to_absolute(gauge: Quantity, atmosphere: Atmosphere) -> Quantity:
    """Absolute pressure of a gauge reading; its errors are carried.

    Refused ``out-of-range`` where it would be below a perfect vacuum at this site, ``wrong-kind``.
    """
    _must_be(gauge, Kind.GAUGE_PRESSURE, "Give what the gauge shows, such as 12 psig.")
    si = gauge.si + atmosphere.pa
    if si <= 0:
        raise Refused("out-of-range", f"{show(gauge)} is below a perfect vacuum: the air here"
                      f" ({atmosphere.source}) is {atmosphere.pa / 6894.757293168361:.2f} psia.",
                      "Read the gauge again, zero it, or check the altitude.")
    return Quantity(Kind.ABSOLUTE_PRESSURE, si, _ABSOLUTE.get(gauge.unit, ""), "", gauge.errors)


def to_gauge(absolute: Quantity, atmosphere: Atmosphere) -> Quantity:
    """Gauge pressure of an absolute one at this site; its errors are carried. Refused ``wrong-kind``."""
    _must_be(absolute, Kind.ABSOLUTE_PRESSURE, "Give an absolute pressure, such as 27 psia.")
    symbol = _GAUGE.get(absolute.unit, "psig" if absolute.unit else "")
    return Quantity(Kind.GAUGE_PRESSURE, absolute.si - atmosphere.pa, symbol, "", absolute.errors)
