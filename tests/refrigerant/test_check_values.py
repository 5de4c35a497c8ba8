"""Published and recomputed saturation, density and nitrogen figures.

Each row: id, refrigerant, argument, expected, tolerance. "CoolProp" figures were computed with it (8.0.0),
apart from the tables; what they stand for (a rule, a paragraph) is named with them.
"""

from __future__ import annotations

import pytest

from tests.refrigerant.units import ATM, PSI, fahrenheit, from_psig, in_fahrenheit, psig
from tui import refrigerant as r
from tui.quantity import Refused

# Saturated liquid at 104 °F in psia: 40 CFR 82.152 sorts refrigerants into pressure classes by it.
PRESSURE_CLASS = [
    ("E31", "R-134a", 147.4, 0.5),
    ("E32", "R-404A", 265.4, 1.0),
    ("E33", "R-410A", 351.8, 1.0),
    ("E34", "R-32", 359.5, 1.0),
    ("E36", "R-507A", 271.2, 1.0),
    ("E36", "R-407C", 253.7, 1.0),
    ("E36", "R-22", 222.4, 1.0),
]


@pytest.mark.parametrize(("row", "name", "psia", "tolerance"), PRESSURE_CLASS)
def test_pressure_class_at_104_f(row: str, name: str, psia: float, tolerance: float) -> None:
    assert r.bubble_pressure(name, fahrenheit(104)) / PSI == pytest.approx(psia, abs=tolerance), row


def test_e35_carbon_dioxide_has_no_saturation_at_104_f() -> None:
    """E35: its critical temperature is 87.8 °F (CoolProp), so 104 °F lies above it: very high pressure."""
    with pytest.raises(Refused) as refused:
        r.bubble_pressure("R-744", fahrenheit(104))
    assert refused.value.code == "supercritical"
    assert "87.8 °F" in refused.value.message


# °F to psig on the dew line; figures from CoolProp. S28/S29: ASHRAE 15 clause 9.2.1 (from memory) asks for
# design pressures of at least saturation at 80 °F (low side) and 122 °F (air-cooled high side).
DEW = [
    ("R06", "R-134a", -10, 1.94, 0.2),
    ("R06", "R-134a", 85, 95.24, 0.2),
    ("R22", "R-134a", 95, 114.0, 1.0),
    ("R22", "R-134a", 110, 146.4, 1.0),
    ("R28", "R-134a", 20, 18.43, 0.1),
    ("R28", "R-134a", 25, 22.10, 0.1),
    ("R29", "R-404A", 25, 62.07, 0.3),
    ("R29", "R-404A", 20, 55.30, 0.3),
    ("R29", "R-404A", -20, 16.01, 0.3),
    ("R29", "R-404A", -10, 23.62, 0.3),
    ("R30", "R-290", 15, 36.31, 0.1),
    ("R30", "R-290", 20, 41.14, 0.1),
    ("R30", "R-290", 25, 46.30, 0.1),
    ("R30", "R-290", 0, 23.69, 0.1),
    ("R30", "R-290", -20, 10.73, 0.1),
    ("R31", "R-600a", 20, 3.16, 0.1),
    ("R31", "R-600a", 0, -3.16, 0.1),
    ("R31", "R-600a", -20, -7.58, 0.1),
    ("R33", "R-290", 105, 186.5, 0.3),
    ("R33", "R-134a", 105, 135.0, 0.3),
    ("R57", "R-134a", 75, 78.65, 0.2),
    ("H14", "R-134a", 70, 71.11, 0.3),
    ("H14", "R-290", 70, 110.2, 0.3),
    ("H14", "R-600a", 70, 30.6, 0.3),
    ("S28", "R-134a", 80, 86.7, 1.0),
    ("S28", "R-290", 80, 129.3, 1.0),
    ("S28", "R-600a", 80, 38.7, 1.0),
    ("S29", "R-134a", 122, 176.5, 1.0),
    ("S29", "R-290", 122, 233.8, 1.0),
    ("S29", "R-600a", 122, 84.6, 1.0),
]


@pytest.mark.parametrize(("row", "name", "degrees", "expected", "tolerance"), DEW)
def test_dew_pressure(row: str, name: str, degrees: float, expected: float, tolerance: float) -> None:
    assert psig(r.dew_pressure(name, fahrenheit(degrees))) == pytest.approx(expected, abs=tolerance), row


# °F to psig on the bubble line; CoolProp, R-404A as the pseudo-pure fluid.
BUBBLE = [
    ("R32", "R-404A", 90, 204.5, 0.5),
    ("R32", "R-404A", 105, 254.2, 0.5),
    ("H14", "R-404A", 70, 149.3, 0.3),
    ("S28", "R-404A", 80, 175.4, 1.0),
    ("S29", "R-404A", 122, 320.5, 1.0),
]


@pytest.mark.parametrize(("row", "name", "degrees", "expected", "tolerance"), BUBBLE)
def test_bubble_pressure(row: str, name: str, degrees: float, expected: float, tolerance: float) -> None:
    assert psig(r.bubble_pressure(name, fahrenheit(degrees))) == pytest.approx(expected, abs=tolerance), row


@pytest.mark.parametrize(("gauge", "degrees"), [(1.8, -10.3), (95.0, 84.9)])
def test_r06_temperature_at_a_pressure(gauge: float, degrees: float) -> None:
    """R06: R-134a, CoolProp, within 0.2 °F."""
    assert in_fahrenheit(r.dew_temperature("R-134a", from_psig(gauge))) == pytest.approx(degrees, abs=0.2)


