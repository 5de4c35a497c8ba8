"""Weighing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Kind, Quantity, Refused


def test_a_step_is_a_share_of_the_plate() -> None:
    assert work_out("step-size", "400 g", "7 %", "200 g").to("g") == pytest.approx(28)


def test_a_step_is_never_above_the_most() -> None:
    assert work_out("step-size", "10 kg", "10 %", "200 g").to("g") == pytest.approx(200)


@given(plate=st.floats(1e-3, 50.0), share=st.floats(0.05, 0.10), most=st.floats(1e-3, 1.0))
def test_a_step_stays_inside_both_limits(plate: float, share: float, most: float) -> None:
    """Common practice: 5 to 10 % of the nameplate charge."""
    kg = Kind.MASS
    step = work_out("step-size", Quantity(kg, plate), Quantity(Kind.RATIO, share), Quantity(kg, most))
    assert 0.0 < step.si <= min(most, 0.10 * plate) * (1 + 1e-12)


@pytest.mark.parametrize(
    ("plate", "share", "most"),
    [("0 g", "7 %", "200 g"), ("400 g", "0 %", "200 g"), ("400 g", "70 %", "200 g"), ("400 g", "7 %", "0 g")],
)
def test_a_step_that_is_none_is_refused(plate: str, share: str, most: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("step-size", plate, share, most)
    assert refused.value.code == "out-of-range"
    assert refused.value.cure


def test_hoses_are_taken_off_once() -> None:
    """A balance by hand: 5000 g, then 4900 g, 58 g stand in the hose: 42 g went in."""
    assert work_out("net-added", "5000 g", "4900 g", "58 g").to("g") == pytest.approx(42)
    assert work_out("net-added", "5000 g", "4800 g", "58 g").to("g") == pytest.approx(142)


def test_one_scale_off_by_a_fixed_amount_does_no_harm() -> None:
    before, now = unsure("5000 g", "scale", "2 g"), unsure("4900 g", "scale", "2 g")
    found = work_out("net-added", before, now, unsure("58 g", "hose", "3 g"))
    assert found.errors["scale"] == 0.0
    assert found.u == pytest.approx(3e-3 / 3**0.5)


def test_the_scales_of_two_days_do_not_cancel() -> None:
    found = work_out("net-added", unsure("5 kg", "one", "2 g"), unsure("4.9 kg", "other", "2 g"), "0 g")
    assert found.u == pytest.approx(2e-3 * 2**0.5 / 3**0.5)


def test_share_missing() -> None:
    found = work_out("share-missing", unsure("60 g", "scale", "2 g"), "400 g")
    assert found.to("%") == pytest.approx(15)
    assert found.u == pytest.approx(0.005 / 3**0.5)


def test_a_share_of_no_plate_is_refused() -> None:
    with pytest.raises(Refused):
        ask("share-missing", "60 g", "0 g")


def test_leak_per_year() -> None:
    """UCUM year of 365.25 d: 50 g in the 731 days of two calendar years (2024 is a leap year)."""
    found = work_out("leak-per-year", "50 g", "2023-11-25", "2025-11-25")
    assert found.to("g/yr") == pytest.approx(50 / (731 / 365.25))


def test_a_loss_over_a_month_as_a_year() -> None:
    """E03, achrnews.com, EPA requirements for leak repair: 100 lb lose 5 lb in one month, 60 lb or 60 % a year."""
    assert work_out("leak-over", "5 lb", "1 month").to("lb/yr") == pytest.approx(60)
    assert work_out("leak-share", "5 lb", "1 month", "100 lb").to("%") == pytest.approx(60, abs=0.5)


def test_over_a_time_and_between_two_days_are_one() -> None:
    by_days = work_out("leak-per-year", "60 g", "2024-11-25", "2025-05-25")
    assert work_out("leak-over", "60 g", "181 d").si == pytest.approx(by_days.si)


def test_what_the_scale_is_off_is_in_the_rate() -> None:
    found = work_out("leak-share", unsure("60 g", "scale", "2 g"), "6 months", "400 g")
    assert found.to("%") == pytest.approx(30)
    assert found.u / found.si == pytest.approx(2 / 60 / 3**0.5)


@pytest.mark.parametrize(
    ("missing", "span", "code"),
    [("60 g", "0 d", "no-time-between"), ("-1 g", "6 months", "out-of-range")],
)
def test_no_rate_of_nothing(missing: str, span: str, code: str) -> None:
    for name, more in (("leak-over", ()), ("leak-share", ("400 g",))):
        with pytest.raises(Refused) as refused:
            ask(name, missing, span, *more)
        assert refused.value.code == code


def test_no_share_of_no_plate() -> None:
    with pytest.raises(Refused, match="nameplate"):
        ask("leak-share", "60 g", "6 months", "0 g")


@pytest.mark.parametrize("last_right", ["2025-11-25", "2025-11-26"])
def test_no_rate_without_time_between(last_right: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("leak-per-year", "50 g", last_right, "2025-11-25")
    assert refused.value.code == "no-time-between"


def test_no_rate_of_what_is_too_much() -> None:
    with pytest.raises(Refused) as refused:
        ask("leak-per-year", Quantity.of(-1, "g"), "2024-11-25", "2025-11-25")
    assert refused.value.code == "out-of-range"


@given(grams=st.floats(0.0, 1e4), days=st.integers(1, 4000), more=st.integers(1, 4000))
def test_the_same_loss_over_longer_is_a_slower_leak(grams: float, days: int, more: int) -> None:
    missing = Quantity.of(grams, "g")
    start, day = Quantity(Kind.DATE, 0.0), 86400.0
    fast = work_out("leak-per-year", missing, start, Quantity(Kind.DATE, days * day))
    slow = work_out("leak-per-year", missing, start, Quantity(Kind.DATE, (days + more) * day))
    assert slow.si <= fast.si
    assert (fast * Quantity.of(days, "d")).to("g") == pytest.approx(grams)
