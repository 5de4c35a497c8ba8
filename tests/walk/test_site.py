"""Altitude and region are of the place: given once, corrected as a reading is, with what that changes shown first."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from tui.quantity import Quantity, Refused, standard_atmosphere
from tui.walk import Walk
from tui.walk.prompt import Given

Start = Callable[..., Walk]
HIGH = "6000 ft"


def to_suction(walk: Walk) -> Walk:
    for answer in ("R-134a", "yes", "14 oz"):
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    return walk


def site_of(walk: Walk, reading: str) -> Given:
    return next(each for each in walk.of_site() if each.reading == reading)


def pascals(walk: Walk) -> float:
    return walk.machine.at_site.atmosphere.pa


def again(walk: Walk) -> Walk:
    found = Walk.from_events(walk.library, json.loads(json.dumps(walk.events)))
    assert found.events == walk.events
    assert (found.prompt, found.of_site(), found.table()) == (walk.prompt, walk.of_site(), walk.table())
    return found


def test_an_altitude_that_was_answered_is_corrected(start: Start) -> None:
    walk = start(site={})
    assert [each.reading for each in walk.of_site()] == ["region"], "it is being asked for"
    walk.answer("600 ft")
    to_suction(walk).answer("14 psig")
    before = list(walk.events)
    was = walk.values()["evaporating-now"]
    change = walk.correct(site_of(walk, "altitude"), HIGH)
    assert walk.events == before
    assert (change.was, change.now) == ("600 ft", "6000 ft")
    assert any(line.startswith("evaporating now: ") and " -> " in line for line in change.differences)
    walk.accept(change)
    now = walk.values()["evaporating-now"]
    assert isinstance(was, Quantity)
    assert isinstance(now, Quantity)
    assert now.si < was.si - 2, "the same gauge pressure is less absolute pressure up there"
    assert pascals(walk) == pytest.approx(standard_atmosphere(6000 * 0.3048))
    assert site_of(walk, "altitude").shown == "6000 ft"
    again(walk)


def test_it_shows_the_verdicts_and_the_next_question_that_change(start: Start) -> None:
    walk = to_suction(start(site={"altitude": "0 ft"}))
    walk.answer("15 psig")
    assert walk.prompt is not None
    assert walk.prompt.kind == "offer"
    change = walk.correct(site_of(walk, "altitude"), "9000 ft")
    assert "evaporating now: low instead of as wanted" in change.differences
    assert any(each.startswith("Next: ") for each in change.differences)
    walk.accept(change)
    assert walk.findings == []
    assert walk.prompt.kind == "do"
    again(walk)


def test_of_the_settings_and_then_once_more(start: Start) -> None:
    walk = to_suction(start(site={"altitude": "0 ft", "region": "EU", "today": "2026-11-25"}))
    walk.accept(walk.correct(site_of(walk, "altitude"), "2000"))
    assert site_of(walk, "altitude").shown == "2000 ft"
    walk.accept(walk.correct(site_of(walk, "altitude"), "985 mbar"))
    assert site_of(walk, "altitude").shown == "barometer 985 mbar"
    assert pascals(walk) == pytest.approx(98_500)
    assert site_of(walk, "region").shown == "EU"
    assert str(walk.values()["today"]).startswith("20")
    again(walk)


def test_one_that_nobody_knew_is_given_later(start: Start) -> None:
    walk = start(site={})
    walk.couldnt("nobody knows")
    to_suction(walk)
    assert site_of(walk, "altitude").shown == "sea level, not set"
    walk.accept(walk.correct(site_of(walk, "altitude"), HIGH))
    assert pascals(walk) == pytest.approx(standard_atmosphere(6000 * 0.3048))
    walk.accept(walk.correct(site_of(walk, "altitude").event_no, "5000 ft"))
    assert site_of(walk, "altitude").shown == "5000 ft"
    again(walk)


def test_taken_back_it_is_asked_again(start: Start) -> None:
    walk = start(site={})
    walk.answer("600 ft")
    walk.accept(walk.correct(site_of(walk, "altitude"), HIGH))
    walk.undo()
    assert walk.prompt is not None
    assert walk.prompt.readings[0].id == "altitude"
    walk.answer("700 ft")
    assert site_of(walk, "altitude").shown == "700 ft"
    again(walk)


def test_the_region_is_corrected_or_set(start: Start) -> None:
    walk = to_suction(start(site={"altitude": "0 ft"}))
    assert site_of(walk, "region") == Given(0, "", "region", "not set")
    for region in ("EU", "US"):
        walk.accept(walk.correct(site_of(walk, "region"), region))
        assert walk.values()["region"] == region
        assert walk.machine.at_site.region == region
        assert site_of(walk, "region").shown == region
    assert not [each for each in walk.given() if each.reading == "region"]
    again(walk)


@pytest.mark.parametrize("text", ["high", "12 psig", "40000 ft", "3 bara", "600 ft", ""])
def test_what_is_no_altitude_or_the_same_is_refused(start: Start, text: str) -> None:
    walk = start(site={})
    walk.answer("600 ft")
    before = list(walk.events)
    with pytest.raises(Refused) as refused:
        walk.correct(site_of(walk, "altitude"), text)
    assert refused.value.cure
    assert walk.events == before


def test_it_is_corrected_and_not_told(start: Start) -> None:
    walk = start(site={"altitude": "0 ft", "region": "EU"})
    for reading, text in (("altitude", HIGH), ("region", "US")):
        with pytest.raises(Refused) as refused:
            walk.tell(reading, text)
        assert f"correct {reading}" in refused.value.cure


def test_what_was_known_before_and_is_told_otherwise_is_said(start: Start) -> None:
    history = [{"circuit": "main", "reading": "refrigerant", "value": "R-134a", "visit": "2026-05-01"}]
    walk = start(history=history)
    assert walk.contradicted("refrigerant", "R-134a") is None
    known = walk.contradicted("refrigerant", "R-290")
    assert known is not None
    assert (known.circuit, known.reading) == ("main", "refrigerant")
    assert walk.contradicted("fan", "running") is None
    assert walk.correct(known, "R-290").now == "R-290"
