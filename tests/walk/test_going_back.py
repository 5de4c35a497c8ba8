"""Undo moves the place, never the world; corrections are seen before they count; replay is the same."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from tui.quantity import Quantity, Refused
from tui.tree.embed import extract
from tui.tree.library import Library
from tui.walk import DoesNotReplay, Walk

Start = Callable[..., Walk]
LOW, WELL = "4 psig", "15 psig"


def adding(walk: Walk) -> Walk:
    walk.answer(LOW)
    walk.done()
    walk.answer("5000 g")
    walk.done()
    walk.answer("4950 g")
    walk.waited(240)
    return walk


def value(walk: Walk, reading: str) -> float:
    found = walk.machine.circuits["main"].facts.values[reading]
    assert isinstance(found, Quantity)
    return found.si


def replayed(walk: Walk) -> Walk:
    events = json.loads(json.dumps(walk.events))
    return Walk.from_events(walk.library, events)


def test_undo_asks_the_last_question_again(low: Walk) -> None:
    low.answer(LOW)
    low.undo()
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["suction"]
    low.answer(WELL)
    assert low.prompt is not None
    assert low.prompt.kind == "offer"


def test_undo_of_several(low: Walk) -> None:
    low.undo(2)
    assert low.prompt is not None
    assert {r.id for r in low.prompt.readings} == {"fan", "box-wanted"}


def test_nothing_to_undo(start: Start) -> None:
    with pytest.raises(Refused) as error:
        start().undo()
    assert error.value.code == "nothing-to-undo"


def test_undo_never_uncharges_a_circuit(low: Walk) -> None:
    adding(low)
    low.undo(3)  # the scale after, the scale before, the suction: the addition between them stays
    facts = low.machine.circuits["main"].facts
    assert "adds refrigerant" in facts.done
    assert facts.left == ["cylinder on"]
    low.answer(LOW)
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["scale"]
    low.answer("4950 g")
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["scale"], "the addition is not asked for a second time"
    low.answer("4950 g")
    assert low.prompt is not None
    assert low.prompt.step == "add-some", "nor is the wait; suction was taken just now, so the next round begins"
    low.done()
    low.answer("4900 g")
    low.waited(240)
    low.answer(WELL)
    low.done()
    assert "3.53 oz" in low.findings[0].seen  # 100 g went in: 50 g twice


def test_cautions_stay_acknowledged_after_undo(low: Walk) -> None:
    low.undo(2)
    low.answer({"fan": "running", "box-wanted": "35 °F"})
    assert low.prompt is not None
    assert low.prompt.kind == "ask"


def test_a_correction_is_seen_before_it_counts(low: Walk) -> None:
    low.answer(WELL)
    number = next(n for n, e in enumerate(low.events) if e.get("reading") == "suction")
    before = list(low.events)
    change = low.correct(number, "4 psig")
    assert low.events == before
    assert (change.was, change.now) == ("15.0 psig", "4.0 psig")
    assert any("low instead of as wanted" in line for line in change.differences)
    low.accept(change)
    assert low.prompt is not None
    assert low.prompt.step == "connect"
    assert low.findings == []
    assert [e["event"] for e in low.events if e["event"] == "corrected"] == ["corrected"]


def test_a_correction_keeps_what_was_done(low: Walk) -> None:
    adding(low)
    number = next(n for n, e in enumerate(low.events) if e.get("reading") == "box-wanted")
    change = low.correct(number, "30 °F")
    low.accept(change)
    facts = low.machine.circuits["main"].facts
    assert "adds refrigerant" in facts.done
    assert value(low, "box-wanted") == pytest.approx(272.04, abs=0.01)


def test_a_correction_of_yesterday_is_refused(low: Walk) -> None:
    low.answer(WELL)
    number = next(n for n, e in enumerate(low.events) if e.get("reading") == "suction")
    change = low.correct(number, "4 psig")
    low.note("meanwhile")
    with pytest.raises(Refused) as error:
        low.accept(change)
    assert error.value.code == "outdated"


@pytest.mark.parametrize("number", [-1, 0, 10_000])
def test_only_readings_are_corrected(low: Walk, number: int) -> None:
    with pytest.raises(Refused):
        low.correct(number, "4 psig")


def test_the_same_value_is_no_correction(low: Walk) -> None:
    low.answer(WELL)
    number = next(n for n, e in enumerate(low.events) if e.get("reading") == "suction")
    with pytest.raises(Refused):
        low.correct(number, "15 psig")


def test_replay_gives_the_same_events(low: Walk) -> None:
    adding(low)
    low.answer(WELL)
    low.done()
    again = replayed(low)
    assert again.events == low.events
    assert again.findings == low.findings


def test_replay_after_undo_and_correction(low: Walk) -> None:
    adding(low)
    low.undo(2)
    number = next(n for n, e in enumerate(low.events) if e.get("reading") == "box-wanted")
    low.accept(low.correct(number, "33 °F"))
    low.note("so")
    again = replayed(low)
    assert again.events == low.events
    assert again.prompt == low.prompt


def test_what_a_correction_says_again_names_the_input_it_follows(low: Walk) -> None:
    low.answer(WELL)
    given = {each.reading: each.event_no for each in low.given()}
    low.accept(low.correct(given["box-wanted"], "33 °F"))
    again = low.events[next(n for n, e in enumerate(low.events) if e["event"] == "corrected") + 1 :]
    assert {e["follows"] for e in again if e["event"] in ("judged", "finding")} == {given["suction"]}


def test_a_correction_of_an_older_file_replays_without_that(low: Walk) -> None:
    low.answer(WELL)
    low.accept(low.correct(next(n for n, e in enumerate(low.events) if e.get("reading") == "box-wanted"), "33 °F"))
    older = [{part: value for part, value in e.items() if part != "follows"} for e in low.events]
    assert older != low.events
    assert Walk.from_events(low.library, older).findings == low.findings


def test_a_replay_needs_no_property_tables(low: Walk, monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything that was looked up stands in the events, also for a screen that asked in between."""
    adding(low)
    low.try_answer("3 psig")
    low.answer(WELL)
    low.done()

    def nowhere(*asked: object) -> None:
        raise AssertionError(f"looked up: {asked}")

    monkeypatch.setattr("tui.trade.TableProperties.look", nowhere)
    monkeypatch.setattr("tui.trade.TableProperties.fact", nowhere)
    assert replayed(low).events == low.events
    with pytest.raises(AssertionError):
        Walk.from_events(low.library, low.events, recompute=True)


