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


# ---- circuits that are walked no more, ends that come by themselves


def on_a_misspelt_circuit(start: Start) -> Walk:
    walk = start("named-unit")
    walk.answer("coler, freezer")
    walk.answer("coler")
    to_suction(walk)
    return connected(walk)


def number_of(walk: Walk, reading: str) -> int:
    return next(n for n, event in enumerate(walk.events) if event.get("reading") == reading)


def words(walk: Walk) -> tuple[str, str, str]:
    assert walk.prompt is not None
    return walk.prompt.kind, walk.prompt.circuit, walk.prompt.words


def through(walk: Walk) -> None:
    """From the first question of a circuit to its finding."""
    answers = {"refrigerant": "R-134a", "door": "yes", "nameplate-charge": "14 oz", "fan": "running"}
    answers |= {"box-wanted": "35 °F", "suction": "15 psig"}
    while walk.prompt is not None and walk.prompt.kind in ("ask", "caution"):
        if walk.prompt.kind == "caution":
            walk.acknowledge()
        else:
            walk.answer(answers[walk.prompt.readings[0].id])
    walk.accept_offer(False)


def holds_together(walk: Walk) -> None:
    for cut in range(1, len(walk.events) + 1):
        events = json.loads(json.dumps(walk.events[:cut]))
        again = Walk.from_events(walk.library, events)
        assert again.events[:cut] == walk.events[:cut]
    assert (again.prompt, again.left_on, again.closed) == (walk.prompt, walk.left_on, walk.closed)


CLEARS = ("do", "coler", "Cylinder closed and off.")


def test_a_corrected_name_leaves_no_cylinder_behind(start: Start) -> None:
    walk = on_a_misspelt_circuit(start)
    change = walk.correct(number_of(walk, "circuits"), "freezer, icebox")
    assert "Next: Cylinder closed and off." in change.differences
    walk.accept(change)
    assert words(walk) == CLEARS
    assert walk.prompt is not None
    assert "coler" in walk.prompt.why
    with pytest.raises(Refused):
        walk.couldnt("no time")
    walk.close("called away")
    assert not walk.closed
    assert words(walk) == CLEARS
    walk.done()
    assert not walk.left_on
    walk.close()
    assert walk.closed
    holds_together(walk)


def test_cleared_it_goes_on_with_the_circuits_as_they_are_named_now(start: Start) -> None:
    walk = on_a_misspelt_circuit(start)
    walk.accept(walk.correct(number_of(walk, "circuits"), "freezer, icebox"))
    walk.done()
    assert words(walk)[0] == "which-circuit"
    walk.answer("freezer")
    through(walk)
    through(walk)
    assert walk.prompt is None
    assert [finding.circuit for finding in walk.findings] == ["freezer", "icebox"]
    walk.close()
    assert walk.closed
    holds_together(walk)


def test_a_name_taken_back_leaves_no_cylinder_behind(start: Start) -> None:
    walk = on_a_misspelt_circuit(start)
    while walk.prompt is not None and walk.prompt.step != "ask-circuits":
        walk.undo()
    assert walk.left_on == (("coler", "cylinder on"),)
    walk.answer("icebox, freezer")
    assert words(walk) == CLEARS
    walk.done()
    assert words(walk)[0] == "which-circuit"
    holds_together(walk)


def test_closed_before_it_is_named_anew_it_is_cleared_too(start: Start) -> None:
    walk = on_a_misspelt_circuit(start)
    while walk.prompt is not None and walk.prompt.step != "ask-circuits":
        walk.undo()
    walk.close("called away")
    assert words(walk) == CLEARS
    walk.done()
    walk.close()
    assert walk.closed
    holds_together(walk)


def test_named_the_same_again_nothing_has_to_come_off(start: Start) -> None:
    walk = on_a_misspelt_circuit(start)
    while walk.prompt is not None and walk.prompt.step != "ask-circuits":
        walk.undo()
    walk.answer("coler, freezer")
    assert words(walk)[0] == "which-circuit"
    assert walk.left_on == (("coler", "cylinder on"),)


def test_an_end_that_comes_before_the_circuit_clears_it_first(start: Start) -> None:
    """A corrected answer of the unit ends the walk, and no tree comes to the circuit any more."""
    walk = start("switched-unit", known={"circuits": {"main": {}}})
    walk.answer("yes")
    to_suction(walk)
    connected(walk)
    walk.accept(walk.correct(number_of(walk, "power"), "no"))
    assert walk.findings[-1].cause == "supply-fault"
    assert words(walk) == ("do", "main", "Cylinder closed and off.")
    walk.done()
    assert walk.prompt is None
    walk.close()
    assert walk.closed
    holds_together(walk)


def test_a_tree_that_is_called_clears_what_it_left_where_it_is_walked_alone(start: Start) -> None:
    walk = start("hooks-up")
    walk.acknowledge()
    walk.done()
    assert words(walk) == ("do", "main", "Cylinder closed and off.")
    walk.done()
    assert walk.prompt is None
    assert not walk.left_on
    holds_together(walk)