@pytest.mark.parametrize(("name", "psi"), [("R-407C", 23), ("R-448A", 25), ("R-454C", 31), ("R-455A", 50)])
def test_h14_a_zeotrope_stands_in_a_band(name: str, psi: float) -> None:
    """H14: bubble minus dew at 70 °F, CoolProp mixture model, printed to whole psi."""
    kelvin = fahrenheit(70)
    band = (r.bubble_pressure(name, kelvin) - r.dew_pressure(name, kelvin)) / PSI
    assert band == pytest.approx(psi, abs=1.0)


# °F to kg/m3; CoolProp. H07, H08: liquid in a hose; H10: saturated vapour; H12, H13: vapour at 0 psig.
@pytest.mark.parametrize(("row", "name", "expected"), [("H07", "R-134a", 1206.7), ("H08", "R-404A", 1044.0)])
def test_liquid_density_at_77_f(row: str, name: str, expected: float) -> None:
    assert r.liquid_density(name, fahrenheit(77)) == pytest.approx(expected, rel=0.002), row


@pytest.mark.parametrize(("row", "name", "grams"), [("H07", "R-134a", 58.2), ("H08", "R-404A", 50.4)])
def test_liquid_in_five_feet_of_quarter_inch_bore(row: str, name: str, grams: float) -> None:
    millilitres = 5 * 9.65  # H02: pi d2 / 4, 9.65 mL a foot
    assert r.liquid_density(name, fahrenheit(77)) * millilitres / 1000 == pytest.approx(grams, rel=0.01), row


def test_h10_vapour_alone_in_two_litres() -> None:
    density = r.saturated_vapour_density("R-134a", fahrenheit(70))
    assert density == pytest.approx(28.75, rel=0.001)
    assert density * 2 == pytest.approx(57.5, rel=0.01)


@pytest.mark.parametrize(
    ("row", "name", "expected", "tolerance"),
    [
        ("H12", "R-134a", 4.319, 0.005),
        ("H13", "R-290", 1.858, 0.005),
        ("H13", "R-600a", 2.476, 0.005),
        ("H13", "R-404A", 4.115, 0.005),
    ],
)
def test_vapour_of_a_flat_system_at_70_f(row: str, name: str, expected: float, tolerance: float) -> None:
    found = r.vapour_density(name, ATM, fahrenheit(70))
    assert found == pytest.approx(expected, rel=tolerance), row


def nitrogen(gauge: float, degrees: float, later: float) -> float:
    return psig(r.nitrogen_pressure(from_psig(gauge), fahrenheit(degrees), fahrenheit(later)))


def ideal(gauge: float, degrees: float, later: float) -> float:
    """Gay-Lussac in absolute units: N01, N03, N04 and the ideal half of N06 are figures of this."""
    return psig(from_psig(gauge) * fahrenheit(later) / fahrenheit(degrees))


def test_n06_real_nitrogen_at_500_psig() -> None:
    """N06: nitrogen's equation of state gives 489.68 psig, the ideal gas 490.46; ours within 0.02 psi."""
    assert nitrogen(500, 80, 70) == pytest.approx(489.68, abs=0.02)
    assert ideal(500, 80, 70) == pytest.approx(490.46, abs=0.05)


@pytest.mark.parametrize(
    ("row", "start", "degrees", "later", "expected"),
    [("N01", 150, 95, 75, 144.06), ("N03", 150, 80, 70, 146.95), ("N04", 150, 70, 95, 157.77)],
)
def test_ideal_gas_figures_stay_the_ideal_ones(
    row: str, start: float, degrees: float, later: float, expected: float
) -> None:
    """N01, N03, N04 (P1/T1 = P2/T2): real gas lies beside them, by up to 0.3 psi, and not by none."""
    assert ideal(start, degrees, later) == pytest.approx(expected, abs=0.05), row
    assert 0.01 < abs(nitrogen(start, degrees, later) - expected) < 0.3, row


def test_n11_what_the_ideal_law_gets_wrong() -> None:
    """N11: CoolProp nitrogen, constant volume: ideal lies 0.15 psi over real at 150 psig, 0.78 at 500."""
    assert ideal(150, 95, 75) - nitrogen(150, 95, 75) == pytest.approx(0.15, abs=0.02)
    assert ideal(500, 80, 70) - nitrogen(500, 80, 70) == pytest.approx(0.78, abs=0.02)


def test_n07_gauge_and_fahrenheit_ratio_is_not_what_comes_out() -> None:
    """N07: 131.25 psig would be the mistake of taking gauge pressure and °F as ratios."""
    assert abs(nitrogen(150, 80, 70) - 131.25) > 15


def test_n08_slope_close_to_80_f() -> None:
    """N08: 0.305 psi/°F ideal at 150 psig; the guide specification UFGS 15182 allows 0.3 psi/°F."""
    slope = nitrogen(150, 80, 81) - 150
    assert ideal(150, 80, 81) - 150 == pytest.approx(0.305, abs=0.002)
    assert slope == pytest.approx(0.31, abs=0.01)


def test_n09_relative_slope_close_to_20_c() -> None:
    """N09: 1/T = 0.341 %/K at 20 °C for an ideal gas, about 0.34 % in common practice."""
    start = 2 * ATM
    assert r.nitrogen_pressure(start, 293.15, 294.15) / start - 1 == pytest.approx(0.00341, abs=0.00005)


def test_nitrogen_at_the_same_temperature_keeps_its_pressure() -> None:
    assert nitrogen(500, 75, 75) == pytest.approx(500, abs=1e-6)
