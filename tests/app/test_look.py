"""The picture under the line: what is left out where there is little room, and what never is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.app.lines import BEGINNING, text, typed
from tui.app.look import _once, below, clock, minutes, table, telling
from tui.app.sheet import Columns, joined, laid_out
from tui.app.talk import Talk
from tui.walk.prompt import Row, TrailEntry

LOW = Row("evaporating now", "3.1 °F", "13 °F to 27 °F", "-9.9 dF", "low")
HIGH = Row("superheat", "31.9 dF", "5 dF to 15 dF", "+16.9 dF", "high")
FLOOR = Row("superheat", "31.9 dF", "at least 5 dF", "+26.9 dF", "on")
CLOSE = Row("superheat", "6.0 dF", "at least 5 dF", "+1 dF", "on", "low")
ON = Row("superheat", "6.0 dF", "5 dF to 15 dF", "-4 dF", "on")


def test_a_limit_that_is_kept_gives_way_to_the_one_that_tells() -> None:
    assert _once([LOW, HIGH, FLOOR]) == [LOW, HIGH]
    assert _once([FLOOR, LOW, HIGH]) == [LOW, HIGH], "in the order of the walk"


def test_what_is_close_or_measured_otherwise_always_stays() -> None:
    assert _once([ON, CLOSE]) == [CLOSE]
    assert _once([HIGH, ON]) == [HIGH, ON]
    assert _once([FLOOR]) == [FLOOR]


def test_five_columns_or_one_below_the_other_never_wider_than_the_screen() -> None:
    for width in (1, 10, 40, 59, 60, 80, 140):
        lines = table([LOW, HIGH, CLOSE], width)
        assert all(line.content.cell_length <= max(width, 2) for line in lines)
        assert width < 40 or "▼ low" in joined(lines).plain
    assert "▲ high" in joined(table([HIGH], 80)).plain
    assert "= on, or low" in joined(table([CLOSE], 80)).plain


def test_the_picture_fits_whatever_height_there_is(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    for height in range(12):
        assert len(below(talk.walk, 80, height)) <= height
    assert "is it low" in text(below(talk.walk, 80, 12)), "the newest decision"


def test_the_way_is_that_of_the_circuit_walked(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("small", known={"circuits": {"cooler": {}, "freezer": {}}})
    typed(talk, "cooler", *BEGINNING)
    assert "is it low" in text(below(talk.walk, 80, 12))
    talk.press("details")
    assert "is it low" in text(talk.view(80).parts)


def test_the_clock_never_shows_nought_before_it_is_over() -> None:
    assert [minutes(seconds) for seconds in (0.2, 59.5, 60, 61.2, 3600)] == ["0:01", "1:00", "1:00", "1:02", "1:00:00"]
    for left in (300.0, 0.01, 150.0):
        assert "to go" in joined(laid_out([clock(left, 300.0)], 80)).plain
    assert "The time is over." in joined(laid_out([clock(0.0, 300.0)], 80)).plain
    assert "No time is given" in joined(laid_out([clock(0.0, None)], 80)).plain


def test_many_choices_stand_side_by_side_and_each_can_be_hit() -> None:
    words = tuple(f"cause number {number}" for number in range(33))
    for width in (1, 20, 40, 80, 100, 140):
        lines = laid_out([Columns(words, 32)], width)
        spots = [(line, spot) for line in lines for spot in line.spots]
        assert sorted(place for _, (_, _, place) in spots) == list(range(33))
        if width >= 20:
            for line, (start, end, place) in spots:
                assert line.content.plain[start:end].strip() == words[place]
                assert line.choice_at(start) == place
                assert end <= width
    assert len(laid_out([Columns(words, None)], 80)) <= 12, "all of them stand at 80x24"


def test_the_way_beside_the_question_leaves_out_what_told_nothing(talk: Talk, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(talk, *BEGINNING)
    told_nothing = TrailEntry("main", "small/known-leak", "earlier-leak is yes or otherwise", "carry on")
    monkeypatch.setattr(talk.walk, "trail", lambda: [told_nothing, replace(told_nothing, to="known-leak")])
    assert [each.to for each in telling(talk.walk)] == ["known-leak"]
