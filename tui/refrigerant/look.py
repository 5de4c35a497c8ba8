"""One door for the walk: a property by the name the trees use, with its slopes and its model error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tui.quantity import Refused
from tui.refrigerant import gas, saturation
from tui.refrigerant.facts import law_gwp
from tui.refrigerant.table import Table, table

# Relative half-widths of density errors. By how the table is made: our judgement of the equations' own error,
# and the tables' (0.24 %, measured by the tests). Near its top vapour bends: (within K, how much more).
_DENSITY_ERROR = {"pure": 0.004, "pseudo-pure": 0.01, "mixture": 0.01, "estimated": 0.02}
_NEAR_TOP = ((5.0, 0.015), (20.0, 0.005))


@dataclass(frozen=True, slots=True)
class Look:
    """A property found. All in SI (K, Pa absolute, kg/m3).

    slopes: d value / d each argument, in the order asked.
    error: half-width of the model's own error in ``value``.
    """

    value: float
    slopes: tuple[float, ...]
    error: float


def look(name: str, refrigerant: str, *xs: float) -> Look:
    """A property by its name in the trees; ``refrigerant`` is an id.

    ``dew-temperature bubble-temperature mid-temperature`` of a pressure; ``dew-pressure bubble-pressure
    mid-pressure saturated-vapour-density liquid-density`` of a temperature; ``vapour-density`` of both;
    ``molar-mass gas-viscosity law-gwp`` of nothing.
    Raises Refused ``no-such-property`` for another name or number of arguments, and as ``saturation`` does.
    """
    found = _LOOKS.get((name, len(xs)))
    if found is None:
        names = ", ".join(n for n, _ in _LOOKS)
        what = f"There is no property {name} of {len(xs)} values."
        raise Refused("no-such-property", what, f"There are: {names}.")
    return found(refrigerant, *xs)


def _dew_temperature(refrigerant: str, pa: float) -> Look:
    t = table(refrigerant)
    value, slope = saturation.line_temperature(t, t.dew, pa)
    return Look(value, (slope,), t.error_K)


def _bubble_temperature(refrigerant: str, pa: float) -> Look:
    t = table(refrigerant)
    value, slope = saturation.line_temperature(t, t.bubble, pa)
    return Look(value, (slope,), t.error_K)


def _mid_temperature(refrigerant: str, pa: float) -> Look:
    value, slope = saturation.mid_with_slope(refrigerant, pa)
    return Look(value, (slope,), table(refrigerant).error_K)


def _dew_pressure(refrigerant: str, kelvin: float) -> Look:
    t = table(refrigerant)
    value, slope = saturation.line_pressure(t, t.dew, kelvin)
    return Look(value, (slope,), t.error_K * slope)


def _bubble_pressure(refrigerant: str, kelvin: float) -> Look:
    t = table(refrigerant)
    value, slope = saturation.line_pressure(t, t.bubble, kelvin)
    return Look(value, (slope,), t.error_K * slope)


def _mid_pressure(refrigerant: str, kelvin: float) -> Look:
    value = saturation.mid_pressure(refrigerant, kelvin)
    slope = 1.0 / saturation.mid_with_slope(refrigerant, value)[1]
    return Look(value, (slope,), table(refrigerant).error_K * slope)


def _saturated_vapour_density(refrigerant: str, kelvin: float) -> Look:
    saturation.saturated_vapour_density(refrigerant, kelvin)  # refuses what lies outside
    t = table(refrigerant)
    value, slope = t.saturated_vapour(kelvin)
    return Look(value, (slope,), value * _density_error(t, kelvin))


def _liquid_density(refrigerant: str, kelvin: float) -> Look:
    value = saturation.liquid_density(refrigerant, kelvin)
    t = table(refrigerant)
    return Look(value, (t.along(t.liquid, kelvin)[1],), value * _density_error(t, kelvin))


def _vapour_density(refrigerant: str, pa: float, kelvin: float) -> Look:
    value = saturation.vapour_density(refrigerant, pa, kelvin)
    t = table(refrigerant)
    # Wide steps: the grid is made of flat pieces; a step inside one piece would tell that piece's slope only.
    lower, upper = 0.97 * pa, min(1.03 * pa, t.dew.pressure(kelvin)[0])
    by_pressure = (t.vapour_density(upper, kelvin) - t.vapour_density(lower, kelvin)) / (upper - lower)
    cold, warm = max(kelvin - 1.0, t.low_K), min(kelvin + 1.0, t.high_K)
    near = min(pa, t.dew.pressure(cold)[0])  # at dew a step to the cold would leave the vapour
    by_kelvin = (t.vapour_density(near, warm) - t.vapour_density(near, cold)) / (warm - cold)
    return Look(value, (by_pressure, by_kelvin), value * _density_error(t, kelvin))


def _molar_mass(refrigerant: str) -> Look:
    value, error = gas.molar_mass(refrigerant)
    return Look(value, (), error)


def _gas_viscosity(refrigerant: str) -> Look:
    value, error = gas.viscosity(refrigerant)
    return Look(value, (), error)


def _law_gwp(refrigerant: str) -> Look:
    return Look(law_gwp(refrigerant).value, (), 0.0)  # the law fixes it: it has no error


def _density_error(found: Table, kelvin: float) -> float:
    """Relative half-width of a density's error."""
    nearer = (more for within, more in _NEAR_TOP if found.high_K - kelvin < within)
    return _DENSITY_ERROR[found.made] + next(nearer, 0.0)


_LOOKS: dict[tuple[str, int], Callable[..., Look]] = {
    ("dew-temperature", 1): _dew_temperature,
    ("bubble-temperature", 1): _bubble_temperature,
    ("mid-temperature", 1): _mid_temperature,
    ("dew-pressure", 1): _dew_pressure,
    ("bubble-pressure", 1): _bubble_pressure,
    ("mid-pressure", 1): _mid_pressure,
    ("saturated-vapour-density", 1): _saturated_vapour_density,
    ("liquid-density", 1): _liquid_density,
    ("vapour-density", 2): _vapour_density,
    ("molar-mass", 0): _molar_mass,
    ("gas-viscosity", 0): _gas_viscosity,
    ("law-gwp", 0): _law_gwp,
}
