"""What could not be had stands among what was answered, and can be given after all."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.app.lines import events, page, said, typed
from tui.app.talk import Talk
from tui.desk.past import past_of
from tui.record import read
from tui.review import sheet_of
from tui.walk import Walk

TO_SUCTION = ("r134a", "yes", "14 oz", "running", "couldn't no probe", "")


def not_had(talk: Talk) -> list[str]:
    return [each.reading for each in talk.walk.given() if not each.had]


def test_it_is_listed_and_put_right(talk: Talk) -> None:
    typed(talk, *TO_SUCTION)
    assert not_had(talk) == ["box-wanted"]
    typed(talk, "correct")
    assert "1 box wanted not had" in page(talk)
    typed(talk, "1")
    assert "box wanted: not had. What is right?" in page(talk)
    assert "strike it out" not in talk.view(80).hint
    typed(talk, "35")
    assert "box wanted: not had becomes 35 °F." in page(talk)
    typed(talk, "yes")
    assert not_had(talk) == []
    assert ("box-wanted", "35 °F") in [(each.reading, each.shown) for each in talk.walk.given()]


def test_it_counts_as_if_it_had_been_read_then(talk_of: Callable[..., Talk], tmp_path: Path) -> None:
    talk = talk_of(path=tmp_path / "visit.jsonl")
    typed(talk, *TO_SUCTION, "correct box wanted 35", "yes", "4")
    straight = talk_of()
    typed(straight, *TO_SUCTION[:4], "35", "", "4")
    assert talk.walk.prompt == straight.walk.prompt
    assert talk.walk.table() == straight.walk.table()
    assert Walk.from_events(talk.walk.library, talk.walk.events).prompt == talk.walk.prompt
    talk.visit.record()
    assert talk.visit.path is not None
    told = sheet_of(read(talk.visit.path))
    assert "Box wanted could not be had, corrected to 35 °F" in told
    past = past_of(talk.walk.events, "2026-11-25", talk.walk.library.catalogue)
    assert ("main", "box-wanted") in past.values


def test_put_right_it_may_be_put_right_again_and_struck_out(talk: Talk) -> None:
    typed(talk, *TO_SUCTION, "correct box wanted 35", "yes", "correct box wanted 36", "yes")
    assert events(talk, "corrected")[0]["was"] is None
    assert ("box-wanted", "36 °F") in [(each.reading, each.shown) for each in talk.walk.given()]
    typed(talk, "correct box wanted never had", "yes")
    assert talk.walk.prompt is not None
    assert talk.walk.prompt.readings[0].id == "box-wanted"


def test_what_is_known_since_is_listed_once(talk: Talk) -> None:
    typed(talk, *TO_SUCTION, "box wanted 35")
    assert not_had(talk) == []


def test_taken_back_it_is_not_listed(talk: Talk) -> None:
    typed(talk, *TO_SUCTION[:5], "back", "yes")
    assert not_had(talk) == []


def test_several_not_had_at_once_are_put_right_one_by_one(talk: Talk) -> None:
    typed(talk, *TO_SUCTION[:3])
    talk.act(lambda walk: walk.couldnt("no light"))
    assert not_had(talk) == ["fan", "box-wanted"]
    typed(talk, "correct fan running", "yes")
    assert not_had(talk) == ["box-wanted"]


@pytest.mark.parametrize("line", ["not known", "Not known", "unknown", "I don't know", "box wanted not known"])
def test_plain_words_say_that_it_can_not_be_had(talk: Talk, line: str) -> None:
    typed(talk, *TO_SUCTION[:4])
    talk.typing(line)
    assert said(talk) == "taken as not known: it can't be had"
    typed(talk, line)
    assert said(talk) == "recorded box wanted: not had"
    assert not_had(talk) == ["box-wanted"]


def test_an_altitude_that_nobody_knows_is_said_to_be_the_sea(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of(site={})
    typed(talk, "not known")
    assert said(talk) == "recorded altitude: sea level, not set"


def test_not_where_it_has_to_be_found_out(talk: Talk) -> None:
    assert not talk.enter("not known")
    assert "It can't go on without an answer" in said(talk)


def test_of_another_reading_they_are_nothing_to_record(talk: Talk) -> None:
    typed(talk, *TO_SUCTION[:4])
    talk.enter("suction not known")
    assert "where it is asked, type: not known" in said(talk)
    assert not_had(talk) == []


def test_with_several_circuits_it_is_said_of_which(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of(known={"circuits": {"cooler": {}, "freezer": {}}})
    typed(talk, "cooler", *TO_SUCTION[:4], "not known")
    assert said(talk) == "recorded cooler box wanted: not had"
