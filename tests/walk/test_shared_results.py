"""A result that the catalogue calls one of the unit: what one circuit gave, every other one finds."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.walk.conftest import SEA
from tui.quantity import Quantity, show
from tui.tree.library import BrokenLibrary, Library
from tui.walk import Walk

FOLDER = Path(__file__).parent / "library"
TREE = """tree: sharing
title: The coldest line of the unit
edition: 1
of: circuit
steps:
- decide: seen-before
  first of:
    coldest is unknown: carry on
    otherwise: known-already
- ask: fan, line
- work out: coldest
  only when: fan is running
  as: line
- finding: looked
  cause: cannot-tell
  seen: Line <line>, coldest <coldest>.
  next: The other circuit.
- finding: known-already
  cause: cannot-tell
  seen: Known already, <coldest>.
  next: Nothing.
"""
READING = "coldest: {kind: temperature, of: unit}\n"


def texts(tree: str = TREE) -> dict[str, str]:
    found = {str(file.relative_to(FOLDER)): file.read_text("utf-8") for file in sorted(FOLDER.rglob("*.yaml"))}
    found["catalogue/readings.yaml"] += READING
    return found | {"sharing.yaml": tree}


@pytest.fixture(scope="module")
def sharing() -> Library:
    return Library.from_texts(texts())


def begun(library: Library) -> Walk:
    walk = Walk.start(library, "sharing", site=SEA, known={"circuits": {"left": {}, "right": {}, "third": {}}})
    walk.answer("left")
    return walk


def seen(walk: Walk) -> list[str]:
    return [f"{finding.circuit}: {finding.seen}" for finding in walk.findings]


def test_the_next_circuit_finds_it(sharing: Library) -> None:
    walk = begun(sharing)
    walk.answer({"fan": "running", "line": "30 °F"})
    walk.answer("right")
    known = [f"{circuit}: Known already, 30 °F." for circuit in ("right", "third")]
    assert seen(walk) == ["left: Line 30 °F, coldest 30 °F.", *known]
    assert Walk.from_events(sharing, json.loads(json.dumps(walk.events))).findings == walk.findings


def test_a_circuit_that_gives_none_takes_none_away(sharing: Library) -> None:
    walk = begun(sharing)
    walk.answer({"fan": "stopped", "line": "30 °F"})
    walk.answer("right")
    walk.answer({"fan": "running", "line": "20 °F"})
    assert seen(walk)[0] == "left: Line 30 °F."
    assert seen(walk)[2] == "third: Known already, 20 °F."


def test_a_reading_told_once_more_works_it_out_anew(sharing: Library) -> None:
    walk = begun(sharing)
    walk.answer({"fan": "running", "line": "30 °F"})
    walk.tell("line", "20 °F", circuit="right")
    walk.tell("line", "31 °F", circuit="left")
    held = walk.machine.unit.facts.values["coldest"]
    assert isinstance(held, Quantity)
    assert show(held, "°F") == "30.5 °F"
    assert [event["circuit"] for event in walk.events if event["event"] == "worked-out"] == ["left", "left"]
    assert "coldest" not in walk.machine.circuits["left"].facts.values


def test_the_sum_behind_it_is_told_where_it_was_worked_out(sharing: Library) -> None:
    from tui.walk.behind import names_of, working_of

    walk = begun(sharing)
    walk.answer({"fan": "running", "line": "30 °F"})
    walk._machine.current = "left"
    assert names_of(walk) == ["coldest"]
    assert working_of(walk, "coldest").result == "30 °F"


def errors(broken: BrokenLibrary) -> list[str]:
    return [problem.code for problem in broken.problems if problem.severity == "error"]


def test_the_check_takes_it_for_unknown_until_a_circuit_gave_it() -> None:
    """Looked at before: no mistake. Decided on without a way for unknown: one, also behind the step that gives it."""
    sure = TREE.replace("coldest is unknown", "coldest is below 20 °F")
    decide = "- decide: late\n  first of:\n    coldest is below 20 °F: known-already\n    otherwise: carry on\n"
    late = TREE.replace("- finding: looked\n", f"{decide}- finding: looked\n")
    for tree in (sure, late):
        with pytest.raises(BrokenLibrary) as caught:
            Library.from_texts(texts(tree))
        assert errors(caught.value) == ["unsettled-missing"]


def test_a_result_of_one_circuit_must_be_worked_out_first() -> None:
    given = texts()
    of_circuit = READING.replace("unit", "circuit")
    given["catalogue/readings.yaml"] = given["catalogue/readings.yaml"].replace(READING, of_circuit)
    with pytest.raises(BrokenLibrary) as caught:
        Library.from_texts(given)
    assert set(errors(caught.value)) == {"not-asked"}


STAYS = READING.replace("of: unit", "of: circuit, stays: yes")
OFFERS = TREE.replace("  next: The other circuit.\n", "  next: The other circuit.\n  offer: sharing\n")


def staying(tree: str) -> dict[str, str]:
    found = texts(tree)
    return found | {"catalogue/readings.yaml": found["catalogue/readings.yaml"].replace(READING, STAYS)}


def test_a_result_that_stays_is_known_to_who_goes_on_after_a_finding() -> None:
    """Each circuit has its own; what is not said to stay is forgotten with the finding."""
    library = Library.from_texts(staying(OFFERS))
    walk = begun(library)
    walk.answer({"fan": "running", "line": "30 °F"})
    walk.accept_offer(True)
    assert seen(walk) == ["left: Line 30 °F, coldest 30 °F.", "left: Known already, 30 °F."]
    walk.answer("right")
    assert walk.prompt is not None
    assert walk.prompt.circuit == "right"
    assert [reading.id for reading in walk.prompt.readings] == ["fan", "line"]
    assert Walk.from_events(library, json.loads(json.dumps(walk.events))).findings == walk.findings


def test_the_check_takes_a_result_that_stays_for_known_or_unknown_wherever_a_walk_begins() -> None:
    sure = OFFERS.replace("coldest is unknown", "coldest is below 20 °F")
    with pytest.raises(BrokenLibrary) as caught:
        Library.from_texts(staying(sure))
    assert errors(caught.value) == ["unsettled-missing"]
