"""Rounds, freshness, close calls, circuits, ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from shutil import copytree

import pytest

from tests.walk.conftest import SEA, low_of
from tui.quantity import Quantity, Refused
from tui.tree.library import Library
from tui.walk import Walk

LIBRARY = Path(__file__).parent / "library"
Start = Callable[..., Walk]
LOW, WELL = "4 psig", "15 psig"  # R-134a: about -4 °F and 15 °F evaporating; wanted 10 to 20 °F


def to_the_cylinder(walk: Walk) -> Walk:
    walk.answer(LOW)
    walk.done()
    walk.answer("5000 g")
    return walk


def one_round(walk: Walk, scale: str, suction: str) -> None:
    walk.done()
    walk.answer(scale)
    walk.waited(240)
    walk.answer(suction)


def test_a_whole_walk_to_a_finding(low: Walk) -> None:
    to_the_cylinder(low)
    one_round(low, "4950 g", LOW)
    assert low.prompt is not None
    assert low.prompt.step == "add-some"
    one_round(low, "4900 g", WELL)
    prompt = low.prompt
    assert prompt is not None
    assert (prompt.kind, prompt.words) == ("do", "Cylinder closed and off.")
    assert low.findings == []
    low.done()
    assert low.prompt is None
    finding = low.findings[0]
    assert (finding.circuit, finding.at, finding.cause) == ("main", "small/came-up", "short-of-charge")
    assert "3.53 oz" in finding.seen
    assert {"at": "small/what-now", "says": "on or high", "to": "came-up"} in finding.evidence
    assert any(e.get("what") == "evaporating now" and e["measured"] for e in finding.evidence)
    assert {item["cause"] for item in finding.ruled_out} >= {"evaporator-fan", "refrigeration-is-well"}


def test_each_round_asks_afresh_what_it_asks_itself(low: Walk) -> None:
    to_the_cylinder(low)
    low.done()
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["scale"]


def test_work_makes_running_readings_stale(low: Walk) -> None:
    to_the_cylinder(low)
    low.done()
    low.answer("4950 g")
    low.waited(240)
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["suction"]


def test_a_row_read_before_the_work_is_not_shown_as_today(low: Walk) -> None:
    low.answer(LOW)
    assert [(row.says, row.earlier) for row in low.table()] == [("low", False)]
    low.done()
    low.answer("5000 g")
    low.done()
    assert [(row.says, row.earlier) for row in low.table()] == [("low", True)]
    low.answer("4950 g")
    low.waited(240)
    low.answer(WELL)
    assert [(row.says, row.earlier) for row in low.table()] == [("on", False)]


def test_a_stop_ends_the_rounds_before_the_plate_is_passed(low: Walk) -> None:
    to_the_cylinder(low)
    one_round(low, "4580 g", LOW)  # 420 g of 14 oz (397 g) went in
    low.done()
    assert low.findings[0].at == "small/over-the-plate"
    assert low.findings[0].cause == "cannot-tell"


def test_rounds_run_out(low: Walk) -> None:
    to_the_cylinder(low)
    for scale in ("4990 g", "4980 g", "4970 g"):
        one_round(low, scale, LOW)
    low.done()
    assert low.findings[0].at == "small/never-came-up"


def test_a_wait_cut_short_needs_a_reason(low: Walk) -> None:
    to_the_cylinder(low)
    low.done()
    low.answer("4950 g")
    with pytest.raises(Refused) as error:
        low.waited(10)
    assert error.value.code == "too-early"
    for nothing in ("5", "2.5 +", "x"):
        with pytest.raises(Refused) as error:
            low.waited(10, nothing)
        assert error.value.code == "no-reason"
    low.waited(10, "customer pressed")
    waited = next(e for e in reversed(low.events) if e["event"] == "waited")
    assert (waited["asked"], waited["actual"]) == ("240.0", "10.0")
    assert waited["skipped_because"] == "customer pressed"


def test_what_is_left_on_is_cleared_before_any_end(low: Walk) -> None:
    to_the_cylinder(low)
    low.done()
    low.couldnt("scale broke")
    prompt = low.prompt
    assert prompt is not None
    assert prompt.words == "Cylinder closed and off."
    with pytest.raises(Refused):
        low.couldnt("no time")
    low.done()
    assert low.findings[0].at == "small/no-scale"


# ---- close calls: wanted 10 to 20 °F; R-134a is at 10 °F at about 12 psig, good to 0.5 psi is about 1 °F

EDGE = "12.0 psig"


def choices(walk: Walk) -> list[str]:
    assert walk.prompt is not None
    assert walk.prompt.kind == "close-call"
    return [choice for choice, _ in walk.prompt.choices]


def test_a_close_call_that_must_be_settled_stops(low: Walk) -> None:
    low.answer(EDGE)
    assert choices(low) == ["zero", "again", "better", "go-on"]


def test_left_open_it_takes_the_row_the_tree_wrote(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("go-on")
    assert low.findings[0].at == "small/cannot-say"


def test_again_averages_and_asks_only_what_it_hangs_on(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("again")
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["suction"]
    low.answer("12.4 psig")
    assert choices(low)  # the same gauge: repeating does not shrink its error
    value = low.machine.circuits["main"].facts.values["suction"]
    assert isinstance(value, Quantity)
    assert value.to("psig") == pytest.approx(12.2)


def test_again_and_quite_another_stands_in_for_the_first(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("again")
    low.answer("-6.4 psig")
    value = low.machine.circuits["main"].facts.values["suction"]
    assert isinstance(value, Quantity)
    assert value.to("psig") == pytest.approx(-6.4)


def test_zeroing_the_gauge_settles_it(low: Walk) -> None:
    low.answer("11.4 psig")
    low.answer("zero")
    assert low.prompt is not None
    assert (low.prompt.kind, low.prompt.words) == ("do", "Open it to the air and zero it.")
    low.done()
    assert low.prompt.kind == "ask"
    low.answer("11.4 psig")
    assert low.prompt is not None
    assert low.prompt.kind == "do"
    assert low.prompt.step == "connect"
    assert any(e["event"] == "instrument-checked" for e in low.events)


def test_once_zeroed_it_is_not_offered_again(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("zero")
    low.done()
    low.answer(EDGE)
    assert "zero" not in choices(low)


def test_told_after_zeroing_it_stands_in_for_the_earlier_one(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("zero")
    low.done()
    low.tell("suction", "12.4 psig")
    value = low.machine.circuits["main"].facts.values["suction"]
    assert isinstance(value, Quantity)
    assert value.to("psig") == pytest.approx(12.4)


def test_a_gauge_that_cannot_be_zeroed_is_no_dead_end(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("zero")
    low.couldnt("no valve on the port")
    assert "again" in choices(low)


def test_a_better_gauge_is_one_of_its_kind(low: Walk) -> None:
    low.answer(EDGE)
    low.answer("better")
    assert not low.try_answer("0.5 dF").ok
    assert low.try_answer("0.1 psi").ok
    with pytest.raises(Refused):
        low.answer("0.5 dF")


def test_a_gauge_too_coarse_for_the_band_leaves_every_verdict_open(low: Walk) -> None:
    """Wanted 10 to 20 °F, R-134a at about 12 to 18.4 psig; 12 psi leaves it anywhere."""
    low.answer("15 psig", instrument="12 psi")
    row = low.table()[0]
    assert (row.says, row.close) == ("on", "low or high")
    assert choices(low)


def test_a_better_gauge_settles_it(low: Walk) -> None:
    low.answer("11.4 psig")
    low.answer("better")
    assert low.prompt is not None
    assert low.prompt.readings[0].id == "good-to"
    with pytest.raises(Refused):
        low.answer("very good")
    low.answer("0.05 psi")
    low.answer("11.4 psig")
    assert low.prompt is not None
    assert low.prompt.step == "connect"


def test_overruled_with_a_reason(low: Walk) -> None:
    low.answer(EDGE)
    with pytest.raises(Refused):
        low.overrule("low", "")
    with pytest.raises(Refused):
        low.overrule("low", "12")
    with pytest.raises(Refused):
        low.overrule("purple", "because")
    low.overrule("low", "compared with a second gauge")
    assert low.prompt is not None
    assert low.prompt.step == "connect"
    low.done()
    low.couldnt("scale broken")
    low.done()
    said = [each for each in low.findings[0].evidence if each["at"] == "readings/suction-level"]
    assert [(each["says"], each["overruled"]) for each in said] == [("low", "compared with a second gauge")]


def test_a_verdict_that_protects_is_not_overruled() -> None:
    """`overrule: no`: the choices of a close call stay, a verdict of one's own is refused and changes nothing."""
    texts = {str(file.relative_to(LIBRARY)): file.read_text("utf-8") for file in LIBRARY.rglob("*.yaml")}
    assert texts["small.yaml"].count("  by: suction-level\n  must be settled: yes\n") == 1
    texts["small.yaml"] = texts["small.yaml"].replace(
        "  by: suction-level\n  must be settled: yes\n",
        "  by: suction-level\n  must be settled: yes\n  overrule: no\n",
    )
    walk = low_of(Walk.start(Library.from_texts(texts), "small", site=SEA))
    walk.answer(EDGE)
    assert walk.prompt is not None
    assert (walk.prompt.kind, walk.prompt.may_overrule) == ("close-call", False)
    events = len(walk.events)
    with pytest.raises(Refused) as refused:
        walk.overrule("low", "compared with a second gauge")
    assert refused.value.code == "may-not-overrule"
    assert len(walk.events) == events


