"""One door for the walk: a property by the name the trees use, with its slopes and its model error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tui.quantity.refused import Refused
from tui.refrigerant import saturation
from tui.refrigerant.table import table

# Relative half-widths of density errors: the equation of state's own, plus our table's; our judgement.
_DENSITY_ERROR = {"pure": 0.003, "pseudo-pure": 0.01, "mixture": 0.01, "estimated": 0.02}


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
    mid-pressure saturated-vapour-density liquid-density`` of a temperature; ``vapour-density`` of both.
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
    value = saturation.saturated_vapour_density(refrigerant, kelvin)
    t = table(refrigerant)
    return Look(value, (t.along(t.vapour, kelvin)[1],), value * _DENSITY_ERROR[t.made])


def _liquid_density(refrigerant: str, kelvin: float) -> Look:
    value = saturation.liquid_density(refrigerant, kelvin)
    t = table(refrigerant)
    return Look(value, (t.along(t.liquid, kelvin)[1],), value * _DENSITY_ERROR[t.made])


def _vapour_density(refrigerant: str, pa: float, kelvin: float) -> Look:
    value = saturation.vapour_density(refrigerant, pa, kelvin)
    t = table(refrigerant)
    lower = 0.999 * pa
    by_pressure = (value - t.vapour_density(lower, kelvin)) / (pa - lower)
    # A step towards the warm keeps a vapour a vapour; at the table's end it goes the other way.
    step = 0.01 if kelvin + 0.01 <= t.high_K else -0.01
    near = min(pa, t.dew.pressure(kelvin + step)[0])
    by_kelvin = (t.vapour_density(near, kelvin + step) - t.vapour_density(near, kelvin)) / step
    return Look(value, (by_pressure, by_kelvin), value * _DENSITY_ERROR[t.made])


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
}
