"""Every refusal says which limit was crossed, in °F and °C or in psia and bara, and what would be right."""

from __future__ import annotations

import math

import pytest

from tests.refrigerant.units import ATM, fahrenheit
from tui import refrigerant as r
from tui.quantity import Refused
from tui.refrigerant.table import table

PRESSURE_LOOKS = (r.dew_temperature, r.bubble_temperature, r.mid_temperature)
TEMPERATURE_LOOKS = (
    r.dew_pressure, r.bubble_pressure, r.mid_pressure, r.liquid_density, r.saturated_vapour_density,
)  # fmt: skip
NO_PRESSURE = (0.0, -1.0, -2 * ATM, math.nan, math.inf, -math.inf)
NO_TEMPERATURE = (0.0, -1.0, math.nan, math.inf, -math.inf)


def refusal(call: object, *arguments: object) -> Refused:
    with pytest.raises(Refused) as refused:
        call(*arguments)  # type: ignore[operator]
    assert refused.value.message
    assert refused.value.cure
    return refused.value


@pytest.mark.parametrize("look", PRESSURE_LOOKS)
@pytest.mark.parametrize("pa", NO_PRESSURE)
def test_no_pressure(look: object, pa: float) -> None:
    found = refusal(look, "R-134a", pa)
    assert found.code == "not-a-pressure"
    assert "psia" in found.message
    assert "bara" in found.message


@pytest.mark.parametrize("look", TEMPERATURE_LOOKS)
@pytest.mark.parametrize("kelvin", NO_TEMPERATURE)
def test_no_temperature(look: object, kelvin: float) -> None:
    assert refusal(look, "R-134a", kelvin).code == "not-a-temperature"


@pytest.mark.parametrize("name", r.ids())
@pytest.mark.parametrize("look", PRESSURE_LOOKS)
def test_outside_in_pressure(name: str, look: object) -> None:
    low = refusal(look, name, 0.99 * table(name).dew.low)
    high = refusal(look, name, 1.001 * table(name).bubble.high)
    assert low.code == ("below-triple-point" if name == "R-744" else "below-table")
    assert high.code in ("above-table", "supercritical")
    for found in (low, high):
        assert found.message.startswith(name)
        assert all(unit in found.message for unit in ("°F", "°C", "psia", "bara"))


@pytest.mark.parametrize("name", r.ids())
@pytest.mark.parametrize("look", TEMPERATURE_LOOKS)
def test_outside_in_temperature(name: str, look: object) -> None:
    low = refusal(look, name, table(name).low_K - 0.01)
    high = refusal(look, name, table(name).high_K + 0.01)
    assert low.code == ("below-triple-point" if name == "R-744" else "below-table")
    assert high.code in ("above-table", "supercritical")
    for found in (low, high):
        assert all(unit in found.message for unit in ("°F", "°C", "psia", "bara"))


def test_carbon_dioxide_above_31_c() -> None:
    for found in (refusal(r.dew_temperature, "R-744", 80e5), refusal(r.bubble_pressure, "R-744", 305.0)):
        assert found.code == "supercritical"
        assert "there is no condensing temperature" in found.message
        assert "87.8 °F (31.0 °C)" in found.message


# What the property library answers without an error, and nonsense: none of it comes out here.
TRAPS = [
    ("R-744", r.dew_temperature, 0.5 * ATM, "below-triple-point"),
    ("R-744", r.dew_temperature, 2.59e5, "below-triple-point"),
    ("R-744", r.dew_pressure, 200.0, "below-triple-point"),
    ("R-454C", r.dew_temperature, 46e5, "above-table"),
    ("R-410A", r.dew_temperature, 60e5, "supercritical"),
    ("R-410A", r.dew_pressure, 350.0, "supercritical"),
    ("R-134a", r.dew_pressure, fahrenheit(-110), "below-table"),
    ("R-134a", r.bubble_pressure, fahrenheit(220), "supercritical"),
]


@pytest.mark.parametrize(("name", "look", "value", "code"), TRAPS)
def test_traps_are_refused(name: str, look: object, value: float, code: str) -> None:
    assert refusal(look, name, value).code == code


def test_a_vapour_density_above_dew() -> None:
    kelvin = fahrenheit(70)
    found = refusal(r.vapour_density, "R-134a", 1.02 * r.dew_pressure("R-134a", kelvin), kelvin)
    assert found.code == "not-vapour"
    assert "70.0 °F (21.1 °C)" in found.message
    assert "85.8 psia (5.92 bara)" in found.message


@pytest.mark.parametrize("pa", NO_PRESSURE)
def test_a_vapour_density_of_no_pressure(pa: float) -> None:
    assert refusal(r.vapour_density, "R-134a", pa, 290.0).code == "not-a-pressure"


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ((0.0, 290.0, 280.0), "not-a-pressure"),
        ((math.nan, 290.0, 280.0), "not-a-pressure"),
        ((11e6, 290.0, 280.0), "above-table"),
        ((1e6, 0.0, 280.0), "not-a-temperature"),
        ((1e6, 290.0, -5.0), "not-a-temperature"),
        ((1e6, 290.0, 200.0), "below-table"),
        ((1e6, 400.0, 290.0), "above-table"),
    ],
)
def test_nitrogen(arguments: tuple[float, float, float], code: str) -> None:
    found = refusal(r.nitrogen_pressure, *arguments)
    assert found.code == code
    assert found.message.startswith("Nitrogen")


NO_PROPERTY = [("dew-point", 1e5), ("dew-temperature", 1e5, 290.0), ("vapour-density", 1e5)]


@pytest.mark.parametrize("arguments", NO_PROPERTY)
def test_no_such_property(arguments: tuple[object, ...]) -> None:
    name, *xs = arguments
    found = refusal(r.look, name, "R-134a", *xs)
    assert found.code == "no-such-property"
    assert "dew-temperature" in found.cure


def test_what_is_no_id_is_a_mistake_of_the_program() -> None:
    with pytest.raises(KeyError):
        r.dew_temperature("r134a", ATM)


@pytest.mark.parametrize("name", ["../facts", "R-134a/../R-22", "nitrogen"])
def test_an_id_never_becomes_a_path(name: str) -> None:
    with pytest.raises(KeyError):
        r.dew_temperature(name, ATM)
