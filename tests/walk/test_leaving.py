"""Nothing is left on in silence: a person who closes before the end clears it first."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from tui.quantity import Refused
from tui.walk import Walk

Start = Callable[..., Walk]


def connected(walk: Walk) -> Walk:
    """The cylinder is on, the scale is asked for."""
    walk.answer("4 psig")
    walk.done()
    return walk


def to_suction(walk: Walk) -> None:
    for answer in ("R-134a", "yes", "14 oz"):
        if walk.prompt is not None and walk.prompt.step == "ask-door" and answer == "14 oz":
            continue
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()


def kinds(walk: Walk) -> list[str]:
    return [event["event"] for event in walk.events]


def test_what_is_on_is_said(low: Walk) -> None:
    assert not low.left_on
    connected(low)
    assert low.left_on == (("main", "cylinder on"),)


def test_closing_early_clears_it_first(low: Walk) -> None:
    connected(low).close("called away")
    assert not low.closed
    assert low.prompt is not None
    assert (low.prompt.kind, low.prompt.words) == ("do", "Cylinder closed and off.")
    with pytest.raises(Refused) as error:
        low.couldnt("no time")
    assert error.value.code == "must"
    low.done()
    assert low.prompt is None
    assert not low.left_on
    low.close()
    assert low.closed
    assert low.events[-1]["why"] == "called away"
    assert low.findings == []


def test_with_nothing_on_it_closes_at_once(low: Walk) -> None:
    low.close("called away")
    assert low.closed
    assert "closing" not in kinds(low)


def test_a_person_may_think_better_of_it(low: Walk) -> None:
    connected(low)
    before = low.prompt
    low.close("called away")
    low.undo()
    assert low.prompt == before
    assert low.left_on == (("main", "cylinder on"),)


def test_of_several_circuits_only_those_with_something_on_are_gone_to(start: Start) -> None:
    walk = start(known={"circuits": {"left": {}, "middle": {}, "right": {}}})
    walk.answer("left")
    to_suction(walk)
    connected(walk)
    walk.answer("5000 g")
    walk.done()
    walk.answer("4950 g")
    walk.switch("middle")
    walk.close("called away")
    assert walk.prompt is not None
    assert (walk.prompt.circuit, walk.prompt.words) == ("left", "Cylinder closed and off.")
    walk.done()
    assert walk.prompt is None


def test_in_a_tree_of_the_unit_too(start: Start) -> None:
    walk = start("whole-unit", known={"circuits": {"a": {}, "b": {}}})
    walk.answer("yes")
    walk.answer("a")
    for answer in ("R-134a", "14 oz"):
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    connected(walk).close("called away")
    assert walk.prompt is not None
    assert walk.prompt.circuit == "a"
    walk.done()
    assert walk.prompt is None
    walk.close()
    assert walk.closed


def test_a_closing_visit_replays_and_resumes(low: Walk) -> None:
    connected(low).close("called away")
    low.done()
    low.close()
    for cut in range(1, len(low.events) + 1):
        events = json.loads(json.dumps(low.events[:cut]))
        again = Walk.from_events(low.library, events)
        assert again.events[:cut] == low.events[:cut]
    assert again.closed


def test_closed_it_takes_photos_by_name_and_digest_only(low: Walk) -> None:
    low.close("called away")
    for name, digest in (("coil.jpg", "abc"), ("coil.jpg", "X" * 64), (" ", "0" * 64)):
        with pytest.raises(Refused):
            low.photo(name, digest)
    low.photo("coil.jpg", "0f" * 32)
    assert kinds(low)[-1] == "photographed"
