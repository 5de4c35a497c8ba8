"""Prompts and answers: what is asked, what is taken, what is refused."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from tui.quantity import Kind, Quantity, Refused
from tui.walk import Walk
from tui.walk.reading import accuracy_of

Start = Callable[..., Walk]


def refused(code: str) -> pytest.RaisesExc[Refused]:
    return pytest.RaisesExc(Refused, check=lambda error: error.code == code)


def test_the_first_prompt_asks_for_the_first_reading(start: Start) -> None:
    prompt = start().prompt
    assert prompt is not None
    assert (prompt.kind, prompt.tree, prompt.step, prompt.circuit) == (
        "ask",
        "small",
        "ask-refrigerant",
        "main",
    )
    assert [reading.id for reading in prompt.readings] == ["refrigerant"]
    assert ("R-290", "R-290") in prompt.readings[0].choices


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "unreadable"), ("R-404A", "unsupported-refrigerant"), ("banana", "unknown-refrigerant")],
)
def test_a_wrong_answer_changes_nothing(start: Start, text: str, code: str) -> None:
    walk = start()
    before = list(walk.events)
    with pytest.raises(Refused) as error:
        walk.answer(text)
    assert error.value.code == code or code == "unreadable"
    assert error.value.message
    assert walk.events == before


def test_a_refrigerant_is_understood_as_people_type_it(start: Start) -> None:
    walk = start()
    walk.answer("r134a")
    assert walk.events[-1]["value"]["value"] == "R-134a"


def test_a_bare_number_takes_the_unit_in_the_box(low: Walk) -> None:
    prompt = low.prompt
    assert prompt is not None
    assert prompt.readings[0].unit == "psig"
    low.answer("4")
    answered = next(e for e in reversed(low.events) if e["event"] == "answered")
    assert answered["value"]["value"] == "4"
    assert answered["value"]["gauge"] is True
    assert answered["good_to"] == "0.5 psi"


def test_metric_sessions_show_metric_boxes(start: Start) -> None:
    walk = start(units="SI")
    walk.answer("R-134a")
    walk.answer("yes")
    prompt = walk.prompt
    assert prompt is not None
    assert prompt.readings[0].unit == "g"


def test_several_at_once_and_the_rest_is_asked_on(start: Start) -> None:
    walk = start()
    for answer in ("R-134a", "yes", "14 oz"):
        walk.answer(answer)
    walk.answer({"box-wanted": "35 °F"})
    prompt = walk.prompt
    assert prompt is not None
    assert [reading.id for reading in prompt.readings] == ["fan"]
    assert dict(prompt.known) == {"box-wanted": "35 °F"}


def test_all_of_several_is_taken_or_nothing(start: Start) -> None:
    walk = start()
    for answer in ("R-134a", "yes", "14 oz"):
        walk.answer(answer)
    before = list(walk.events)
    with pytest.raises(Refused):
        walk.answer({"fan": "running", "box-wanted": "35 parsec"})
    with refused("not-asked"):
        walk.answer({"fan": "running", "suction": "4 psig"})
    assert walk.events == before


def test_told_before_it_is_asked_it_is_known(start: Start) -> None:
    walk = start()
    walk.tell("suction", "4 psig")
    walk.tell("door", "no")
    for answer in ("R-134a", "14 oz"):
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    prompt = walk.prompt
    assert prompt is not None
    assert prompt.kind == "do"


def test_telling_answers_the_prompt_it_waits_for(low: Walk) -> None:
    low.tell("suction", "4 psig")
    assert low.prompt is not None
    assert low.prompt.kind == "do"


def test_taken_again_while_fresh_is_averaged(low: Walk) -> None:
    low.answer("4.0")
    low.tell("suction", "4.4")
    judged = [e for e in low.events if e["event"] == "judged"]
    assert len(judged) == 2
    value = low.machine.circuits["main"].facts.values["suction"]
    assert isinstance(value, Quantity)
    assert value.to("psig") == pytest.approx(4.2)
    assert len(low.machine.circuits["main"].facts.series["suction"]) == 1


def test_taken_again_and_quite_another_is_refused(low: Walk) -> None:
    low.answer("4.0")
    with refused("differs"):
        low.tell("suction", "40")


def test_nothing_is_told_under_a_wrong_name(low: Walk) -> None:
    with pytest.raises(Refused) as error:
        low.tell("sucktion", "4")
    assert "suction" in error.value.cure


def test_below_a_full_vacuum_is_refused(low: Walk) -> None:
    with pytest.raises(Refused):  # at sea level a full vacuum is -14.696 psig
        low.answer("-14.9 psig")


def test_wrong_kind_of_quantity_is_refused(low: Walk) -> None:
    with refused("wrong-kind"):
        low.answer(Quantity(Kind.MASS, 1.0))


def test_the_altitude_is_asked_once_where_it_is_not_known(start: Start) -> None:
    walk = start(site={})
    prompt = walk.prompt
    assert prompt is not None
    assert prompt.readings[0].id == "altitude"
    with pytest.raises(Refused):
        walk.answer("200000 ft")
    walk.answer("5000 ft")
    assert walk.machine.at_site.atmosphere.pa == pytest.approx(84307, abs=20)  # ISO 2533, 1,524 m
    assert walk.prompt is not None
    assert walk.prompt.step == "ask-refrigerant"


def test_sea_level_where_nobody_knows_and_it_says_so(start: Start) -> None:
    walk = start(site={})
    walk.couldnt("no idea")
    assert "not set" in walk.machine.at_site.atmosphere.source


def test_couldnt_goes_where_the_tree_says(start: Start) -> None:
    walk = start()
    walk.answer("R-134a")
    walk.answer("yes")
    walk.couldnt("plate painted over")
    assert walk.findings[0].at == "small/no-plate"
    assert walk.prompt is None


def test_what_must_be_had_cannot_be_missed(start: Start) -> None:
    walk = start()
    with refused("must"):
        walk.couldnt("do not know")


def test_couldnt_needs_a_reason(low: Walk) -> None:
    for nothing in ("  ", "4", "-"):
        with refused("no-reason"):
            low.couldnt(nothing)


def test_unknown_verdict_goes_the_unsettled_way(low: Walk) -> None:
    low.couldnt("no port")
    assert low.findings[0].at == "small/cannot-say"
    assert low.findings[0].cause == "cannot-tell"
    assert low.findings[0].could_be == ("short-of-charge", "refrigeration-is-well")


def test_a_caution_is_shown_only_where_it_holds(start: Start) -> None:
    for refrigerant, expected in (("R-134a", ("Gloves on.",)), ("R-290", ("Gloves on.", "No flame."))):
        walk = start()
        for answer in (refrigerant, "yes", "14 oz"):
            walk.answer(answer)
        walk.answer({"fan": "running", "box-wanted": "35 °F"})
        assert walk.prompt is not None
        assert walk.prompt.cautions == expected


def test_what_is_not_asked_for_is_refused(low: Walk) -> None:
    for act in (low.acknowledge, low.done, lambda: low.waited(1), lambda: low.accept_offer(True)):
        with refused("not-now"):
            act()


def test_the_echo_says_it_back_and_writes_nothing(low: Walk) -> None:
    before = list(low.events)
    echo = low.try_answer("4")
    assert echo.ok
    assert "4.0 psig" in echo.words
    assert any("saturated at" in line for line in echo.beside)
    assert any("below wanted" in line for line in echo.beside)
    bad = low.try_answer("4 furlongs")
    assert not bad.ok
    assert bad.problem
    assert low.events == before


def test_a_note_and_an_own_finding_stay_in_the_record(low: Walk) -> None:
    low.note("oil under the [condenser] \x1b[31m")
    low.own_finding("drier-blocked", "it is cold behind the drier")
    assert [e["event"] for e in low.events[-2:]] == ["noted", "own-finding"]
    with refused("no-such-cause"):
        low.own_finding("gremlins", "heard them")


def test_a_note_may_be_about_what_stands_by_itself_on_paper(low: Walk) -> None:
    low.note("repair, today", about="customer")
    assert low.events[-1] == {"event": "noted", "circuit": "main", "text": "repair, today", "about": "customer"}
    low.note("by itself")
    assert "about" not in low.events[-1]
    with refused("not-a-choice"):
        low.note("blue", about="weather")
    assert Walk.from_events(low.library, low.events).events == low.events


def test_units_and_trees_and_instruments_are_checked_at_the_start(start: Start) -> None:
    with refused("no-such-tree"):
        start("smal")
    with refused("not-a-choice"):
        start(units="imperial")
    with refused("no-such-instrument"):
        start(instruments={"low-gage": "0.1 psi"})
    with refused("no-such-reading"):
        start(known={"dor": "yes"})
    with refused("no-unit"):
        start(known={"circuits": {"main": {"box-wanted": "35"}}})


def test_a_better_instrument_counts_from_the_start(start: Start) -> None:
    walk = start(instruments={"low-gauge": "0.1 psi"})
    for answer in ("R-134a", "yes", "14 oz"):
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    walk.answer("4")
    answered = next(e for e in reversed(walk.events) if e["event"] == "answered")
    assert answered["good_to"] == "0.1 psi"


def test_an_instrument_is_good_to_what_it_reads(start: Start, low: Walk) -> None:
    with refused("wrong-kind"):
        start(instruments={"low-gauge": "1 dF"})
    with refused("wrong-kind"):
        low.answer("4 psig", instrument="3 g")
    low.answer("4 psig", instrument="0.2 psi")
    assert [e["good_to"] for e in low.events if e.get("reading") == "suction"] == ["0.2 psi"]


@pytest.mark.parametrize("text", ["0 psi", "-1 psi", "0 % of reading", "90 psi + 30 psi", "100 % of reading"])
def test_an_instrument_that_is_never_wrong_or_always_is_none(start: Start, low: Walk, text: str) -> None:
    """Good to nothing it would settle every close call; the widest would leave every verdict open."""
    with pytest.raises(Refused) as error:
        start(instruments={"low-gauge": text})
    assert "0.5 psi" in error.value.cure
    with pytest.raises(Refused):
        low.answer("11.4 psig", instrument=text)
    with pytest.raises(Refused):
        low.tell("suction", "11.4 psig", instrument=text)
    low.answer("11.4 psig")
    low.answer("better")
    assert not low.try_answer(text).ok
    with pytest.raises(Refused):
        low.answer(text)
    assert low.prompt is not None
    assert low.prompt.readings[0].id == "good-to", "the close call is not settled by it"


def test_an_error_wider_than_the_readings_is_refused(start: Start) -> None:
    """Off by half the range each way nothing is read."""
    catalogue = start().library.catalogue
    wide = replace(catalogue.readings["suction"], low=0.0, high=10 * 6894.757, range_text="0 psig to 10 psig")
    narrow = replace(catalogue, readings={**catalogue.readings, "suction": wide})
    accuracy_of(narrow, "low-gauge", "4.9 psi")
    with pytest.raises(Refused) as error:
        accuracy_of(narrow, "low-gauge", "5.1 psi")
    assert "0 psig to 10 psig" in error.value.message


def test_who_walks_and_when_the_gauges_were_calibrated_stand_in_the_opening(start: Start) -> None:
    walk = start(technician="p-1f0c22ab", calibrated={"low-gauge": "2026-03-01"})
    assert walk.events[0]["technician"] == "p-1f0c22ab"
    assert walk.events[0]["calibrated"] == {"low-gauge": "2026-03-01"}
    with refused("not-an-id"):
        start(technician="An Example Name")
    with refused("no-such-instrument"):
        start(calibrated={"low-gage": "2026-03-01"})
    with refused("unreadable"):
        start(calibrated={"low-gauge": "yesterday"})


@pytest.mark.parametrize("seconds", [float("nan"), float("inf"), -1.0])
def test_no_time_that_one_can_wait(low: Walk, seconds: float) -> None:
    low.answer("4 psig")
    low.done()
    low.answer("5000 g")
    low.done()
    low.answer("4950 g")
    with refused("out-of-range"):
        low.waited(seconds, "in a hurry")


def test_history_and_circuits_are_checked(start: Start) -> None:
    with refused("bad-history"):
        start(history=[{"circuit": "main", "reading": "refrigerant"}])
    with refused("no-name"):
        start(known={"circuits": {"": {}}})


def test_what_could_not_be_had_rules_nothing_out(low: Walk) -> None:
    low.couldnt("no port")
    assert [each["cause"] for each in low.findings[0].ruled_out] == ["evaporator-fan"]
    finding = next(event for event in low.events if event["event"] == "finding")
    assert "drier-blocked" in finding["still_possible"]