def test_a_close_verdict_elsewhere_is_marked_and_stays_possible(low: Walk) -> None:
    to_the_cylinder(low)
    one_round(low, "4950 g", EDGE)
    routed = [e for e in low.events if e["event"] == "routed"][-1]
    assert routed["close"] == ["suction-level"]
    assert "short-of-charge" in low.still_possible


# ---- circuits


def test_circuits_are_walked_in_any_order(start: Start) -> None:
    walk = start(known={"circuits": {"left": {}, "right": {}}})
    assert walk.prompt is not None
    assert walk.prompt.kind == "which-circuit"
    walk.answer("right")
    assert walk.prompt.circuit == "right"
    walk.answer("R-134a")
    walk.answer("yes")
    walk.couldnt("no plate")
    assert walk.prompt is not None
    assert walk.prompt.circuit == "left"
    walk.answer("R-290")
    assert walk.prompt is not None
    assert walk.prompt.step == "ask-nameplate-charge"  # the door was the unit's, and is known
    walk.couldnt("no plate")
    assert [f.circuit for f in walk.findings] == ["right", "left"]
    assert walk.prompt is None


def left_to_its_wait(walk: Walk) -> None:
    """Of two circuits the left one, walked till it settles with the cylinder on."""
    walk.answer("left")
    to_the_cylinder(low_of(walk))
    walk.done()
    walk.answer("4950 g")


