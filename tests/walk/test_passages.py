"""Where a walk went: steps, rows, rounds, and that what was undone is none of it."""

from __future__ import annotations

from collections.abc import Callable

from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.passages import passages_of, standing_of

Start = Callable[..., Walk]


def to_the_scale(walk: Walk) -> None:
    """From the readings to the first round of the weighed test."""
    walk.answer({"suction": "8 psig"})
    walk.done()
    walk.answer({"scale": "100 oz"})


def test_where_it_stands_what_it_came_by_and_by_which_rows(low: Walk) -> None:
    walk = low
    to_the_scale(walk)
    (small,) = standing_of(walk.machine)
    assert (small.circuit, small.tree.name, small.here) == ("main", "small", "add-some")
    assert small.passed[0] == "ask-refrigerant"
    assert small.taken["fan-first"] == (("running",), "carry on")
    assert small.taken["go-readings"] == (("taken",), "carry on")
    assert small.taken["is-it-low"] == (("low",), "carry on")
    assert small.rounds == {"add": 1}
    assert "came-up" not in small.passed
    assert not small.ended


def test_a_called_tree_stands_inside_the_one_that_called_it(low: Walk) -> None:
    walk = low
    assert [each.tree.name for each in standing_of(walk.machine)] == ["readings", "small"]
    assert standing_of(walk.machine)[1].here == "go-readings"
    walk.answer({"suction": "8 psig"})
    gone = next(each for each in passages_of(walk.machine) if each.tree.name == "readings")
    assert gone.here == ""
    assert gone.passed


def test_what_was_undone_was_not_gone(low: Walk) -> None:
    walk = low
    to_the_scale(walk)
    walk.undo(2)
    (inner, small) = standing_of(walk.machine)
    assert inner.tree.name == "readings"
    assert "is-it-low" not in small.passed
    assert "go-readings" not in small.taken
    assert "is-it-low" not in small.taken


def test_after_its_end_it_stands_at_what_it_found(start: Start) -> None:
    walk = start()
    for text in ("R-134a", "yes", "14 oz"):
        walk.answer(text)
    walk.answer({"fan": "stopped", "box-wanted": "35 °F"})
    (small,) = standing_of(walk.machine)
    assert small.here == "fan-is-dead"
    assert small.ended


GUARDED = """
tree: guarded
title: t
edition: 1
of: circuit
steps:
- ask: there
- ask: more
  only when: there is yes
- back: done
"""
READINGS = "there:\n  ask: There?\n  answers: yes, no\nmore:\n  ask: More?\n  answers: yes, no\n"


def test_a_step_that_was_not_needed_is_passed_over() -> None:
    library = Library.from_texts({"guarded.yaml": GUARDED, "catalogue/readings.yaml": READINGS}, partial=True)
    walk = Walk.start(library, "guarded", site={"altitude": "0 ft"})
    walk.answer("no")
    (passage,) = passages_of(walk.machine)
    assert passage.over == {"ask-more"}
    assert passage.passed == ("ask-there", "ask-more", "back-done")