def test_cut_anywhere_it_goes_on_and_writes_what_was_missing(low: Walk) -> None:
    adding(low)
    low.answer(WELL)
    low.done()
    whole = low.events
    for cut in range(1, len(whole)):
        again = Walk.from_events(low.library, json.loads(json.dumps(whole[:cut])))
        assert again.events[:cut] == whole[:cut]
        assert again.events == whole[: len(again.events)]


def test_another_tree_is_found_out(low: Walk, library: Library) -> None:
    low.answer(LOW)
    events = json.loads(json.dumps(low.events))
    judged = next(e for e in events if e["event"] == "judged")
    judged["verdict"] = "high"
    with pytest.raises(DoesNotReplay) as error:
        Walk.from_events(library, events)
    assert error.value.difference.what == "judged verdict"
    assert (error.value.difference.then, error.value.difference.now) == ("high", "low")


def test_a_reading_that_no_tree_uses_does_not_hinder_a_replay(low: Walk) -> None:
    low.tell("line", "30 °F")
    low.answer(LOW)
    known = extract(low.events)
    assert "line" not in known.entries["readings"]
    again = Walk.from_events(Library.from_texts(known.texts(), partial=True), low.events)
    assert again.events == low.events
    assert again.prompt == low.prompt


def test_a_session_without_an_opening_is_none(library: Library) -> None:
    for events in ([], [{"event": "noted"}]):
        with pytest.raises(Refused):
            Walk.from_events(library, events)


# ---- what was known before the visit


OF_BEFORE = [
    {"circuit": "main", "reading": "refrigerant", "value": "R-134a", "visit": "2026-05-01"},
    {"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"},
]