def test_one_circuit_is_worked_on_while_the_other_settles(start: Start) -> None:
    walk = start(known={"circuits": {"left": {}, "right": {}}})
    left_to_its_wait(walk)
    assert walk.prompt is not None
    assert walk.prompt.kind == "wait"
    walk.switch("right")
    assert walk.prompt.circuit == "right"
    walk.answer("R-134a")
    walk.couldnt("no plate")
    assert walk.prompt is not None
    assert (walk.prompt.circuit, walk.prompt.kind) == ("left", "wait")


def test_by_what_must_not_be_left_alone_a_wait_offers_no_other_circuit(library: Library) -> None:
    """Such as a condenser that is covered: its head climbs."""
    alone = {name: replace(thing, stay=True) for name, thing in library.catalogue.left_on.items()}
    stays = replace(library, catalogue=replace(library.catalogue, left_on=alone))
    walk = Walk.start(stays, "small", site=SEA, known={"circuits": {"left": {}, "right": {}}})
    left_to_its_wait(walk)
    assert walk.prompt is not None
    assert (walk.prompt.kind, walk.prompt.choices) == ("wait", ())
    with pytest.raises(Refused) as refused:
        walk.switch("right")
    assert refused.value.code == "no-such-circuit"


def test_a_unit_tree_walks_every_circuit(start: Start) -> None:
    walk = start("whole-unit", known={"circuits": {"a": {}, "b": {}}})
    walk.answer("yes")
    walk.answer("a")
    walk.answer("R-134a")
    walk.couldnt("no plate")
    walk.answer("R-134a")
    walk.couldnt("no plate")
    assert walk.prompt is None
    assert [f.circuit for f in walk.findings] == ["a", "b"]


