"""The air at a height."""

from __future__ import annotations

import pytest

from tests.trade.asking import unsure, work_out
from tui.quantity import Refused


def test_the_air_at_five_thousand_feet() -> None:
    """ISO 2533 at 1,524 m: 84,307 Pa, which is 12.23 psia."""
    found = work_out("air-pressure", "5000 ft")
    assert found.si == pytest.approx(84307, abs=20)
    assert found.to("psia") == pytest.approx(12.23, abs=0.005)


def test_a_full_vacuum_reads_less_high_up() -> None:
    """At sea level 29.92 inHg are one atmosphere of 101,325 Pa (UCUM: [in_i'Hg] 3386.379 Pa)."""
    assert work_out("full-vacuum", "0 ft").to("inHg vac") == pytest.approx(29.92, abs=0.005)
    assert work_out("full-vacuum", "5000 ft").to("inHg vac") == pytest.approx(84307 / 3386.379, abs=0.01)


def test_a_height_known_to_a_hundred_feet_is_a_pressure_known_to_a_seventeenth() -> None:
    """Near sea level air loses 11.99 Pa a metre: weight of air of 1.225 kg/m3 (ISO 2533) by 9.80665."""
    found = work_out("air-pressure", unsure("100 ft", "map", "100 ft"))
    assert abs(found.errors["map"]) * 3**0.5 == pytest.approx(1.225 * 9.80665 * 30.48, rel=0.02)
    assert found.errors["map"] < 0


@pytest.mark.parametrize("name", ["air-pressure", "full-vacuum"])
def test_no_cabinet_stands_there(name: str) -> None:
    with pytest.raises(Refused, match="no place to service"):
        work_out(name, "40000 ft")
