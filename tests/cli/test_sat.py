"""The saturation look-up. Figures: R-134a saturates at -26.07 °C under 101.325 kPa (NIST WebBook)."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Command
from tests.cli.shapes import SAT, shaped


def test_a_pressure_gives_temperatures(lowside: Command) -> None:
    done = lowside("sat", "R-134a", "0 psig", "--json")
    assert done.code == 0
    found = shaped(done.out, SAT)
    assert found["refrigerant"] == "R-134a"
    assert found["dew"]["degC"] == pytest.approx(-26.07, abs=0.05)
    assert found["dew"]["degF"] == pytest.approx(-26.07 * 1.8 + 32, abs=0.09)
    assert found["estimated"] is False


def test_a_temperature_gives_pressures(lowside: Command) -> None:
    found = shaped(lowside("sat", "r134a", "-26.07 C", "--json").out, SAT)
    assert found["bubble"]["bara"] == pytest.approx(1.01325, abs=0.004)
    assert found["bubble"]["psig"] == pytest.approx(0, abs=0.06)


def test_a_blend_has_both_lines(lowside: Command) -> None:
    found = shaped(lowside("sat", "448A", "15", "psig", "--json").out, SAT)
    assert found["dew"]["degC"] > found["bubble"]["degC"] + 4
    assert "bubble" in lowside("sat", "448A", "15 psig").out


@pytest.mark.parametrize("arguments", [("R-404A", "-10F"), ("--json", "R-404A", "-10", "F"), ("R-404A", "-23.3°C")])
def test_a_value_below_zero_is_a_value(lowside: Command, arguments: tuple[str, ...]) -> None:
    done = lowside("sat", *arguments)
    assert done.code == 0, done.err
    assert "bara" in done.out


def test_absolute_pressures_need_no_altitude(lowside: Command) -> None:
    low, high = (lowside("sat", "R-134a", text, "--json").out for text in ("14.696 psia", "0 psig"))
    assert shaped(low, SAT)["dew"]["degC"] == pytest.approx(shaped(high, SAT)["dew"]["degC"], abs=0.001)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("R-134a", "15"), "no unit"),
        (("R-134a", "banana"), "no number"),
        (("R-134a", "5 amps"), "neither a pressure nor a temperature"),
        (("R-134a", "-500F"), "below absolute zero"),
        (("R-134a", "-40 psig"), "below a perfect vacuum"),
        (("R-744", "90F"), "supercritical"),
        (("R-134q", "15 psig"), "R-134a"),
        (("R-134a", "900 psig"), "above"),
    ],
)
def test_what_cannot_be_looked_up_is_refused(lowside: Command, arguments: tuple[str, str], says: str) -> None:
    done = lowside("sat", *arguments)
    assert done.code == 2
    assert says in done.err
    assert done.out == ""
