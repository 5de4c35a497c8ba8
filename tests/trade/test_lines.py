"""Superheat, subcooling, compression ratio: what must cancel. The published figures stand in tests/published."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import ask, site_at, unsure, work_out
from tui.quantity import Kind, Quantity, Refused, parse_literal

LOW, HIGH = "1.8 psig", "95 psig"


def test_compression_ratio_stands_on_the_air_of_the_place() -> None:
    """(95 + 12.23) / (1.8 + 12.23): ISO 2533 gives 12.23 psia at 5,000 ft."""
    found = work_out("compression-ratio", HIGH, LOW, site=site_at("5000 ft"))
    assert found.si == pytest.approx((95 + 12.23) / (1.8 + 12.23), abs=0.005)


def test_no_ratio_over_a_full_vacuum() -> None:
    with pytest.raises(Refused) as refused:
        ask("compression-ratio", HIGH, "29 inHg vac", site=site_at("5000 ft"))
    assert refused.value.code == "out-of-range"


def test_superheat_stands_on_dew_and_subcooling_on_bubble() -> None:
    """A blend with 11 dF of glide: mixing the two up would be wrong by all of it."""
    at = "100 psig"
    dew, bubble = (work_out(f"{line}-temperature", at, "R-448A") for line in ("dew", "bubble"))
    line = parse_literal("60 °F")
    assert (dew - bubble).to("dF") > 9
    assert work_out("superheat", line, at, "R-448A").si == pytest.approx((line - dew).si)
    assert work_out("subcooling", line, at, "R-448A").si == pytest.approx((bubble - line).si)


def test_a_superheat_below_zero_is_shown_as_it_is() -> None:
    assert work_out("superheat", "-20 °F", LOW, "R-134a").to("dF") == pytest.approx(-9.7, abs=0.2)


@pytest.mark.parametrize("refrigerant", ["R-134a", "R-448A"])
def test_one_low_gauge_in_two_superheats_cancels(refrigerant: str) -> None:
    suction = unsure("20 psig", "low gauge", "0.5 psi")
    near, far = (
        work_out(name, unsure(line, "clamp", "1 dF"), suction, refrigerant)
        for name, line in (("superheat", "30 °F"), ("compressor-superheat", "60 °F"))
    )
    assert near.errors["low gauge"] < 0 < near.errors["clamp"]
    assert (far - near).u == pytest.approx(0.0, abs=1e-12)


def test_the_uncertainty_of_a_superheat_is_root_sum_square() -> None:
    """JCGM 100, 5.1.2, half-widths over the root of 3 (4.3.7). R-134a near 20 psig: 0.5 psi is 0.69 dF."""
    found = work_out(
        "superheat", unsure("30 °F", "clamp", "1 dF"), unsure("20 psig", "low gauge", "0.5 psi"), "R-134a"
    )
    by_hand = (1.0**2 + 0.69**2) ** 0.5 / 3**0.5 * 5 / 9
    assert found.u == pytest.approx(by_hand, rel=0.05)


@given(low=st.floats(-50e3, 600e3), more=st.floats(1.0, 2e6))
def test_more_head_is_more_ratio_and_equal_is_one(low: float, more: float) -> None:
    suction = Quantity(Kind.GAUGE_PRESSURE, low)
    head = Quantity(Kind.GAUGE_PRESSURE, low + more)
    assert work_out("compression-ratio", suction, suction).si == 1.0
    assert work_out("compression-ratio", head, suction).si > 1.0


@given(
    refrigerant=st.sampled_from(["R-134a", "R-290", "R-404A", "R-448A"]),
    kelvin=st.floats(250.0, 320.0),
    gauge=st.floats(0.0, 1e6),
    more=st.floats(100.0, 1e5),
)
def test_more_pressure_is_less_superheat_and_more_subcooling(
    refrigerant: str, kelvin: float, gauge: float, more: float
) -> None:
    line = Quantity(Kind.TEMPERATURE, kelvin)
    before, after = Quantity(Kind.GAUGE_PRESSURE, gauge), Quantity(Kind.GAUGE_PRESSURE, gauge + more)
    for name, sign in (("superheat", -1), ("subcooling", 1)):
        change = work_out(name, line, after, refrigerant) - work_out(name, line, before, refrigerant)
        assert change.si * sign > 0
