"""Molar masses and viscosities of gases, beside the property library and published figures."""

from __future__ import annotations

import CoolProp.CoolProp as library
import pytest

from tui import refrigerant as r
from tui.quantity import Refused
from tui.refrigerant.build.__main__ import main
from tui.refrigerant.build.viscosity import wilke
from tui.trade import TableProperties

# L30, L31: viscosities at 20 °C and 1 atm in uPa s (CoolProp 8.0.0), of which the published factors come.
VISCOSITY = [("nitrogen", 17.57), ("R-134a", 11.62)]


@pytest.mark.parametrize(("name", "expected"), VISCOSITY)
def test_l30_l31_viscosity(name: str, expected: float) -> None:
    assert r.viscosity(name)[0] * 1e6 == pytest.approx(expected, rel=0.001)


@pytest.mark.parametrize(
    ("name", "expected"),
    # L03-L05: molar masses in g/mol
    [("R-134a", 102.03), ("R-404A", 97.60), ("R-290", 44.10), ("R-600a", 58.12), ("R-744", 44.01), ("R-22", 86.47)],
)
def test_molar_mass(name: str, expected: float) -> None:
    assert r.molar_mass(name)[0] * 1000 == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("name", ["R-404A", "R-410A", "R-407C", "R-507A"])
def test_wilkes_rule_is_within_its_error_of_the_librarys_own_blends(name: str) -> None:
    fluid = name.replace("-", "")
    value, error = r.viscosity(name)
    assert value == pytest.approx(library.PropsSI("V", "T", 293.15, "P", 101325, fluid), abs=error)


def test_wilkes_rule_between_its_ends() -> None:
    one, other = (0.04, 1.8e-5), (0.1, 1.2e-5)
    assert wilke([(1.0, *one)]) == pytest.approx(1.8e-5)
    assert wilke([(0.5, *one), (0.5, *one)]) == pytest.approx(1.8e-5)
    assert 1.2e-5 < wilke([(0.5, *one), (0.5, *other)]) < 1.8e-5


@pytest.mark.parametrize("name", r.ids())
def test_every_refrigerant_has_a_viscosity_of_a_gas(name: str) -> None:
    value, error = r.viscosity(name)
    assert 6e-6 < value < 17e-6
    assert 0.0 < error < 0.1 * value


def test_a_guessed_component_is_told_by_a_wider_error() -> None:
    """The library has no viscosity of R-115 and R-142b."""
    usual = r.viscosity("R-404A")[1] / r.viscosity("R-404A")[0]
    for name in ("R-502", "R-409A"):
        assert r.viscosity(name)[1] / r.viscosity(name)[0] > 1.2 * usual


@pytest.mark.parametrize("name", ["library", "kelvin", "R-999"])
def test_what_is_no_gas_has_none(name: str) -> None:
    with pytest.raises(KeyError):
        r.viscosity(name)


def test_the_checked_in_viscosities_are_what_the_build_makes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--compare", "viscosity"]) == 0, capsys.readouterr().out
    assert "0 differ" in capsys.readouterr().out


def test_law_gwp_takes_the_newest_and_names_it() -> None:
    assert r.law_gwp("R-448A").value == pytest.approx(1386.0, abs=0.1)  # 2024/573 Annex II for the HFOs
    assert "2024/573" in r.law_gwp("R-448A").source
    assert r.law_gwp("R-22").value == 1810  # IPCC AR4, from memory
    assert "AR4" in r.law_gwp("R-22").source


@pytest.mark.parametrize(
    ("name", "expected"),
    [("R-134a", "no"), ("R-290", "no"), ("R-22", "all"), ("R-502", "all"), ("R-409A", "all"), ("R-401A", "in part")],
)
def test_ozone_depleting(name: str, expected: str) -> None:
    """40 CFR 82 Subpart A, Appendices A and B, from memory."""
    assert TableProperties().fact("ozone-depleting", name) == expected


def test_a_fact_nobody_has_is_refused_with_those_there_are() -> None:
    with pytest.raises(Refused) as refused:
        TableProperties().fact("colour", "R-134a")
    assert "safety-class" in refused.value.cure
