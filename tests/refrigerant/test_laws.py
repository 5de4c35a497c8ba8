"""What must hold for every refrigerant at every state."""

from __future__ import annotations

import math
import threading
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.refrigerant.units import PSI, fahrenheit
from tui import refrigerant as r
from tui.refrigerant.table import table

names = st.sampled_from(r.ids())
parts = st.floats(0.0, 1.0)


def inside(name: str, part: float) -> float:
    """A temperature of the table, K."""
    found = table(name)
    return found.low_K + part * (found.high_K - found.low_K)


def shared_pressure(name: str, part: float) -> float:
    """A pressure that both lines hold, Pa, by equal ratios."""
    low, high = table(name).bubble.low, table(name).dew.high
    return min(max(low * math.pow(high / low, part), low), high)


@given(names, parts)
def test_pressure_and_temperature_undo_each_other(name: str, part: float) -> None:
    kelvin = inside(name, part)
    assert r.dew_temperature(name, r.dew_pressure(name, kelvin)) == pytest.approx(kelvin, abs=1e-6)
    assert r.bubble_temperature(name, r.bubble_pressure(name, kelvin)) == pytest.approx(kelvin, abs=1e-6)


@given(names, parts)
def test_temperature_and_pressure_undo_each_other(name: str, part: float) -> None:
    pa = shared_pressure(name, part)
    assert r.dew_pressure(name, r.dew_temperature(name, pa)) == pytest.approx(pa, rel=1e-9)
    assert r.bubble_pressure(name, r.bubble_temperature(name, pa)) == pytest.approx(pa, rel=1e-9)
    assert r.mid_pressure(name, r.mid_temperature(name, pa)) == pytest.approx(pa, rel=1e-7)


@given(names, parts)
def test_bubble_lies_on_the_right_side_of_dew(name: str, part: float) -> None:
    kelvin, pa = inside(name, part), shared_pressure(name, part)
    assert r.bubble_pressure(name, kelvin) >= r.dew_pressure(name, kelvin)
    looks = (r.bubble_temperature, r.mid_temperature, r.dew_temperature)
    bubble, mid, dew = (look(name, pa) for look in looks)
    assert bubble <= mid + 1e-9
    assert mid <= dew + 1e-9
    assert mid == pytest.approx((bubble + dew) / 2, abs=1e-9)


@given(names, parts, parts)
def test_higher_is_hotter(name: str, one: float, other: float) -> None:
    low, high = sorted((shared_pressure(name, one), shared_pressure(name, other)))
    for look in (r.dew_temperature, r.bubble_temperature, r.mid_temperature):
        assert look(name, low) <= look(name, high)


@pytest.mark.parametrize("name", r.ids())
def test_the_tables_columns_are_monotone(name: str) -> None:
    found = table(name)
    for low, high in pairwise(found.kelvin):
        assert low < high
        assert r.dew_pressure(name, low) < r.dew_pressure(name, high)
        assert r.bubble_pressure(name, low) < r.bubble_pressure(name, high)
        assert r.liquid_density(name, low) > r.liquid_density(name, high)
        assert r.saturated_vapour_density(name, low) < r.saturated_vapour_density(name, high)
    assert r.liquid_density(name, found.high_K) > r.saturated_vapour_density(name, found.high_K)


@given(names, parts)
def test_pure_fluids_have_no_glide(name: str, part: float) -> None:
    kelvin = inside(name, part)
    if r.facts(name).made == "pure":
        assert r.bubble_pressure(name, kelvin) == r.dew_pressure(name, kelvin)
        assert r.mid_pressure(name, kelvin) == pytest.approx(r.dew_pressure(name, kelvin), rel=1e-12)


@given(names, st.floats(0.02, 0.98), st.floats(0.01, 0.99))
def test_more_pressure_is_denser_and_real_is_denser_than_ideal(name: str, part: float, ratio: float) -> None:
    kelvin = inside(name, part)
    pa = ratio * r.dew_pressure(name, kelvin)
    density = r.vapour_density(name, pa, kelvin)
    assert density > r.vapour_density(name, 0.98 * pa, kelvin)
    assert density > pa * table(name).molar_mass / (8.314462618 * kelvin)
    assert density <= r.saturated_vapour_density(name, kelvin)


@given(names, parts)
def test_vapour_at_dew_is_saturated_vapour(name: str, part: float) -> None:
    kelvin = inside(name, part)
    at_dew = r.vapour_density(name, r.dew_pressure(name, kelvin), kelvin)
    assert at_dew == pytest.approx(r.saturated_vapour_density(name, kelvin), rel=1e-9)


PRESSURE_LOOKS = ("dew-temperature", "bubble-temperature", "mid-temperature")
TEMPERATURE_LOOKS = (
    "dew-pressure", "bubble-pressure", "mid-pressure", "liquid-density", "saturated-vapour-density",
)  # fmt: skip


