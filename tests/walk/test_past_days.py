"""A day that must be past is refused while it is still to come."""

from __future__ import annotations

import pytest

from tests.desk.test_before import SEA, bundled
from tui.quantity import Refused
from tui.walk import Walk


def walk() -> Walk:
    return Walk.start(bundled(), "circuit-call", site=SEA)


@pytest.mark.parametrize("reading", ["charge-last-right", "recovery-machine-made"])
def test_a_day_still_to_come(reading: str) -> None:
    with pytest.raises(Refused) as refused:
        walk().tell(reading, "2027-01-01")
    assert refused.value.code == "out-of-range"
    assert "2027-01-01 is still to come" in refused.value.message
    assert "2026-11-26" in refused.value.cure


@pytest.mark.parametrize("day", ["2026-11-26", "2026-11-25", "1930-01-01"])
def test_today_and_before_are_taken(day: str) -> None:
    here = walk()
    here.tell("charge-last-right", day)
    assert str(here.values()["charge-last-right"]) == day


def test_without_a_day_of_the_visit_nothing_is_to_come() -> None:
    here = Walk.start(bundled(), "circuit-call", site={"altitude": "0 ft"})
    here.tell("charge-last-right", "2027-01-01")
    assert "charge-last-right" in here.values()
