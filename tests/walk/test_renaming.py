"""A circuit that only gets another name keeps all that was answered for it; other circuits are begun anew."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.app.typist import begun, bundled
from tests.record.helpers import HandClock
from tui.desk.past import past_of
from tui.desk.session import Visit
from tui.record import read
from tui.record.replay import replay
from tui.review import sheet_of
from tui.walk import Walk
from tui.walk.naming import only_renamed
from tui.walk.prompt import Change, Given


@pytest.mark.parametrize(
    ("before", "now", "renamed"),
    [
        ("lefft, right", "left, right", {"lefft": "left"}),
        ("lefft, rihgt", "left, right", {"lefft": "left", "rihgt": "right"}),
        ("left, right", "right, left", {}),
        ("left, right", "left, right, third", {}),
        ("left, right", "right, third", {}),
        ("left, right", "left, right", {}),
        ("1", "cooler", {"main": "cooler"}),
    ],
)
def test_as_many_in_the_same_order_with_new_names(before: str, now: str, renamed: dict[str, str]) -> None:
    assert only_renamed(before, now) == renamed


def on_the_way(path: Path) -> Visit:
    """A call of two circuits, the first of them under way."""
    visit = begun(bundled(), "call", path=path, clock=HandClock())
    walk = visit.walk

    def give(text: str) -> None:
        visit.act(lambda walk: walk.answer(text))

    for text in ("lefft, right", "J 1", "warm", "Friday", "no"):
        give(text)
    while (prompt := walk.prompt) is not None and prompt.kind != "which-circuit":
        if prompt.kind == "caution":
            visit.act(lambda walk: walk.acknowledge())
        elif prompt.kind == "do":
            visit.act(lambda walk: walk.done())
        else:
            give("yes")
    give("lefft")
    give("walk-in cooler")
    visit.act(lambda walk: walk.own_finding("condenser-dirty", "seen at once"))
    return visit


def names_of(walk: Walk) -> Given:
    return next(each for each in walk.given() if each.reading == "circuits")


def put_right(visit: Visit, text: str) -> Change:
    change = visit.walk.correct(names_of(visit.walk), text)
    visit.act(lambda walk: walk.accept(change))
    return change


def test_what_was_answered_stays_with_the_circuit(tmp_path: Path) -> None:
    visit = on_the_way(tmp_path / "visit.jsonl")
    walk = visit.walk
    before = walk.prompt
    assert before is not None
    change = put_right(visit, "left, right")
    assert change.differences == ("lefft is called left: only the name changes, what was answered stays with it",)
    assert walk.circuits == ("left", "right")
    assert walk.prompt is not None
    assert (walk.prompt.circuit, walk.prompt.step) == ("left", before.step)
    assert ("left", "equipment") in [(each.circuit, each.reading) for each in walk.given()]
    assert walk.own_findings[0][0] == "left"
    again = Walk.from_events(walk.library, json.loads(json.dumps(walk.events)))
    assert again.prompt == walk.prompt


def test_no_ghost_on_the_sheet_and_for_later_visits(tmp_path: Path) -> None:
    path = tmp_path / "visit.jsonl"
    visit = on_the_way(path)
    put_right(visit, "left, right")
    reading = read(path)
    sheet = sheet_of(reading)
    assert "Circuits               left, right\n" in sheet
    assert [line for line in sheet.splitlines() if "lefft" in line and "corrected to" not in line] == []
    assert {circuit for circuit, _ in past_of(reading.events, "2026-11-25", visit.walk.library.catalogue).values} <= {
        "",
        "left",
        "right",
    }
    assert replay(path).same


def test_other_circuits_are_begun_anew(tmp_path: Path) -> None:
    visit = on_the_way(tmp_path / "visit.jsonl")
    walk = visit.walk
    change = put_right(visit, "right, third")
    assert any(line.startswith(("Next", "No longer on the way")) for line in change.differences)
    assert walk.circuits[:2] == ("right", "third")


def test_renamed_twice_and_an_answer_taken_back(tmp_path: Path) -> None:
    visit = on_the_way(tmp_path / "visit.jsonl")
    walk = visit.walk
    put_right(visit, "left, right")
    put_right(visit, "left coil, right")
    walk.undo()
    assert walk.prompt is not None
    assert walk.prompt.circuit == "left coil"
    assert walk.prompt.readings[0].id == "equipment"
    assert Walk.from_events(walk.library, walk.events).prompt == walk.prompt
