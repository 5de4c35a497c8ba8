"""The circuits of a unit, named by whoever stands before it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import Refused
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.naming import LONGEST_NAME, MOST_CIRCUITS, circuit_names

Start = Callable[..., Walk]


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        ("1", ("main",)),
        ("one", ("main",)),
        ("2", ("circuit 1", "circuit 2")),
        ("cooler, freezer", ("cooler", "freezer")),
        ("  cooler  and   freezer ", ("cooler", "freezer")),
        ("left door", ("left door",)),
        ("1A, 1B", ("1A", "1B")),
        ("rack-2 low temp, rack-2 medium", ("rack-2 low temp", "rack-2 medium")),
        ("2 door, bar", ("2 door", "bar")),
        ("Kühlraum, chambre négative", ("Kühlraum", "chambre négative")),
        ("1, 2", ("1", "2")),
    ],
)
def test_names_as_people_type_them(typed: str, names: tuple[str, ...]) -> None:
    assert circuit_names(typed) == names


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "no-name"),
        (" , ", "no-name"),
        ("0", "no-name"),
        ("13", "too-many"),
        ("99999999999999999999", "too-many"),
        (",".join("abcdefghijklm"), "too-many"),
        ("x" * (LONGEST_NAME + 1), "bad-name"),
        ("cool\x1ber", "bad-name"),
        ("Cooler, cooler", "same-name"),
        ("banana 12 oz psig", "bad-name"),
        ("12 psig", "bad-name"),
        ("cooler 12psi", "bad-name"),
        ("-3 °F", "bad-name"),
        ("35 deg F", "bad-name"),
        ("cooler, 12,5 bar", "bad-name"),
        ("2 lb", "bad-name"),
        ("cooler/freezer", "bad-name"),
        ("circuit #1", "bad-name"),
        ("- cooler", "bad-name"),
        ("8.2", "bad-name"),
    ],
)
def test_what_names_no_circuit_is_refused(typed: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        circuit_names(typed)
    assert refused.value.code == code
    assert refused.value.cure


@given(st.text())
def test_any_text_is_names_or_one_refusal(typed: str) -> None:
    try:
        names = circuit_names(typed)
    except Refused:
        return
    assert 1 <= len(names) <= MOST_CIRCUITS
    assert circuit_names(", ".join(names)) == names or names[0].isdecimal()


def test_circuits_named_are_walked_each(start: Start) -> None:
    walk = start("named-unit")
    walk.answer("cooler, freezer")
    assert walk.circuits == ("cooler", "freezer")
    assert walk.prompt is not None
    assert walk.prompt.kind == "which-circuit"
    walk.answer("freezer")
    assert walk.prompt.circuit == "freezer"


def test_one_circuit_is_walked_at_once(start: Start) -> None:
    walk = start("named-unit")
    walk.answer("1")
    assert walk.prompt is not None
    assert (walk.prompt.circuit, walk.prompt.tree) == ("main", "small")


def test_circuits_a_driver_knows_are_not_asked_for(start: Start) -> None:
    walk = start("named-unit", known={"circuits": {"top": {}}})
    assert walk.prompt is not None
    assert (walk.prompt.circuit, walk.prompt.tree) == ("top", "small")


def test_a_reading_told_before_any_circuit_is_named_is_refused(start: Start) -> None:
    walk = start("named-unit")
    with pytest.raises(Refused) as refused:
        walk.tell("suction", "8 psig")
    assert "circuits first" in refused.value.cure


def test_a_slip_in_the_names_can_be_taken_back(start: Start) -> None:
    walk = start("named-unit")
    walk.answer("coler, freezer")
    walk.answer("freezer")
    walk.answer("R-134a")
    walk.undo(3)
    assert walk.prompt is not None
    assert walk.prompt.readings[0].id == "circuits"
    walk.answer("cooler, freezer")
    assert [name for name, _ in walk.prompt.choices] == ["cooler", "freezer"]


def test_names_corrected_and_replayed(start: Start, library: Library) -> None:
    walk = start("named-unit")
    walk.answer("coler, freezer")
    walk.answer("coler")
    walk.answer("R-134a")
    number = next(n for n, event in enumerate(walk.events) if event.get("reading") == "circuits")
    walk.accept(walk.correct(number, "cooler, freezer"))
    assert walk.prompt is not None
    assert walk.circuits == ("cooler", "freezer")
    assert walk.prompt.circuit == "cooler", "only its name has changed"
    again = Walk.from_events(library, walk.events)
    assert again.prompt == walk.prompt
    assert again.circuits == walk.circuits


def test_the_tag_of_the_unit_is_known_where_a_tree_asks_for_it(start: Start) -> None:
    walk = start("tagged", unit="K-12")
    assert walk.prompt is not None
    assert walk.prompt.readings[0].id == "refrigerant"
    assert start("tagged").prompt.readings[0].id == "unit"  # type: ignore[union-attr]


@pytest.mark.parametrize("typed", ["suction", "cooler, Nameplate charge", "12 psig"])
def test_a_circuit_is_called_by_no_reading(start: Start, typed: str) -> None:
    walk = start("named-unit")
    assert not walk.try_answer(typed).ok
    with pytest.raises(Refused) as refused:
        walk.answer(typed)
    assert "cooler, freezer" in refused.value.cure


def test_a_record_with_a_name_that_is_not_taken_any_more_still_reads(start: Start, library: Library) -> None:
    bad = "banana 12 oz psig, freezer"
    history = [{"circuit": "", "reading": "circuits", "value": bad, "visit": "2026-05-01"}]
    walk = start("named-unit", history=history)
    assert walk.circuits == ("banana 12 oz psig", "freezer")
    assert Walk.from_events(library, walk.events).circuits == walk.circuits
    known = next(each for each in walk.from_before() if each.reading == "circuits")
    walk.accept(walk.correct(known, "cooler, freezer"))
    assert {name for name, _ in walk.prompt.choices} == {"cooler", "freezer"}  # type: ignore[union-attr]


def test_what_was_given_for_a_name_that_is_none_any_more_does_not_count(start: Start) -> None:
    walk = start("named-unit")
    walk.answer("coler, freezer")
    walk.answer("coler")
    walk.answer("R-134a")
    given = next(each for each in walk.given() if each.reading == "circuits")
    walk.accept(walk.correct(given, "cooler, freezer, third"))
    assert walk.circuits == ("cooler", "freezer", "third")
    assert [each.reading for each in walk.given()] == ["circuits"]
    with pytest.raises(Refused) as refused:
        walk.tell("suction", "8 psig", circuit="coler")
    assert "cooler, freezer, third" in refused.value.cure


def test_a_correction_says_which_circuit_is_walked_no_more(start: Start) -> None:
    walk = start("named-unit")
    walk.answer("coler, freezer")
    walk.answer("coler")
    walk.answer("R-134a")
    given = next(each for each in walk.given() if each.reading == "circuits")
    said = walk.correct(given, "cooler, freezer, third").differences
    assert said[0] == "coler: walked no more; what was read there stays in the record only"
    assert not any("freezer" in line for line in said)
