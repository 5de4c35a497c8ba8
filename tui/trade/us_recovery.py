"""How far a circuit must be recovered in the US before it is opened: 40 CFR 82.156, Table 1."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused, parse_literal
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

CLASS_K = (104.0 + 459.67) / 1.8
"""82.152 sorts refrigerants by the pressure of their liquid at 104 °F."""

_PSI = 6894.757293168361
_INCH = 3386.3788
# 82.152 from memory: lower bounds in psia.
_MEDIUM, _HIGH, _VERY_HIGH = 45.0, 170.0, 355.0

STANDARD_ATMOSPHERE = 101325.0
"""Table 1 stands on 29.9 inHg, which is the standard atmosphere rounded."""

LARGE = parse_literal("200 lb").si
NEW_MACHINES = parse_literal("1993-11-15").si

# (class, large): inHg below the standard atmosphere, with a machine made before that day and since.
# `high` from 200 lb on is from memory; the others read in 82.156.
_LEVELS: dict[tuple[str, bool], tuple[float, float]] = {
    ("very high", False): (0.0, 0.0),
    ("very high", True): (0.0, 0.0),
    ("high", False): (0.0, 0.0),
    ("high", True): (4.0, 10.0),
    ("medium", False): (4.0, 10.0),
    ("medium", True): (4.0, 15.0),
}
_LOW = 25 * 133.322  # 25 mmHg absolute, any size, any machine


def pressure_class(properties: Properties, refrigerant: str) -> str:
    """``low``, ``medium``, ``high`` or ``very high`` by 82.152.

    A refrigerant whose critical point or table ends below 104 °F is very high. Raises Refused for one that
    is not carried.
    """
    try:
        psia = properties.look("bubble-pressure", refrigerant, CLASS_K).value / _PSI
    except Refused as refused:
        if refused.code in ("supercritical", "above-table"):
            return "very high"
        raise
    if psia > _VERY_HIGH:
        return "very high"
    if psia > _HIGH:
        return "high"
    return "medium" if psia >= _MEDIUM else "low"


def us_recovery_level(
    site: Site, properties: Properties, refrigerant: str, charge: Quantity, machine_made: Quantity
) -> Quantity:
    """Gauge pressure to recover down to before opening, on a gauge that reads zero in this site's air.

    `charge`: the full charge; `machine_made`: the day the recovery machine was made. Never above 0 psig: at
    altitude the table's 0 inHg would be a pressure that still blows. Not known here: small appliances (5 lb
    and less, hermetic: 80 or 90 % of the charge or 4 inHg do), circuits too leaky to reach the level, and
    openings that are no major repair; all of them ask for less than this. Refrigerants that may be
    vented in their use (R-290 in a plug-in cabinet) have a figure too. Raises Refused for a charge that
    isn't above zero and for a refrigerant that is not carried.
    """
    if charge.si <= 0.0:
        raise Refused("out-of-range", "The full charge must be above zero.", "Read the plate again.")
    sort = pressure_class(properties, refrigerant)
    if sort == "low":
        absolute = _LOW
    else:
        before, since = _LEVELS[sort, charge.si >= LARGE]
        inches = since if machine_made.si >= NEW_MACHINES else before
        absolute = STANDARD_ATMOSPHERE - inches * _INCH
    level = min(absolute - site.atmosphere.pa, 0.0)
    return Quantity(Kind.GAUGE_PRESSURE, level, "inHg vac" if level else "psig")


SUMS = (
    Sum(
        "us-recovery-level",
        (Kind.CHOICE, Kind.MASS, Kind.DATE),
        Kind.GAUGE_PRESSURE,
        "how far to recover before opening, by the US rule",
        "40 CFR 82.156 Table 1, classes by 82.152 (from memory)",
        us_recovery_level,
    ),
)
