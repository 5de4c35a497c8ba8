"""Nitrogen at constant volume."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import site_at, unsure, work_out
from tui.quantity import Atmosphere, Quantity, parse_literal, to_absolute
from tui.trade.nitrogen import ideal_pressure


def ideal_psig(psig: float, then: str, now: str) -> float:
    absolute = to_absolute(Quantity.of(psig, "psig"), Atmosphere()).si
    later = ideal_pressure(absolute, parse_literal(then).si, parse_literal(now).si)
    return (later - Atmosphere().pa) / Quantity.of(1, "psi").si


@pytest.mark.parametrize(
    ("psig", "then", "now", "expected"),
    [  # P1/T1 = P2/T2, absolute
        (150, "95 °F", "75 °F", 144.06),  # N01; published "approximately 144" (common practice)
        (150, "80 °F", "70 °F", 146.95),  # N03, set-up common practice
        (150, "70 °F", "95 °F", 157.77),  # N04, Gay-Lussac
        (500, "80 °F", "70 °F", 490.46),  # N06, ideal side
    ],
)
def test_the_pocket_rule(psig: float, then: str, now: str, expected: float) -> None:
    assert ideal_psig(psig, then, now) == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(
    ("psig", "then", "now", "below_ideal"),
    [("150 psig", "95 °F", "75 °F", 0.15), ("500 psig", "80 °F", "70 °F", 0.78)],
)
def test_real_nitrogen_falls_further_than_the_pocket_rule(
    psig: str, then: str, now: str, below_ideal: float
) -> None:
    """N11, nitrogen equation of state."""
    real = work_out("nitrogen-expected", psig, then, now).to("psig")
    assert ideal_psig(parse_literal(psig).to("psig"), then, now) - real == pytest.approx(
        below_ideal, abs=0.02
    )


def test_five_hundred_pounds_ten_degrees_colder() -> None:
    """N06: real gas 489.68 psig, by the nitrogen equation of state."""
    assert work_out("nitrogen-expected", "500 psig", "80 °F", "70 °F").to("psig") == pytest.approx(
        489.68, abs=0.05
    )


def test_a_tight_circuit_has_not_fallen() -> None:
    """N06: 500 psig show 489.68 psig 10 °F colder; by the ideal law, 490.46, that looks like a leak (N11: 0.78 psi)."""
    tight = work_out("nitrogen-fall", "500 psig", "80 °F", "70 °F", "489.68 psig")
    assert tight.to("psi") == pytest.approx(0, abs=0.05)
    ideal = work_out("nitrogen-fall", "500 psig", "80 °F", "70 °F", "490.46 psig")
    assert ideal.to("psi") == pytest.approx(-0.78, abs=0.02)


def test_one_gauge_in_both_looks_cancels_but_not_what_it_drifted() -> None:
    then, now = unsure("150 psig", "gauge", "0.5 psi"), unsure("145 psig", "gauge", "0.5 psi")
    same = work_out("nitrogen-fall", then, "80 °F", "80 °F", now)
    drifted = work_out("nitrogen-fall", then, "80 °F", "80 °F", unsure("145 psig", "gauge later", "0.5 psi"))
    assert same.to("psi") == pytest.approx(5)
    assert same.u < drifted.u / 50
    assert drifted.u == pytest.approx(2**0.5 * 0.5 * Quantity.of(1, "psi").si / 3**0.5, rel=0.01)


def test_gauge_and_fahrenheit_are_never_divided() -> None:
    """N07: 150 x 70/80 = 131.25 psig is the mistake; N03 has the right one."""
    found = work_out("nitrogen-expected", "150 psig", "80 °F", "70 °F").to("psig")
    assert found == pytest.approx(146.95, abs=0.15)
    assert abs(found - 131.25) > 15


def test_slope_near_a_common_test() -> None:
    """N08: 0.305 psi/°F at 150 psig near 80 °F by the ideal law; a UFGS guide specification allows 0.3."""
    ideal = ideal_psig(150, "80 °F", "81 °F") - 150
    real = work_out("nitrogen-expected", "150 psig", "80 °F", "81 °F").to("psig") - 150
    assert ideal == pytest.approx(0.305, abs=0.002)
    assert real == pytest.approx(0.3, abs=0.02)


def test_the_altitude_matters_to_the_expected_pressure() -> None:
    low = work_out("nitrogen-expected", "100 psig", "95 °F", "75 °F")
    high = work_out("nitrogen-expected", "100 psig", "95 °F", "75 °F", site=site_at("5000 ft"))
    assert 0.05 < (high - low).to("psi") < 0.15


def test_one_thermometer_in_both_readings_nearly_cancels() -> None:
    """Off by the same amount both times, only the difference of two slopes is left."""
    then, now = unsure("95 °F", "air probe", "1 dF"), unsure("75 °F", "air probe", "1 dF")
    same = work_out("nitrogen-expected", "150 psig", then, now)
    other = work_out("nitrogen-expected", "150 psig", then, unsure("75 °F", "other probe", "1 dF"))
    assert same.u < other.u / 20
    assert other.u == pytest.approx(2**0.5 * 0.305 * Quantity.of(1, "psi").si / 3**0.5, rel=0.05)


@given(
    psig=st.floats(5.0, 500.0),
    then=st.floats(20.0, 110.0),
    now=st.floats(20.0, 110.0),
    warmer=st.floats(0.1, 10.0),
)
def test_there_and_back_and_warmer_is_more(psig: float, then: float, now: float, warmer: float) -> None:
    start, was, later = Quantity.of(psig, "psig"), Quantity.of(then, "°F"), Quantity.of(now, "°F")
    there = work_out("nitrogen-expected", start, was, later)
    assert work_out("nitrogen-expected", there, later, was).si == pytest.approx(start.si, abs=0.1)
    assert work_out("nitrogen-expected", start, was, later + Quantity.of(warmer, "dF")).si > there.si
