"""How small a leak a method shows: ASTM E515, Q = V dp/dt, viscous flow by p^2 (EN 1779, from memory)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import ask, site_at, unsure, work_out
from tui.quantity import Kind, Quantity, Refused

ATMOSPHERE = 101325.0
PSI = Quantity.of(1, "psi").si
MBAR_L = 0.1  # Pa m3/s
R = 8.314462618


def micron(number: float) -> Quantity:
    return Quantity.of(number, "micron", Kind.PRESSURE_DIFFERENCE)


def grams(number: float) -> Quantity:
    return Quantity.of(number, "g/yr")


def hold(
    volume: str = "3 L",
    leak: float = 14.0,
    at: str = "150 psig",
    warm: str = "70 °F",
    refrigerant: str = "R-134a",
    drop: str = "1 psi",
) -> Quantity:
    return work_out("nitrogen-hold-needed", volume, grams(leak), at, warm, refrigerant, drop)


def test_l19_what_bubbles_show_of_r_134a() -> None:
    """L18: ASTM E515 1.1, 1e-5 std cm3/s = 4.5e-10 mol/s; L19: as R-134a 1.437 g a year (of 365.25 d)."""
    found = work_out("bubbles-limit", "R-134a")
    assert found.to("g/yr") == pytest.approx(1.437, rel=0.01)
    assert found.si / 0.102032 == pytest.approx(4.5e-10, rel=0.01)


@pytest.mark.parametrize(
    ("refrigerant", "per_year"),
    [
        # L01-L05: 1e-5 mbar l/s at 20 °C by m' = Q M / (R T); the std cm3 is one of 0 °C and 1.01325 bar.
        ("R-134a", 1.321),
        ("R-404A", 1.264),
        ("R-290", 0.571),
        ("R-600a", 0.753),
        ("R-744", 0.570),
        ("R-22", 1.120),
    ],
)
def test_bubbles_by_refrigerant(refrigerant: str, per_year: float) -> None:
    found = work_out("bubbles-limit", refrigerant).to("g/yr")
    assert found * (273.15 / 293.15) / 1.01325 == pytest.approx(per_year, abs=0.005)


def test_l36_a_vacuum_shows_only_a_gross_leak() -> None:
    """L36, Q = V dp/dt: 100 micron in 10 min in 3 L are 6.67e-4 mbar l/s, 88 g of R-134a a year."""
    found = work_out("vacuum-rise-limit", "3 L", micron(100), "10 min", "R-134a")
    assert found.to("g/yr") == pytest.approx(88.0, rel=0.01)
    assert found.si * R * 293.15 / 0.102032 / MBAR_L == pytest.approx(6.67e-4, rel=0.01)
    assert found.si > 50 * work_out("bubbles-limit", "R-134a").si


def test_l12_the_handbooks_tube() -> None:
    """L12, ASNT Nondestructive Testing Handbook vol. 1: 4 L losing 1 bar in 30 days is 1.5e-4 Pa m3/s."""
    found = work_out("vacuum-rise-limit", "4 L", "1 bar", "30 d", "R-134a")
    assert found.si * R * 293.15 / 0.102032 == pytest.approx(1.54e-4, rel=0.01)


def test_a_gauge_that_is_unsure_makes_the_limit_unsure() -> None:
    rise = unsure("0.002 psi", "micron gauge", "0.0005 psi")
    found = work_out("vacuum-rise-limit", "3 L", rise, "10 min", "R-134a")
    assert found.u / found.si == pytest.approx(0.25 / 3**0.5)


def test_l33_nitrogen_through_the_hole_of_a_refrigerant_leak() -> None:
    """L33: 150 psig of nitrogen against R-134a at 70 °F: pV ratio 0.402 (viscosities at 20 °C, CoolProp).

    Of so small a drop that the pressure hardly changes: t = V dp / Q of nitrogen.
    """
    kelvin = (70 + 459.67) / 1.8
    refrigerant = grams(14).si * R * kelvin / 0.102032
    nitrogen = 3e-3 * 0.01 * PSI / hold(drop="0.01 psi").si
    assert refrigerant / nitrogen == pytest.approx(0.402, rel=0.01)


def test_a_long_hold_by_small_steps() -> None:
    """The closed form beside a plain sum over 20,000 steps of dp = Q dt / V."""
    kelvin = (70 + 459.67) / 1.8
    refrigerant = grams(14).si * R * kelvin / 0.102032
    start, air = 150 * PSI + ATMOSPHERE, ATMOSPHERE
    at_start = refrigerant / 0.402
    pressure, seconds, step = start, 0.0, 120 * PSI / 20_000
    for _ in range(20_000):
        leak = at_start * ((pressure - step / 2) ** 2 - air**2) / (start**2 - air**2)
        seconds += 3e-3 * step / leak
        pressure -= step
    assert hold(drop="120 psi").si == pytest.approx(seconds, rel=0.01)


def test_a_hold_that_shows_an_ounce_a_year_takes_days_and_says_so() -> None:
    found = hold(leak=28.3)
    assert found.unit == "d"
    assert 3 < found.to("d") < 6
    assert hold(leak=4000, drop="0.2 psi").unit == "min"
    assert hold(leak=600).unit == "h"
    assert hold(leak=1).unit == "month"


@given(
    leak=st.floats(1.0, 2000.0),
    more=st.floats(1.05, 20.0),
    psig=st.floats(100.0, 400.0),
    drop=st.floats(0.1, 20.0),
)
def test_more_leak_more_pressure_less_drop_less_volume_is_sooner(
    leak: float, more: float, psig: float, drop: float
) -> None:
    def needed(volume: float, rate: float, at: float, fall: float) -> float:
        return work_out(
            "nitrogen-hold-needed",
            Quantity.of(volume, "L"),
            grams(rate),
            Quantity.of(at, "psig"),
            "70 °F",
            "R-134a",
            Quantity.of(fall, "psi"),
        ).si

    once = needed(3.0, leak, psig, drop)
    assert needed(3.0, leak * more, psig, drop) == pytest.approx(once / more, rel=1e-9)
    assert needed(3.0 * more, leak, psig, drop) == pytest.approx(once * more, rel=1e-9)
    assert needed(3.0, leak, psig * more, drop) < once
    assert needed(3.0, leak, psig, drop * more if drop * more < psig else drop * 1.01) > once


def test_a_colder_saturation_pushes_less_so_the_same_rate_is_a_wider_hole() -> None:
    assert hold(warm="20 °F").si < hold(warm="70 °F").si / 3


def test_altitude_counts() -> None:
    low = work_out("nitrogen-hold-needed", "3 L", grams(14), "150 psig", "70 °F", "R-134a", "1 psi")
    high = work_out(
        "nitrogen-hold-needed", "3 L", grams(14), "150 psig", "70 °F", "R-134a", "1 psi", site=site_at("9000 ft")
    )
    assert high.si != pytest.approx(low.si, rel=0.005)


@pytest.mark.parametrize(
    ("said", "about"),
    [
        (("0 L", grams(5), "150 psig", "70 °F", "R-134a", "1 psi"), "volume"),
        (("3 L", grams(0), "150 psig", "70 °F", "R-134a", "1 psi"), "leak rate"),
        (("3 L", grams(5), "150 psig", "70 °F", "R-134a", "0 psi"), "fall"),
        (("3 L", grams(5), "10 psig", "70 °F", "R-134a", "10.5 psi"), "can't fall"),
        (("3 L", grams(5), "150 psig", "0 °F", "R-600a", "1 psi"), "no higher than the air"),
    ],
)
def test_a_hold_that_makes_no_sense_is_refused(said: tuple[str | Quantity, ...], about: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("nitrogen-hold-needed", *said)
    assert refused.value.code == "out-of-range"
    assert about in refused.value.message
    assert refused.value.cure


@pytest.mark.parametrize("place", [0, 1, 2])
def test_a_vacuum_of_nothing_is_refused(place: int) -> None:
    said: list[str | Quantity] = ["3 L", micron(100), "10 min", "R-134a"]
    nothing: tuple[str | Quantity, ...] = ("0 L", micron(0), "0 min")
    said[place] = nothing[place]
    with pytest.raises(Refused) as refused:
        ask("vacuum-rise-limit", *said)
    assert refused.value.code == "out-of-range"
    assert refused.value.cure


def test_a_refrigerant_nobody_carries_is_refused_by_its_name() -> None:
    with pytest.raises(Refused) as refused:
        ask("bubbles-limit", "R-999")
    assert "R-999" in refused.value.message
