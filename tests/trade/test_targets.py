"""Wanted suction and head. The published pressures stand in tests/published; those here are by the property library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import SEA_LEVEL, TABLES, ask, site_at, unsure, work_out
from tui.quantity import Kind, Quantity, Refused
from tui.refrigerant import Look
from tui.trade import SUMS

PURE = ("R-134a", "R-290", "R-600a")
GLIDING = ("R-448A", "R-449A", "R-454C", "R-455A", "R-407A")


@pytest.mark.parametrize(
    ("refrigerant", "box", "td", "psig", "within"),
    [
        ("R-134a", "40 °F", "20 dF", 18.43, 0.1),  # R28 at 20 °F; common practice: 20 dF below the box
        ("R-600a", "20 °F", "20 dF", -3.16, 0.1),  # R31 at 0 °F, in vacuum
    ],
)
def test_suction_for_the_box(refrigerant: str, box: str, td: str, psig: float, within: float) -> None:
    assert work_out("suction-for-box", box, td, refrigerant).to("psig") == pytest.approx(psig, abs=within)


def test_a_thermometer_in_the_box_moves_the_wanted_suction() -> None:
    """R28: 18.43 psig at 20 °F and 22.10 at 25 °F, 0.73 psi a degree."""
    found = work_out("suction-for-box", unsure("40 °F", "air probe", "1 dF"), "20 dF", "R-134a")
    assert found.errors["air probe"] * 3**0.5 / Quantity.of(1, "psi").si == pytest.approx(0.73, abs=0.05)


def test_the_everyday_case() -> None:
    """Common practice, no source: box 35 °F, TD 20 dF is about 15 psig; 75 °F air, split 30 dF about 135."""
    suction = work_out("suction-wanted", Quantity.of(35, "°F") - Quantity.of(20, "dF"), "R-134a")
    head = work_out("head-wanted", Quantity.of(75, "°F") + Quantity.of(30, "dF"), "R-134a")
    assert suction.to("psig") == pytest.approx(15, abs=0.5)
    assert head.to("psig") == pytest.approx(135, abs=0.5)


@pytest.mark.parametrize(("refrigerant", "wrong"), [("R-134a", 4.0), ("R-600a", 8.0)])
def test_five_thousand_feet_left_at_sea_level(refrigerant: str, wrong: float) -> None:
    """Common practice, 15 °F coil: charged to the sea-level gauge figure it boils 4 or 8 dF too cold."""
    suction = work_out("suction-wanted", "15 °F", refrigerant)
    coil = work_out("evaporating-temperature", suction, refrigerant, site=site_at("5000 ft"))
    assert (Quantity.of(15, "°F") - coil).to("dF") == pytest.approx(wrong, abs=0.5)


def test_altitude_moves_the_gauge_and_not_the_coil() -> None:
    high = site_at("5000 ft")
    low = work_out("suction-wanted", "15 °F", "R-448A")
    up = work_out("suction-wanted", "15 °F", "R-448A", site=high)
    assert up.si - low.si == pytest.approx(SEA_LEVEL.atmosphere.pa - high.atmosphere.pa, abs=1.0)


@pytest.mark.parametrize("refrigerant", GLIDING)
def test_wanted_suction_is_dew_at_a_third_of_the_glide_above(refrigerant: str) -> None:
    wanted = Quantity.of(15, "°F")
    suction = work_out("suction-wanted", wanted, refrigerant)
    third = work_out("glide", suction, refrigerant) / 3
    assert third.to("dF") > 3.0
    assert work_out("dew-pressure", wanted + third, refrigerant).si == pytest.approx(suction.si, rel=1e-6)


@given(
    refrigerant=st.sampled_from(PURE + GLIDING),
    kelvin=st.floats(240.0, 300.0),
    feet=st.integers(0, 9000),
)
def test_targets_and_their_inverses_come_back(refrigerant: str, kelvin: float, feet: int) -> None:
    """There and back, nothing is left: neither of the value nor of the property's own error."""
    site = site_at(f"{feet} ft")
    start = Quantity(Kind.TEMPERATURE, kelvin, errors={"air probe": 0.3})
    for there, back in (
        ("suction-wanted", "evaporating-temperature"),
        ("head-wanted", "condensing-temperature"),
        ("dew-pressure", "dew-temperature"),
        ("bubble-pressure", "bubble-temperature"),
    ):
        pressure = work_out(there, start, refrigerant, site=site)
        end = work_out(back, pressure, refrigerant, site=site)
        assert end.si == pytest.approx(kelvin, abs=2e-5)
        assert (end - start).u == pytest.approx(0.0, abs=2e-4)
        assert pressure.u > 0.0


@given(
    refrigerant=st.sampled_from(PURE + GLIDING),
    cold=st.floats(230.0, 300.0),
    step=st.floats(0.05, 10.0),
)
def test_a_warmer_coil_wants_more_pressure(refrigerant: str, cold: float, step: float) -> None:
    for name in ("suction-wanted", "head-wanted"):
        low, high = (
            work_out(name, Quantity(Kind.TEMPERATURE, kelvin), refrigerant) for kelvin in (cold, cold + step)
        )
        assert low.si < high.si


def test_a_blend_is_less_sure_than_a_single_fluid() -> None:
    """Where in the glide the coil's mean lies is not known well: the wider the glide, the less."""
    suction = unsure("40 psig", "low gauge", "0.5 psi")
    of_glide = work_out("evaporating-temperature", suction, "R-455A").errors["coil mean:R-455A"]
    glide = work_out("glide", suction, "R-455A").si
    assert of_glide == pytest.approx(glide / 7 / 3**0.5)
    assert "coil mean:R-134a" not in work_out("evaporating-temperature", suction, "R-134a").errors


@pytest.mark.parametrize(
    ("name", "at", "code"),
    [
        ("head-wanted", "100 °F", "supercritical"),
        ("suction-wanted", "-150 °F", "below"),
        ("evaporating-temperature", "5000 psig", "super|above"),
    ],
)
def test_outside_the_saturation_line_is_refused(name: str, at: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        ask(name, at, "R-744")
    assert any(part in refused.value.code for part in code.split("|"))


def test_a_word_that_is_no_refrigerant_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        ask("suction-wanted", "20 °F", "R-134")
    assert refused.value.code in ("unknown-refrigerant", "unsupported-refrigerant")


class Crooked:
    """Properties whose dew temperature never comes to what is wanted."""

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        return Look(1e5, (1.0,), 0.0) if name == "dew-pressure" else Look(100.0, (1e-3,), 0.0)

    def fact(self, name: str, refrigerant: str) -> str:
        return TABLES.fact(name, refrigerant)


def test_a_search_that_finds_nothing_says_so() -> None:
    with pytest.raises(Refused) as refused:
        SUMS["suction-wanted"].call(SEA_LEVEL, Crooked(), Quantity.of(20, "°F"), "R-448A")
    assert refused.value.code == "no-saturation"