def test_a_circuit_nobody_named_is_refused(start: Start) -> None:
    walk = start(known={"circuits": {"left": {}, "right": {}}})
    with pytest.raises(Refused):
        walk.tell("suction", "4 psig")
    walk.tell("suction", "4 psig", circuit="left")
    with pytest.raises(Refused):
        walk.tell("suction", "4 psig", circuit="middle")


# ---- offers and ends


def test_an_offer_needs_a_yes(low: Walk) -> None:
    low.answer(WELL)
    assert low.prompt is not None
    assert low.prompt.kind == "offer"
    low.accept_offer(False)
    assert low.prompt is None
    assert low.findings[0].cause == "refrigeration-is-well"


def test_a_title_that_asks_is_offered_with_one_question_mark(low: Walk, monkeypatch: pytest.MonkeyPatch) -> None:
    asking = replace(low.library.trees["small"], title="A small circuit - is it?")
    monkeypatch.setitem(low.library.trees, "small", asking)
    low.answer(WELL)
    assert low.prompt is not None
    assert low.prompt.words == "Go on with: A small circuit - is it?"


def test_an_offer_taken_walks_on(low: Walk) -> None:
    low.answer(WELL)
    low.accept_offer(True)
    assert [e["tree"] for e in low.events if e["event"] == "entered"].count("small") == 2
    assert low.prompt is not None
    assert [r.id for r in low.prompt.readings] == ["door"], "plate and refrigerant are remembered, the rest is asked"


def test_what_is_still_true_is_not_asked_again(tmp_path: Path) -> None:
    trees = tmp_path / "library"
    copytree(LIBRARY, trees)
    small = trees / "small.yaml"
    text = small.read_text("utf-8").replace("  offer: small\n", "  offer: small\n  still true: yes\n")
    small.write_text(text, "utf-8")
    walk = low_of(Walk.start(Library.load(trees), "small", site=SEA))
    walk.answer(WELL)
    walk.accept_offer(True)
    assert [e["tree"] for e in walk.events if e["event"] == "entered"].count("small") == 2
    assert walk.prompt is not None
    assert walk.prompt.kind == "offer", "nothing was done, so the same readings lead to the same end"


def test_closed_only_notes_and_photos_follow(low: Walk) -> None:
    low.close("called away")
    assert low.prompt is None
    low.note("customer informed")
    low.photo("coil.jpg", "0" * 64)
    with pytest.raises(Refused):
        low.tell("suction", "4 psig")


def test_still_possible_shrinks_and_says_who_did_it(low: Walk) -> None:
    assert set(low.still_possible) == {"short-of-charge", "drier-blocked", "refrigeration-is-well"}
    assert low.ruled_out == {"evaporator-fan": "small/fan-first"}
    low.answer(LOW)
    assert "refrigeration-is-well" in low.still_possible or low.ruled_out


def test_the_table_says_measured_wanted_difference(low: Walk) -> None:
    low.answer(LOW)
    row = low.table()[0]
    assert row.name == "evaporating now"
    assert row.wanted == "10 °F to 20 °F"
    assert row.says == "low"
    below = float(row.measured.removesuffix(" °F")) - 10
    assert float(row.difference.removesuffix(" dF")) == pytest.approx(below, abs=0.11), "from the edge that is passed"


def test_between_the_limits_there_is_no_difference(low: Walk) -> None:
    low.answer(WELL)
    row = low.table()[0]
    assert (row.says, row.difference) == ("on", "")


def test_a_wait_once_is_not_asked_again_until_something_has_changed(start: Start) -> None:
    walk = start("waits")
    assert walk.prompt is not None
    assert walk.prompt.step == "run-in"
    walk.waited(900)
    walk.answer("20 °F")
    assert walk.prompt.kind == "caution"
    walk.acknowledge()
    walk.done()
    assert (walk.prompt.kind, walk.prompt.step) == ("wait", "after-work")
