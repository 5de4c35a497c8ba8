"""US leak rates: formulas of 40 CFR 82.152 (the same two in 84.102)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Quantity, Refused, parse_literal
from tui.trade.us_leak import us_rolling_leak_rate

TODAY = date(2025, 11, 25)


def day(ago: int) -> Quantity:
    return parse_literal((TODAY - timedelta(days=ago)).isoformat())


def annualised(full: float, added: float, days: int) -> Quantity:
    return work_out("us-leak-rate", f"{added} lb", f"{full} lb", day(days), day(0))


@pytest.mark.parametrize(
    ("full", "added", "days", "percent", "within"),
    [
        (100, 10, 180, 20.278, 0.001),  # E01
        (100, 5, 30, 60.833, 0.001),  # E02; E03 prints 60 % by months (achrnews.com, leak repair)
        (50, 8, 500, 16.0, 1e-12),  # E04: the shorter of 500 and 365 days, not 11.7 %
        (24, 3, 92, 49.592, 0.001),  # E05
        (20, 4, 365, 20.0, 1e-12),  # E06
    ],
)
def test_annualising(full: float, added: float, days: int, percent: float, within: float) -> None:
    assert annualised(full, added, days).to("%") == pytest.approx(percent, abs=within)


@given(fifths=st.integers(1, 4000))
def test_exactly_at_the_limit_is_not_over_it(fifths: int) -> None:
    """E06, 82.157(c)(1): "leak rate over the applicable leak rate"; a fifth of the charge is 20 %."""
    limit = parse_literal("20 %")
    full = fifths / 2
    rate = work_out("us-leak-rate", Quantity.of(full / 5, "lb"), Quantity.of(full, "lb"), day(365), day(0))
    assert not rate.si > limit.si


@pytest.mark.parametrize("days", [0, -3])
def test_no_days_is_refused(days: int) -> None:
    """E09, 82.152 step 1 (from memory): additions of one day belong to one service."""
    with pytest.raises(Refused) as refused:
        ask("us-leak-rate", "4 lb", "20 lb", day(days), day(0))
    assert refused.value.code == "no-time-between"


def test_no_charge_is_refused() -> None:
    with pytest.raises(Refused):
        ask("us-leak-rate", "4 lb", "0 lb", day(100), day(0))


def test_rolling() -> None:
    """E07: 1.5 + 2.0 + 1.0 lb of 20 lb in 365 days is 22.5 %; what is older does not count."""
    adds = [(Quantity.of(lb, "lb"), day(ago)) for lb, ago in ((9.0, 365), (1.5, 364), (2.0, 100), (1.0, 0))]
    full = parse_literal("20 lb")
    assert us_rolling_leak_rate(adds, full, day(0)).to("%") == pytest.approx(22.5, abs=1e-9)
    assert us_rolling_leak_rate(adds, full, day(0), verified=day(100)).to("%") == pytest.approx(5.0, abs=1e-9)


def test_the_scale_reaches_the_rate() -> None:
    rate = work_out("us-leak-rate", unsure("10 lb", "scale", "0.1 lb"), "100 lb", day(180), day(0))
    assert rate.u == pytest.approx(0.001 * 365 / 180 / 3**0.5)
