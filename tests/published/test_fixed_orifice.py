"""Published charts of the superheat of a fixed orifice in comfort cooling, and the rule for it. °F throughout.

R37 to R43: common practice. R44: California Energy Commission, 2008 Residential Appendices RA3.2.
"""

from __future__ import annotations

import pytest

from tests.trade.asking import ask, work_out
from tui.quantity import Quantity, Refused
from tui.trade.orifice import OFF_THE_CHART, rule

# Outdoor dry bulb: {indoor wet bulb: superheat}. Cells of the first printing; a second is up to 1 dF off.
CHART = {
    95: dict(zip(range(64, 77, 2), (6, 10, 14, 18, 22, 25, 29), strict=True)),  # R40
    75: dict(zip(range(56, 77, 2), (6, 9, 12, 15, 18, 21, 24, 28, 31, 34, 37), strict=True)),  # R41
    55: dict(zip(range(50, 77, 2), (9, 12, 14, 17, 20, 23, 26, 29, 32, 35, 37, 40, 42, 45), strict=True)),  # R42
}


def wanted(wet_bulb: float, outdoor: float) -> float:
    return work_out("orifice-superheat", Quantity.of(wet_bulb, "°F"), Quantity.of(outdoor, "°F")).to("dF")


def test_R37_wet_bulb_64_outdoors_96() -> None:
    assert wanted(64, 96) == pytest.approx(8.0)


def test_R38_wet_bulb_67_outdoors_95() -> None:
    """By the rule, recomputed."""
    assert wanted(67, 95) == pytest.approx(13.0)


def test_R39_rule_and_chart_differ_by_one() -> None:
    """Chart 13, rule 14; within what is carried as its error."""
    assert wanted(66, 90) == pytest.approx(14.0)
    assert abs(wanted(66, 90) - 13) <= OFF_THE_CHART * 1.8


@pytest.mark.parametrize(
    ("outdoor", "wet_bulb", "printed"),
    [
        pytest.param(outdoor, wet_bulb, printed, id=f"{row} {wet_bulb}")
        for row, outdoor in (("R40", 95), ("R41", 75), ("R42", 55))
        for wet_bulb, printed in CHART[outdoor].items()
    ],
)
def test_R40_R41_R42_every_printed_cell_is_within_its_error(outdoor: int, wet_bulb: int, printed: int) -> None:
    assert abs(wanted(wet_bulb, outdoor) - printed) <= OFF_THE_CHART * 1.8 + 1e-9


def test_R43_how_well_the_rule_follows_the_chart() -> None:
    """Over the 32 cells: 0.84 dF in the mean, 2.5 dF at most."""
    off = [abs(rule(wet_bulb, outdoor) - cell) for outdoor, row in CHART.items() for wet_bulb, cell in row.items()]
    assert len(off) == 32
    assert sum(off) / len(off) == pytest.approx(0.84, abs=0.005)
    assert max(off) == pytest.approx(2.5)


@pytest.mark.parametrize(("wet_bulb", "outdoor"), [("60 °F", "95 °F"), ("61 °F", "94 °F")])
def test_R44_under_five_there_is_no_charge_test(wet_bulb: str, outdoor: str) -> None:
    """A dash in the chart: weigh in instead."""
    with pytest.raises(Refused) as refused:
        ask("orifice-superheat", wet_bulb, outdoor)
    assert "Weigh" in refused.value.cure
