"""Three phases against each other."""

from __future__ import annotations

import pytest

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Refused


@pytest.mark.parametrize(
    ("ab", "bc", "ca", "percent"),
    [
        ("460 V", "467 V", "450 V", 1.961),  # NEMA MG 1 14.36, its own example (from memory)
        ("462 V", "463 V", "455 V", 1.087),  # arithmetic by NEMA MG 1 14.36
        ("203 V", "210 V", "212 V", 2.56),  # arithmetic by NEMA MG 1 14.36
        ("400 V", "395 V", "388 V", 1.606),  # arithmetic; 1.45 would be 400 alone, 388 lies further off
    ],
)
def test_the_phase_that_is_furthest_off_counts_either_way(ab: str, bc: str, ca: str, percent: float) -> None:
    assert work_out("unbalance", ab, bc, ca).to("%") == pytest.approx(percent, abs=0.005)


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
