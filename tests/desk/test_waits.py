"""A wait outlives a break of the visit: by the stamps of its file, and never for longer than the wall clock says."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.desk.visits import BEGINNING, CHARGE, library, walked
from tests.record.helpers import HandClock
from tui.desk.session import Resumed, resume
from tui.desk.waits import age_of
from tui.record import read
from tui.walk import Prompt

TO_THE_WAIT = (*BEGINNING, *CHARGE[:4])
ASKED = 240.0


def prompt_of(resumed: Resumed) -> Prompt:
    prompt = resumed.visit.walk.prompt
    assert prompt is not None
    assert prompt.kind == "wait"
    return prompt


def resumed_after(path: Path, seconds: float) -> Resumed:
    """Gone on with so long after the last line, by the wall; the other clock begins anew, as after a start."""
    clock = HandClock()
    clock.at += timedelta(seconds=seconds)
    clock.seconds = 3.0
    return resume(path, library(), clock)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "visit.jsonl"
    walked(path, *TO_THE_WAIT)
    return path


def test_the_time_that_the_visit_was_closed_counts_and_is_told(path: Path) -> None:
    resumed = resumed_after(path, 60)
    assert 60 <= resumed.visit.waits.waited(prompt_of(resumed)) < 65
    assert "The wait runs on. 1 min of 4 min are over, 1 min of it while the visit was closed" in resumed.notices[-1]
    resumed.visit.leave()


def test_a_wait_left_and_taken_up_twice(path: Path) -> None:
    resumed_after(path, 60).visit.leave()
    resumed = resumed_after(path, 130)
    assert 130 <= resumed.visit.waits.waited(prompt_of(resumed)) < 135
    resumed.visit.leave()


def test_a_clock_that_went_back_adds_nothing(path: Path) -> None:
    resumed = resumed_after(path, -3600)
    assert resumed.visit.waits.waited(prompt_of(resumed)) < 5
    resumed.visit.leave()


def test_over_while_it_was_closed_it_can_be_gone_on_with_at_once(path: Path) -> None:
    resumed = resumed_after(path, 3600)
    assert resumed.visit.waits.left(prompt_of(resumed)) < 0
    resumed.visit.leave()


def test_another_wait_since_new_work_is_not_older_than_that_work(tmp_path: Path) -> None:
    path = tmp_path / "again.jsonl"
    walked(path, *TO_THE_WAIT, "skip steady", "4", "", "4900 g")
    lines = read(path).lines
    resumed = resumed_after(path, 60)
    assert prompt_of(resumed).seconds == ASKED
    assert 60 <= resumed.visit.waits.waited(prompt_of(resumed)) < 65
    assert age_of(lines, HandClock().now()).closed == 0.0
    resumed.visit.leave()


def test_of_one_sitting_the_clock_that_never_jumps_counts_and_never_more_than_the_wall(path: Path) -> None:
    lines = read(path).lines
    moved = HandClock().now() + timedelta(seconds=2)
    age = age_of(lines, moved)
    assert age.seconds == 2.0, "the lines are further apart than that, the wall says two seconds"
    assert age.closed == 2.0
