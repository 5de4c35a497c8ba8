"""A unit's tag mended in the visit: on the sheet, with the right unit's history, and found by later visits."""

from __future__ import annotations

from pathlib import Path

from tests.app.lines import events, page, said, typed
from tests.desk.test_before import SEA, TODAY, bundled, known, recorded
from tests.record.helpers import HandClock
from tui.app.talk import Talk
from tui.desk.before import before
from tui.desk.session import Visit
from tui.desk.store import Store
from tui.record import read, verify
from tui.record.replay import replay
from tui.review import sheet_of
from tui.review.brief import brief
from tui.walk import Walk


def talk_at(folder: Path, unit: str) -> Talk:
    walk = Walk.start(bundled(), "both-low", history=before(folder, unit, bundled(), TODAY).items, site=SEA, unit=unit)
    clock = HandClock()
    return Talk(Visit.begin_in(Store(folder), walk, clock, unit))


def mended(talk: Talk, unit: str) -> None:
    talk.press("correct")
    typed(talk, "unit", unit)
    assert "the file keeps its name" in " ".join(page(talk).split())
    typed(talk, "yes")


def test_the_right_units_history_counts_and_the_wrong_ones_does_not(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    recorded(tmp_path, "call-ice", "R-8")
    talk = talk_at(tmp_path, "R-8")
    wrong = {each.reading: each.shown for each in talk.walk.from_before()}
    mended(talk, "R-7")
    assert talk.title()[0].startswith("R-7")
    right = {each.reading: each.shown for each in talk.walk.from_before()}
    assert right["earlier-finding"].startswith("Short of refrigerant")
    assert right != wrong
    path = talk.visit.path
    assert path is not None
    talk.visit.leave()
    assert "-R-8-" in path.name, "the name of a file never changes"
    assert verify(path).state == "open"
    assert replay(path).same
    assert "Unit                   R-7\n" in sheet_of(read(path))
    assert brief(path).unit == "R-7"


def test_later_visits_find_it_under_the_right_tag_alone(tmp_path: Path) -> None:
    talk = talk_at(tmp_path, "wcc-7/*")
    mended(talk, "WCC-7")
    typed(talk, "R-134a", "yes", "nameplate charge 14 oz")
    talk.visit.leave()
    assert known(before(tmp_path, "WCC-7", bundled(), TODAY))["nameplate-charge"].typed == "14 oz"
    assert before(tmp_path, "wcc-7/*", bundled(), TODAY).items == ()


def test_a_tag_can_be_mended_twice_and_never_takes_its_own_visit_for_an_earlier_one(tmp_path: Path) -> None:
    talk = talk_at(tmp_path, "wcc7")
    typed(talk, "R-134a", "yes", "nameplate charge 14 oz")
    mended(talk, "WCC7")
    mended(talk, "WCC-7")
    assert [event["history"] for event in events(talk, "corrected")] == [[], []]
    assert talk.title()[0].startswith("WCC-7")
    assert said(talk).startswith("Corrected")
    assert Walk.from_events(talk.walk.library, talk.walk.events).prompt == talk.walk.prompt
