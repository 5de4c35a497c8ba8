"""What work did to the circuit outlasts an undo: the walk never takes the world for what it is not."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tui.quantity import Kind, Quantity
from tui.tree.library import Library
from tui.walk import Walk

Start = Callable[..., Walk]
SEA = {"altitude": "0 ft"}


@pytest.fixture(scope="module")
def stopping() -> Library:
    return Library.load(Path(__file__).parent / "standing")


def places(walk: Walk) -> list[str]:
    return [step for _, step in ((event["tree"], event["step"]) for event in walk.events if event["event"] == "done")]


def started_again(library: Library) -> Walk:
    """The compressor was stopped, the standing pressure read, the compressor started."""
    walk = Walk.start(library, "standing", site=SEA)
    walk.answer("R-134a")
    walk.acknowledge()
    walk.done()
    walk.waited(240)
    walk.answer("70 psig")
    walk.done()
    walk.waited(240)
    return walk


def step_of(walk: Walk) -> str:
    assert walk.prompt is not None
    return walk.prompt.step


def test_a_compressor_that_runs_again_is_stopped_again(stopping: Library) -> None:
    walk = started_again(stopping)
    walk.undo(2)  # past the standing pressure and the refrigerant
    walk.answer("R-134a")
    assert step_of(walk) == "stop", "in the world it runs: a standing pressure needs it stopped"
    walk.done()
    assert step_of(walk) == "even-out", "and the wait of before was for another stop"
    walk.waited(240)
    walk.answer("70 psig")
    assert step_of(walk) == "start"


def test_a_compressor_still_stopped_is_not_stopped_twice(stopping: Library) -> None:
    walk = Walk.start(stopping, "standing", site=SEA)
    walk.answer("R-134a")
    walk.acknowledge()
    walk.done()
    walk.waited(240)
    walk.undo()
    walk.answer("R-134a")
    assert step_of(walk) == "ask-standing"
    assert places(walk) == ["stop"]


def suction(walk: Walk) -> list[float]:
    series = walk.machine.circuits["main"].facts.series["suction"]
    return [each.to("psig") for each in series if isinstance(each, Quantity)]


def test_a_reading_taken_back_never_comes_back(low: Walk) -> None:
    """Later work does not make history of it: it was gone before."""
    low.answer("4 psig")
    low.undo()
    low.answer("4.4 psig")
    low.done()
    low.answer("5000 g")
    low.done()
    low.answer("4950 g")
    number = next(n for n, event in enumerate(low.events) if event.get("reading") == "box-wanted")
    low.accept(low.correct(number, "36 °F"))
    assert suction(low) == pytest.approx([4.4])
    low.undo(4)
    assert suction(low) == pytest.approx([4.4]), "the one before the addition is history, the slip is not"


def test_a_reading_taken_back_is_not_among_those_that_count(low: Walk) -> None:
    low.answer("4 psig")
    low.undo()
    assert "suction" not in [given.reading for given in low.given()]


def test_the_trail_is_the_way_that_counts(low: Walk) -> None:
    low.answer("15 psig")
    assert [entry.at for entry in low.trail()] == ["small/fan-first", "small/is-it-low"]
    low.undo(2)
    assert [entry.at for entry in low.trail()] == []
    assert "routed" in [event["event"] for event in low.events], "the record keeps all"


def test_two_rounds_over_all_circuits(stopping: Library) -> None:
    walk = Walk.start(stopping, "twice", site=SEA, known={"circuits": {"a": {}, "b": {}}})
    walk.answer("yes")
    for _ in ("once", "again"):
        for circuit in ("a", "b"):
            if walk.prompt is not None and walk.prompt.kind == "which-circuit":
                walk.answer(circuit)
            walked(walk, circuit)
    assert walk.prompt is None
    assert [finding.circuit for finding in walk.findings] == ["a", "b", "a", "b"]
    again = Walk.from_events(stopping, json.loads(json.dumps(walk.events)))
    assert again.events == walk.events


def walked(walk: Walk, circuit: str) -> None:
    """One circuit to its finding."""
    known = len(walk.findings)
    for _ in range(20):
        prompt = walk.prompt
        if prompt is None or len(walk.findings) > known:
            return
        assert prompt.circuit == circuit
        if prompt.kind == "ask":
            walk.answer({prompt.readings[0].id: "R-134a" if prompt.readings[0].id == "refrigerant" else "20 psig"})
        elif prompt.kind == "caution":
            walk.acknowledge()
        elif prompt.kind == "wait":
            walk.waited(240)
        else:
            walk.done()


def test_history_names_the_circuits_where_nothing_else_does(start: Start) -> None:
    walk = start(history=[{"circuit": "cooler", "reading": "refrigerant", "value": "R-134a"}])
    assert walk.circuits == ("cooler",)
    assert step_of(walk) == "ask-door"


def test_a_reading_is_no_longer_good_after_its_time(library: Library) -> None:
    """Ten minutes of waits against a `good for` of five: it is asked again; without one it is not."""
    for good_for, asked in ((None, False), (Quantity(Kind.TIME_SPAN, 300.0), True)):
        readings = dict(library.catalogue.readings)
        readings["box-wanted"] = replace(readings["box-wanted"], good_for=good_for)
        aging = replace(library, catalogue=replace(library.catalogue, readings=readings))
        walk = Walk.start(aging, "small", site=SEA)
        for answer in ("R-134a", "yes", "14 oz"):
            walk.answer(answer)
        walk.answer({"fan": "running", "box-wanted": "35 °F"})
        walk.acknowledge()
        walk.answer("4 psig")
        walk.done()
        walk.answer("5000 g")
        walk.done()
        walk.answer("4950 g")
        walk.waited(600)
        assert walk.prompt is not None
        assert ("box-wanted" in [reading.id for reading in walk.prompt.readings]) is asked


# ---- what is known and not true any more


def test_work_leaves_what_it_changed_of_before(low: Walk) -> None:
    low.answer("4 psig")
    assert not low.earlier()
    low.done()
    low.answer("5000 g")
    low.done()
    assert {"suction", "evaporating-now", "suction-level", "scale"} <= low.earlier()
    assert not {"refrigerant", "nameplate-charge", "box-wanted"} & low.earlier()
    low.tell("suction", "6 psig")
    assert "suction" not in low.earlier()
    assert "evaporating-now" in low.earlier(), "it is still the one of the suction before"
    low.answer("4950 g")
    low.waited(240)
    assert not {"suction", "evaporating-now", "suction-level"} & low.earlier()


def test_a_reading_averaged_leaves_nothing_of_before(low: Walk) -> None:
    low.answer("4 psig")
    low.tell("suction", "4.2 psig")
    assert not low.earlier()
    again = Walk.from_events(low.library, low.events)
    assert again.earlier() == low.earlier()


def test_the_table_tells_what_was_judged_before_the_last_work(low: Walk) -> None:
    low.answer("4 psig")
    assert [row.earlier for row in low.table()] == [False]
    low.done()
    low.answer("5000 g")
    low.done()
    assert [(row.says, row.earlier) for row in low.table()] == [("low", True)]
    low.answer("4950 g")
    low.waited(240)
    low.answer("6 psig")
    assert [row.earlier for row in low.table()] == [False]