def past_the_gloves(start: Start) -> Walk:
    walk = start(history=OF_BEFORE)
    walk.answer("yes")
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    walk.answer(LOW)
    assert walk.prompt is not None
    assert walk.prompt.step == "connect"
    return walk


def test_another_refrigerant_than_before_brings_back_its_caution(start: Start) -> None:
    walk = past_the_gloves(start)
    walk.tell("refrigerant", "R-290")
    assert walk.prompt is not None
    assert walk.prompt.kind == "caution", "the flammable one was not shown for R-134a"
    assert any("flame" in words.lower() or "flammable" in words.lower() for words in walk.prompt.cautions)
    assert walk.values()["refrigerant"] == "R-290"
    assert replayed(walk).events == walk.events
    assert replayed(walk).prompt == walk.prompt


def test_what_was_known_is_corrected_like_any_reading(start: Start) -> None:
    walk = past_the_gloves(start)
    known = next(given for given in walk.from_before() if given.reading == "refrigerant")
    events = list(walk.events)
    change = walk.correct(known, "R-290")
    assert walk.events == events
    assert (change.was, change.now) == ("R-134a", "R-290")
    assert any(line.startswith("Next: ") for line in change.differences)
    walk.accept(change)
    assert [given.reading for given in walk.from_before()] == ["nameplate-charge"]
    again = next(given for given in walk.given() if given.reading == "refrigerant")
    walk.accept(walk.correct(again.event_no, "R-134a"))
    assert walk.prompt is not None
    assert walk.prompt.step == "connect", "a slip in the correction is mended the same way"
    assert replayed(walk).events == walk.events


def test_the_same_as_before_is_no_correction(start: Start) -> None:
    walk = past_the_gloves(start)
    walk.tell("refrigerant", "R-134a")
    assert not any(event["event"] == "corrected" for event in walk.events)
    assert walk.prompt is not None
    assert walk.prompt.step == "connect"


@pytest.mark.parametrize("of_before", [True, False])
def test_told_once_more_and_corrected_it_goes_back_to_the_first_time(start: Start, of_before: bool) -> None:
    """The decisions rest on the first time: a correction of the second alone would pass the caution by."""
    walk = start(history=OF_BEFORE if of_before else [])
    if not of_before:
        walk.answer("R-134a")
    walk.answer("yes")
    if not of_before:
        walk.answer("14 oz")
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    walk.tell("refrigerant", "R-134a")
    last = [given for given in walk.given() if given.reading == "refrigerant"][-1]
    walk.accept(walk.correct(last.event_no, "R-290"))
    assert walk.prompt is not None
    assert walk.prompt.kind == "caution"
    assert walk.values()["refrigerant"] == "R-290"
    assert [given.shown for given in walk.given() if given.reading == "refrigerant"] == ["R-290"]
    assert replayed(walk).events == walk.events
    assert replayed(walk).prompt == walk.prompt


def test_an_undo_leaves_what_was_known_corrected(start: Start) -> None:
    walk = past_the_gloves(start)
    walk.tell("nameplate-charge", "9 oz")
    walk.undo(3)
    assert value(walk, "nameplate-charge") == pytest.approx(9 * 0.028349523125)
    assert replayed(walk).events == walk.events
    assert replayed(walk).given() == walk.given()


def test_circuits_known_before_can_be_others(start: Start) -> None:
    history = [{"circuit": "", "reading": "circuits", "value": "left, right", "visit": "2026-05-01"}]
    walk = start("named-unit", history=history)
    assert walk.prompt is not None
    assert walk.prompt.kind == "which-circuit"
    walk.tell("circuits", "1")
    assert walk.prompt is not None
    assert (walk.prompt.kind, walk.prompt.circuit) == ("ask", "main")
    assert replayed(walk).prompt == walk.prompt


def test_a_proposal_says_what_a_finding_would_say_otherwise(low: Walk) -> None:
    adding(low)
    low.answer(WELL)
    low.done()
    assert "After 1.76 oz" in low.findings[0].seen
    first = next(each for each in low.given() if each.reading == "scale")
    change = low.correct(first, "5050 g")
    assert any(line.startswith("It would say: After 3.53 oz") for line in change.differences)
