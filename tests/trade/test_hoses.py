"""What hoses hold. Densities by the property library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Kind, Quantity, Refused


@pytest.mark.parametrize(
    ("bore", "millilitres", "cubic_inches"),
    [  # pi d^2 / 4 for one foot
        (3 / 16, 5.43, 0.331),  # H01
        (1 / 4, 9.65, 0.589),  # H02
        (5 / 16, 15.08, 0.920),  # H03
        (3 / 8, 21.72, 1.325),  # H04
        (1 / 2, 38.61, 2.356),  # H05
    ],
)
def test_volume_of_a_foot_of_hose(bore: float, millilitres: float, cubic_inches: float) -> None:
    found = work_out("hose-volume", "1 ft", f"{bore:.4f} in")
    assert found.to("mL") == pytest.approx(millilitres, abs=0.02)
    assert found.to("in3") == pytest.approx(cubic_inches, abs=0.001)


def test_five_feet_of_quarter_inch_full_of_liquid_r134a() -> None:
    """H07, 77 °F, 1206.7 kg/m3: 58.2 g within 1 %."""
    density = work_out("liquid-density", "77 °F", "R-134a")
    assert density.si == pytest.approx(1206.7, rel=0.001)
    assert (density * work_out("hose-volume", "5 ft", "0.25 in")).to("g") == pytest.approx(58.2, rel=0.01)


@pytest.mark.parametrize(("refrigerant", "grams"), [("R-134a", 58.2), ("R-404A", 50.4)])
def test_five_feet_of_quarter_inch_full_of_liquid(refrigerant: str, grams: float) -> None:
    """H07 and H08, at 77 °F, by the property library: within 1 %."""
    found = work_out("hose-of-liquid", "5 ft", "0.25 in", "77 °F", refrigerant)
    assert found.to("g") == pytest.approx(grams, rel=0.01)


def test_five_feet_of_quarter_inch_from_a_cylinder_of_r404a() -> None:
    """H08, 77 °F, 1044 kg/m3: 50.4 g within 1 %. A blend leaves its cylinder as liquid."""
    found = work_out("hose-from-cylinder", "5 ft", "0.25 in", "77 °F", "R-404A")
    assert found.to("g") == pytest.approx(50.4, rel=0.01)


def test_a_single_fluid_fills_the_hose_with_vapour() -> None:
    """28.75 kg/m3 at 70 °F saturation (H10, by the property library) times 48.26 mL (H02)."""
    found = work_out("hose-from-cylinder", "5 ft", "0.25 in", "70 °F", "R-134a")
    assert found.to("g") == pytest.approx(28.75 * 5 * 9.65e-3, rel=0.005)


def test_vapour_left_at_suction_pressure() -> None:
    """H12: R-134a at 0 psig and 70 °F is 4.319 g/L (by the property library).

    At 77 °F, as is taken here, it is 1.3 % less.
    """
    found = work_out("hose-holds", "5 ft", "0.25 in", "0 psig", "R-134a")
    assert found.to("g") == pytest.approx(4.319 * 5 * 9.65e-3, rel=0.02)
    assert found.errors["hose temperature"] < 0
    assert abs(found.errors["hose temperature"]) / found.si == pytest.approx(15 / 3**0.5 / 298, rel=0.1)


def test_a_hose_that_would_hold_liquid_is_not_called_vapour() -> None:
    """R-134a saturates at 82 psig at 77 °F."""
    with pytest.raises(Refused) as refused:
        ask("hose-holds", "5 ft", "0.25 in", "90 psig", "R-134a")
    assert refused.value.code == "not-vapour"


@pytest.mark.parametrize(("length", "bore"), [("0 ft", "0.25 in"), ("5 ft", "0 in"), ("-5 ft", "0.25 in")])
def test_no_hose_is_refused(length: str, bore: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("hose-volume", length, bore)
    assert refused.value.code == "out-of-range"


def test_a_bore_known_to_a_sixteenth_is_a_volume_known_badly() -> None:
    """dV/V = 2 dd/d: half of 1/16 in on 7/32 in is 29 % half-width."""
    found = work_out("hose-volume", "5 ft", unsure("0.21875 in", "bore", "0.03125 in"))
    assert found.u * 3**0.5 / found.si == pytest.approx(2 * 0.03125 / 0.21875, rel=1e-9)


@given(
    feet=st.floats(0.5, 20.0),
    inches=st.floats(0.1, 0.5),
    psig=st.floats(-8.0, 40.0),
    more=st.floats(0.1, 5.0),
)
def test_longer_or_at_more_pressure_holds_more(feet: float, inches: float, psig: float, more: float) -> None:
    length, bore = Quantity.of(feet, "ft"), Quantity.of(inches, "in")
    suction, above = Quantity.of(psig, "psig"), Quantity.of(psig + more, "psig")
    once = work_out("hose-holds", length, bore, suction, "R-290")
    assert once.kind is Kind.MASS
    assert work_out("hose-holds", length * 2, bore, suction, "R-290").si == pytest.approx(2 * once.si)
    assert work_out("hose-holds", length, bore * 2, suction, "R-290").si == pytest.approx(4 * once.si)
    assert work_out("hose-holds", length, bore, above, "R-290").si > once.si


def test_volume_and_density_share_nothing_but_the_hose() -> None:
    """One tape for length, one table for density: both errors reach the mass, in their shares."""
    length = unsure("5 ft", "tape", "0.1 ft")
    found = work_out("hose-from-cylinder", length, "0.25 in", unsure("77 °F", "air probe", "1 dF"), "R-404A")
    assert found.errors["tape"] / found.si == pytest.approx(0.1 / 5 / 3**0.5)
    assert found.errors["air probe"] < 0
    assert found.errors["density:R-404A"] > 0
