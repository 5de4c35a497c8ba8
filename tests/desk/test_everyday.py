"""Everyday names stand for readings that there are, and never for two."""

from __future__ import annotations

from tests.app.typist import bundled
from tui.desk.everyday import ALSO_CALLED, WORKED_OUT, reading_called, unknown


def test_every_name_stands_for_one_reading_of_the_catalogue() -> None:
    readings = bundled().catalogue.readings
    assert set(ALSO_CALLED) <= {each.id for each in readings.values() if each.ask}
    names = [name for also in ALSO_CALLED.values() for name in also]
    assert len(names) == len(set(names))
    taken = {reading.replace("-", " ") for reading, found in readings.items() if found.ask}
    assert not taken & set(names), "a reading of that very name would win"
    assert not set(WORKED_OUT) & (taken | set(names))


def test_a_name_counts_only_where_its_reading_is_known() -> None:
    assert reading_called("ambient", ["condenser-air"]) == "condenser-air"
    assert reading_called("ambient", ["suction"]) is None


def test_an_unknown_name_is_named_with_the_nearest() -> None:
    no = unknown("fan 3", ["evaporator-fan", "condenser-fan", "suction"])
    assert "'fan'" in no.message
    assert "evaporator fan, condenser fan" in no.cure
    assert "F8" in unknown("zzz 3", ["suction"]).cure
