"""Whole calls, from the door: where they end, and what the bundled examples of them promise."""

from __future__ import annotations

import statistics
from pathlib import Path

import pytest

from tests.bundled import library, outcomes
from tui.proof.examples import Example, Outcome
from tui.walk.answers import Answers, Driver, begin, run_answers

HERE = Path(__file__).parent
MOST_SCREENS = 30  # median, the intake included


def calls() -> list[Outcome]:
    """Those that begin at the door."""
    return [outcome for outcome in outcomes() if outcome.example.answers.tree == "call"]


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("call-leak", [("main", "short-of-charge"), ("main", "short-of-charge"), ("main", "refrigeration-is-well")]),
        ("call-leak-open", [("main", "short-of-charge"), ("main", "short-of-charge"), ("main", "cannot-tell")]),
        ("call-drier", [("main", "drier-blocked"), ("main", "refrigeration-is-well")]),
        ("call-ice", [("main", "defrost-failed")]),
        ("call-receiver", [("main", "cannot-tell")]),
        ("call-two-circuits", [("table", "drier-blocked"), ("freezer", "evaporator-fan")]),
    ],
)
def test_a_whole_call_ends_in_the_right_causes(name: str, found: list[tuple[str, str]]) -> None:
    walk = run_answers(library(), Answers.read(HERE / f"{name}.yaml"), embed_texts=False)
    assert [(finding.circuit, finding.cause) for finding in walk.findings] == found


def test_no_gas_goes_into_a_circuit_with_a_receiver() -> None:
    walk = run_answers(library(), Answers.read(HERE / "call-receiver.yaml"), embed_texts=False)
    assert "short-of-charge" in walk.findings[-1].could_be
    assert "adds refrigerant" not in _works(walk.events)


def test_propane_is_weighed_out_opened_cold_and_weighed_in_anew() -> None:
    """Never topped up; purged before it is cut; mended, held, evacuated and only then charged."""
    walk = run_answers(library(), Answers.read(HERE / "call-drier.yaml"), embed_texts=False)
    done = [event["work"] for event in walk.events if event["event"] == "done"]
    order = [
        "recovers refrigerant",
        "purges the circuit",
        "opens the circuit",
        "mends the circuit",
        "raises pressure with nitrogen",
        "lets the pressure down",
        "evacuates",
        "weighs the plate charge in",
        "starts the compressor",
    ]
    assert [work for work in dict.fromkeys(done) if work in order] == order
    assert not {"adds refrigerant", "taps the circuit"} & set(done)


def test_a_call_takes_few_screens_to_its_end() -> None:
    assert len(calls()) >= 40
    assert statistics.median(outcome.steps for outcome in calls()) <= MOST_SCREENS
    assert statistics.median(outcome.steps for outcome in outcomes()) <= MOST_SCREENS


def test_a_dirty_condenser_is_found_without_gauges() -> None:
    dirty = [o.example for o in calls() if [found.cause for found in o.got] == ["condenser-dirty"]]
    assert len(dirty) >= 2
    assert [example.name for example in dirty if _was_opened(example)] == []


def _was_opened(example: Example) -> bool:
    return "taps the circuit" in _works(run_answers(library(), example.answers, embed_texts=False).events)


def _works(events: list[dict[str, object]]) -> set[object]:
    return {event["work"] for event in events if event["event"] == "done"}


def test_a_wait_that_could_not_be_waited_takes_its_other_way() -> None:
    """What the file says could not be done is so recorded, with who said it."""
    (cut,) = [o.example for o in outcomes() if o.example.name == "vacuum-not-watched"]
    events = run_answers(library(), cut.answers, embed_texts=False).events
    (couldnt,) = [event for event in events if event["event"] == "couldn't" and "readings" not in event]
    assert (couldnt["tree"], couldnt["step"], couldnt["by"]) == ("evacuation", "first-look", "answers file")
    assert not any(event.get("step") == "let-it-in" for event in events)


def test_one_circuit_is_walked_while_the_other_settles() -> None:
    """A prep table over an undercounter freezer: the freezer is found while the table's clamps settle."""
    answers = Answers.read(HERE / "call-two-circuits.yaml")
    walk = begin(library(), answers, embed_texts=False)
    driver = Driver(walk, answers, lambda intent: intent(walk))
    while (prompt := walk.prompt) is not None:
        if prompt.kind == "wait" and prompt.circuit == "table" and not walk.findings:
            walk.switch("freezer")
        else:
            driver.step(prompt)
    assert [(found.circuit, found.cause) for found in walk.findings] == [
        ("freezer", "evaporator-fan"),
        ("table", "drier-blocked"),
    ]
    assert any(event["event"] == "switched" and event["to"] == "freezer" for event in walk.events)
