"""40 CFR 82.156 Table 1: how far to recover; 82.152 (from memory): which class a refrigerant is in."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tests.trade.asking import SEA_LEVEL, TABLES, ask, site_at, value, work_out
from tui.quantity import Quantity, Refused
from tui.refrigerant import Look
from tui.trade.us_recovery import pressure_class, us_recovery_level

BEFORE, SINCE = "1993-11-14", "1993-11-15"


@dataclass
class Pretend:
    """A refrigerant whose liquid has this pressure at 104 °F: no low pressure one is carried."""

    psia: float

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        assert name == "bubble-pressure"
        return Look(self.psia * 6894.757293168361, (0.0,), 0.0)

    def fact(self, name: str, refrigerant: str) -> str:
        raise AssertionError(name)


@pytest.mark.parametrize(
    ("refrigerant", "expected"),
    [
        ("R-134a", "medium"),  # E31: 147.4 psia
        ("R-404A", "high"),  # E32: 265.4 psia
        ("R-410A", "high"),  # E33: 351.8 psia, just under 355
        ("R-32", "very high"),  # E34: 359.5 psia
        ("R-744", "very high"),  # E35: critical below 104 °F
        ("R-507A", "high"),  # E36
        ("R-407C", "high"),  # E36
        ("R-22", "high"),  # E36
    ],
)
def test_pressure_class(refrigerant: str, expected: str) -> None:
    assert pressure_class(TABLES, refrigerant) == expected


@pytest.mark.parametrize(
    ("psia", "expected"),
    [(44.9, "low"), (45.0, "medium"), (170.0, "medium"), (170.1, "high"), (355.0, "high"), (355.1, "very high")],
)
def test_e30_bounds_of_the_classes(psia: float, expected: str) -> None:
    """E30, 82.152 from memory: medium 45-170 psia, high 170-355, very high above 355."""
    assert pressure_class(Pretend(psia), "X") == expected


@pytest.mark.parametrize(
    ("refrigerant", "pounds", "before", "since"),
    [
        ("R-32", 1, 0, 0),  # E23
        ("R-32", 500, 0, 0),  # E23
        ("R-404A", 199.9, 0, 0),  # E24
        ("R-404A", 200, 4, 10),  # 82.156 Table 1, from memory
        ("R-134a", 199.9, 4, 10),  # E26
        ("R-134a", 200, 4, 15),  # E27
    ],
)
def test_table_1_at_sea_level(refrigerant: str, pounds: float, before: float, since: float) -> None:
    """Inches of mercury below the standard atmosphere, which E29 prints as 29.9 inHg."""
    for day, inches in ((BEFORE, before), (SINCE, since)):
        found = work_out("us-recovery-level", refrigerant, Quantity.of(pounds, "lb"), day)
        assert found.si == pytest.approx(-inches * 3386.379, abs=0.1)
        assert found.unit == ("inHg vac" if inches else "psig")


def test_e28_low_pressure_is_25_mm_absolute_whatever_the_machine() -> None:
    """E28; V21: 25 mmHg absolute is 28.94 inHg vac at 29.92."""
    for day in (BEFORE, SINCE):
        found = us_recovery_level(SEA_LEVEL, Pretend(20.0), "X", Quantity.of(300, "lb"), _day(day))
        assert found.to("inHg vac") == pytest.approx(28.94, abs=0.01)


def test_at_altitude_the_gauge_shows_less_for_the_same_vacuum() -> None:
    """The table stands on the standard atmosphere: 10 inHg below 29.92 is 4.90 inHg on a gauge at 24.82 inHg."""
    denver = site_at("5000 ft")
    found = work_out("us-recovery-level", "R-134a", "10 lb", SINCE, site=denver)
    air = denver.atmosphere.pa / 3386.379
    assert found.to("inHg vac") == pytest.approx(10 - (29.92 - air), abs=0.01)


def test_nowhere_is_a_pressure_told_that_still_blows() -> None:
    found = work_out("us-recovery-level", "R-404A", "10 lb", SINCE, site=site_at("5000 ft"))
    assert found.si == 0.0
    assert str(found) == "0.0 psig"


def test_no_charge_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        ask("us-recovery-level", "R-134a", "0 lb", SINCE)
    assert refused.value.cure


def _day(text: str) -> Quantity:
    found = value(text)
    assert isinstance(found, Quantity)
    return found
