"""Saturation and density look-ups by refrigerant id. Pressures in Pa ABSOLUTE, temperatures in K, kg/m3.

Raises, all of them: KeyError for what is no id (``resolve`` first), Refused ``not-a-pressure``,
``not-a-temperature``, ``below-table``, ``above-table``, ``below-triple-point``, ``supercritical``;
nothing is ever extrapolated.
"""

from __future__ import annotations

from math import sqrt

from tui.refrigerant import refusal
from tui.refrigerant.table import Line, Table, table

# A gauge at saturation reads a hair over the table's dew pressure by rounding alone; that is still vapour.
_AT_DEW = 1.0 + 1e-6


def dew_temperature(refrigerant: str, pa: float) -> float:
    """Where the last drop boils away."""
    found = table(refrigerant)
    return line_temperature(found, found.dew, pa)[0]


def bubble_temperature(refrigerant: str, pa: float) -> float:
    """Where the first bubble forms."""
    found = table(refrigerant)
    return line_temperature(found, found.bubble, pa)[0]


def mid_temperature(refrigerant: str, pa: float) -> float:
    """Half way between bubble and dew at one pressure."""
    return mid_with_slope(refrigerant, pa)[0]


def dew_pressure(refrigerant: str, kelvin: float) -> float:
    """Pressure at which vapour of this temperature begins to condense."""
    found = table(refrigerant)
    return line_pressure(found, found.dew, kelvin)[0]


def bubble_pressure(refrigerant: str, kelvin: float) -> float:
    """Pressure at which liquid of this temperature begins to boil."""
    found = table(refrigerant)
    return line_pressure(found, found.bubble, kelvin)[0]


def mid_pressure(refrigerant: str, kelvin: float) -> float:
    """The pressure whose mid temperature this is; for a pure fluid its saturation pressure."""
    found = table(refrigerant)
    bubble_pa = line_pressure(found, found.bubble, kelvin)[0]
    if found.bubble is found.dew:
        return bubble_pa
    dew_pa = line_pressure(found, found.dew, kelvin)[0]
    # The mid of a pressure exists where both lines hold it; the bubble line ends higher, the dew line lower.
    low_pa, high_pa = found.bubble.low, found.dew.high
    low, high = mid_with_slope(refrigerant, low_pa)[0], mid_with_slope(refrigerant, high_pa)[0]
    if not low <= kelvin <= high:
        raise refusal.outside_mid(found, kelvin, (low, low_pa), (high, high_pa))
    pa = sqrt(bubble_pa * dew_pa)
    for _ in range(20):
        pa = min(max(pa, low_pa), high_pa)
        at, slope = mid_with_slope(refrigerant, pa)
        step = (kelvin - at) / slope
        pa += step
        if abs(step) < 1e-12 * pa:
            break
    return min(max(pa, low_pa), high_pa)


def saturated_vapour_density(refrigerant: str, kelvin: float) -> float:
    """Density of vapour at dew."""
    found = table(refrigerant)
    _check_kelvin(found, kelvin)
    return found.saturated_vapour(kelvin)[0]


def liquid_density(refrigerant: str, kelvin: float) -> float:
    """Density of liquid at bubble."""
    found = table(refrigerant)
    _check_kelvin(found, kelvin)
    return found.along(found.liquid, kelvin)[0]


def vapour_density(refrigerant: str, pa: float, kelvin: float) -> float:
    """Density of vapour at a pressure of at most dew. Also raises Refused ``not-vapour`` above it."""
    found = table(refrigerant)
    _check_kelvin(found, kelvin)
    if not 0.0 < pa < float("inf"):
        raise refusal.not_a_pressure(found.id, pa)
    dew_pa = found.dew.pressure(kelvin)[0]
    if pa > dew_pa * _AT_DEW:
        raise refusal.not_vapour(found.id, pa, kelvin, dew_pa)
    return found.vapour_density(min(pa, dew_pa), kelvin)


def mid_with_slope(refrigerant: str, pa: float) -> tuple[float, float]:
    """(mid temperature in K, its slope in K/Pa)."""
    found = table(refrigerant)
    bubble = line_temperature(found, found.bubble, pa)
    dew = line_temperature(found, found.dew, pa)
    return (bubble[0] + dew[0]) / 2, (bubble[1] + dew[1]) / 2


def line_temperature(found: Table, line: Line, pa: float) -> tuple[float, float]:
    """(T, dT/dp) on a line of a table, or Refused."""
    if line.low <= pa <= line.high:
        return line.temperature(pa)
    if not 0.0 < pa < float("inf"):
        raise refusal.not_a_pressure(found.id, pa)
    raise refusal.outside_pressure(found, line, pa)


def line_pressure(found: Table, line: Line, kelvin: float) -> tuple[float, float]:
    """(p, dp/dT) on a line of a table, or Refused."""
    _check_kelvin(found, kelvin)
    return line.pressure(kelvin)


def _check_kelvin(found: Table, kelvin: float) -> None:
    if not found.low_K <= kelvin <= found.high_K:
        raise refusal.outside_temperature(found, kelvin)