def by_name(name: str) -> object:
    found: object = getattr(r, name.replace("-", "_"))
    return found


@given(names, st.sampled_from(PRESSURE_LOOKS), st.floats(0.01, 0.99))
def test_slopes_over_pressure_are_the_differences(name: str, look: str, part: float) -> None:
    pa = shared_pressure(name, part)
    found = r.look(look, name, pa)
    step = 1e-4 * pa  # about 0.003 K: a node inside the step bends the line by less than the tolerance
    up, down = r.look(look, name, pa + step).value, r.look(look, name, pa - step).value
    assert found.value == by_name(look)(name, pa)  # type: ignore[operator]
    assert found.slopes[0] == pytest.approx((up - down) / (2 * step), rel=0.02)
    assert found.error == r.facts(name).error_K


@given(names, st.sampled_from(TEMPERATURE_LOOKS), st.floats(0.08, 0.9))
def test_slopes_over_temperature_are_the_differences(name: str, look: str, part: float) -> None:
    kelvin = inside(name, part)
    found = r.look(look, name, kelvin)
    step = 1e-3
    up, down = r.look(look, name, kelvin + step).value, r.look(look, name, kelvin - step).value
    assert found.value == by_name(look)(name, kelvin)  # type: ignore[operator]
    assert found.slopes[0] == pytest.approx((up - down) / (2 * step), rel=0.02)
    assert found.error > 0
    if look.endswith("pressure"):
        assert found.error == pytest.approx(r.facts(name).error_K * found.slopes[0])
    else:
        assert 0.002 * found.value < found.error < 0.05 * found.value


@given(names, st.floats(0.02, 0.9), st.floats(0.05, 0.98))
def test_slopes_of_vapour_density_are_the_differences(name: str, part: float, ratio: float) -> None:
    kelvin = inside(name, part)
    pa = ratio * r.dew_pressure(name, kelvin)
    found = r.look("vapour-density", name, pa, kelvin)
    step = 1e-3 * pa
    density = r.vapour_density
    by_pressure = (density(name, pa + step, kelvin) - density(name, pa - step, kelvin)) / (2 * step)
    by_kelvin = (density(name, pa, kelvin + 0.02) - density(name, pa, kelvin - 0.02)) / 0.04
    # The grid is made of flat pieces: a narrow difference jumps where a wide one does not, at their edges
    # by up to 6 % and 12 % in 60,000 random places.
    assert found.slopes[0] == pytest.approx(by_pressure, rel=0.1)
    assert found.slopes[1] == pytest.approx(by_kelvin, rel=0.2)
    assert found.slopes[0] > 0 > found.slopes[1]


@pytest.mark.parametrize("name", r.ids())
def test_vapour_density_has_slopes_at_its_ends(name: str) -> None:
    found = table(name)
    for kelvin in (found.low_K, found.high_K):
        look = r.look("vapour-density", name, r.dew_pressure(name, kelvin), kelvin)
        assert all(map(math.isfinite, look.slopes))
        assert look.slopes[0] > 0 > look.slopes[1]


def test_r56_one_degree_of_a_liquid_line_close_to_90_f() -> None:
    """R56: R-134a saturation changes by about 1.9 psi a °F close to 90 °F (CoolProp)."""
    slope = r.look("bubble-pressure", "R-134a", fahrenheit(90)).slopes[0]
    assert slope / PSI / 1.8 == pytest.approx(1.9, abs=0.06)


@given(st.floats(1e5, 8e6), st.floats(230, 350), st.floats(230, 350))
def test_nitrogen_there_and_back(pa: float, one: float, other: float) -> None:
    there = r.nitrogen_pressure(pa, one, other)
    assert (there > pa) == (other > one) or there == pytest.approx(pa)
    if there < 10e6:
        assert r.nitrogen_pressure(there, other, one) == pytest.approx(pa, rel=1e-9)


def test_threads_share_the_tables() -> None:
    """One library object shared by threads answers wrongly in silence; a table that never changes cannot."""
    pressures = (6e5, 8e5, 12e5)
    expected = {name: [r.dew_temperature(name, pa) for pa in pressures] for name in r.ids()}
    wrong: list[str] = []

    def work() -> None:
        for _ in range(60):
            for name, values in expected.items():
                if [r.dew_temperature(name, pa) for pa in pressures] != values:
                    wrong.append(name)

    threads = [threading.Thread(target=work) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []


def test_a_table_cannot_be_changed_in_passing() -> None:
    found = table("R-134a")
    for column in (found.kelvin, found.liquid, found.z_dew):
        assert isinstance(column, tuple)
    with pytest.raises(AttributeError):
        found.extra = 1  # type: ignore[attr-defined]
