"""Three phases against each other, a capacitor by its current. The published figures: tests/published."""

from __future__ import annotations

import pytest

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Refused


def test_a_lost_phase_is_far_out() -> None:
    assert work_out("unbalance", "400 V", "200 V", "200 V").to("%") == pytest.approx(50.0)


def test_no_volts_at_all_have_no_balance() -> None:
    with pytest.raises(Refused) as refused:
        ask("unbalance", "0 V", "0 V", "0 V")
    assert refused.value.code == "no-volts"


def test_one_meter_that_reads_wrong_by_a_share_leaves_the_balance() -> None:
    """What one meter reads too high on all three pairs drops out."""
    each = [unsure(volts, "meter", off) for volts, off in (("460 V", "4.6 V"), ("467 V", "4.67 V"), ("450 V", "4.5 V"))]
    assert work_out("unbalance", *each).U < 1e-9


@pytest.mark.parametrize(("volts", "hertz"), [("0 V", "60"), ("370 V", "0")])
def test_a_capacitor_that_nothing_drives_is_refused(volts: str, hertz: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("capacitance", "3 A", volts, hertz)
    assert refused.value.code == "no-volts"
    assert refused.value.cure


def test_clamp_and_meter_both_reach_the_capacitance() -> None:
    """C = I / (2 pi f V): a share too much of current is as much too much, of volts as much too little."""
    found = work_out("capacitance", unsure("3 A", "clamp", "0.06 A"), unsure("370 V", "meter", "3.7 V"), "60")
    assert found.errors["clamp"] / found.si == pytest.approx(0.02 / 3**0.5, rel=0.001)
    assert found.errors["meter"] / found.si == pytest.approx(-0.01 / 3**0.5, rel=0.001)
