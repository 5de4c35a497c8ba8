"""The first page: what a customer and a lead need, in sixty lines; the details behind it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.review.test_bundled import HERE, told
from tests.review.visits import begun, charged, flat, section, to_the_gauges
from tui.review.account import Account, Entry
from tui.review.front import _done
from tui.review.page import Page
from tui.review.wording import Wording

PAGE = 60  # lines


@pytest.mark.parametrize("answers", sorted(path.stem for path in HERE.glob("*.yaml")))
def test_it_fits_one_page(answers: str) -> None:
    lines = told(answers).split("\n")
    assert lines.index("DETAILS") < PAGE
    for heading in ("SERVICE SHEET", "WHAT WAS DONE", "REFRIGERANT", "LEFT TO DO", "SIGNED"):
        assert lines.index(heading) < lines.index("DETAILS")


def test_a_result_in_two_parts_is_told_in_its_order() -> None:
    result = flat(section(told("call-leak"), "RESULT"))
    assert result.startswith(
        "For the customer First: Refrigerant had leaked out. The leak was found and mended, and it was filled anew."
        " At the end: The cooling itself works as it should."
        " Found Short of refrigerant - it has leaked; at the end: The refrigeration side is well"
    )
    assert "leak mended" in flat(section(told("call-leak"), "REFRIGERANT"))


def test_of_each_cause_the_front_tells_what_was_seen_last_and_the_details_the_rest() -> None:
    """Short by the weighed test, then the leak itself: two findings of one cause."""
    front, _, details = told("call-leak").partition("DETAILS")
    seen = flat(front).partition(" Seen ")[2].partition("WHAT WAS DONE")[0]
    assert seen.count("09:30 ") == 2
    assert "Leaks at drier joints" in seen
    assert " Seen " in flat(section(details, "MAIN: WHY 1 OF 3, 09:30"))
    for title in ("MAIN: WHY 2 OF 3, 09:30", "MAIN: WHY 3 OF 3, 09:30"):
        assert " Seen " not in flat(section(details, title))


def test_a_leak_that_was_found_and_not_mended_is_told_so() -> None:
    result = flat(section(told("call-leak-open"), "RESULT"))
    assert "Refrigerant has leaked out. The leak was found, and has to be mended before more goes in." in result
    assert "has to be found" not in result


def test_what_the_technician_found_himself_is_told_once(tmp_path: Path) -> None:
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    visit.act(lambda walk: walk.own_finding("short-of-charge", "oil at a flare"))
    sheet = visit.sheet()
    result = flat(section(sheet, "RESULT"))
    assert result.startswith("For the customer It has lost refrigerant. Found Short of charge Seen")
    assert "oil at a flare" in section(sheet, "MAIN: THE TECHNICIAN'S OWN FINDING")


def test_what_cannot_be_told_names_what_it_could_be_and_the_test() -> None:
    result = flat(section(told("call-receiver"), "RESULT"))
    assert result.startswith("For the customer The fan in the box and ice are ruled out. Refrigerant may be missing")
    assert "What was measured does not settle it." not in result
    assert "It could be Short of refrigerant - it has leaked; Strainer or inlet screen blocked" in result
    assert "To tell them apart recovering and weighing" in result


def test_each_circuit_has_its_result_its_charge_and_what_comes_next() -> None:
    sheet = told("call-two-circuits")
    assert "The fan inside the box does not work properly." in flat(section(sheet, "RESULT, FREEZER"))
    assert "A filter in the sealed circuit is clogged." in flat(section(sheet, "RESULT, TABLE"))
    assert flat(section(sheet, "REFRIGERANT")) == (
        "Freezer R-290, 3.1 oz on the plate; none went in or out Table R-134a, 11 oz on the plate; none went in or out"
    )
    left = flat(section(sheet, "LEFT TO DO"))
    assert "Next, freezer Lock out. Door switch" in left
    assert "Next, table Recover and weigh." in left


@pytest.mark.parametrize("answers", ["call-leak", "call-ice"])
def test_there_are_lines_to_write_on_for_what_nobody_typed(answers: str) -> None:
    front = told(answers).partition("DETAILS")[0]
    asked = answers == "call-leak"  # on that walk he was, and chose
    for label in ("Follow-up, which day", "Parts", "Technician", "Customer", *(["Customer agreed to"] * (not asked))):
        assert re.search(rf"^  {label} +_+", front, re.MULTILINE), label
    assert ("Customer agreed to     the repair" in front) is asked
    assert ("Cylinder numbers" in front) is (answers == "call-leak"), "only where refrigerant was moved"


def test_a_plate_that_nobody_read_is_said(tmp_path: Path) -> None:
    visit = begun(tmp_path / "a.jsonl")
    visit.answer("R-134a", "yes")
    visit.act(lambda walk: walk.couldnt("plate painted over"))
    assert "R-134a, plate charge not known; none went in or out" in flat(section(visit.sheet(), "REFRIGERANT"))


def test_a_plate_known_from_an_earlier_visit_counts(tmp_path: Path) -> None:
    history = [
        {"circuit": "main", "reading": "refrigerant", "value": "R-290"},
        {"circuit": "main", "reading": "nameplate-charge", "value": "3 oz"},
    ]
    visit = begun(tmp_path / "a.jsonl", known={"circuits": ["main"]}, history=history)
    assert "Main R-290, 3 oz on the plate" in flat(section(visit.sheet(), "REFRIGERANT"))


def test_an_open_visit_says_where_it_stands_and_what_is_on(tmp_path: Path) -> None:
    visit = to_the_gauges(begun(tmp_path / "a.jsonl"))
    visit.answer("4 psig")
    visit.act(lambda walk: walk.done())
    left = flat(section(visit.sheet(), "LEFT TO DO"))
    assert left.startswith('Stopped after "Cylinder on the scale" (A small circuit) STILL ON cylinder on')


def test_a_visit_to_its_end_was_not_stopped(tmp_path: Path) -> None:
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    visit.act(lambda walk: walk.close())
    assert "Stopped" not in visit.sheet()


def test_work_is_said_as_a_person_says_it() -> None:
    """Hoses, cylinder and opening only led to it; how often the pump ran is told in the details."""
    assert flat(section(told("call-leak"), "WHAT WAS DONE")).partition(" To be")[0] == (
        "Work Gauges fitted; refrigerant added, twice; refrigerant recovered; joint made anew; new drier;"
        " tested with nitrogen; evacuated; plate charge weighed in"
    )


def test_what_was_put_right_is_told_in_the_technicians_words() -> None:
    """A fan renewed is no work on the circuit, and all the same what the customer pays for."""
    again = {"put-right": ["in part", "yes"], "put-right-how": ["blade bent back", "fan motor replaced"]}
    entries = [
        Entry(n, "2026-11-25T09:30:00-05:00", {"event": "answered", "circuit": "main", "reading": name, "value": value})
        for n, (name, value) in enumerate(
            (name, {"kind": "text", "value": texts[take]}) for take in (0, 1) for name, texts in again.items()
        )
    ]
    page = Page()
    _done(page, Account({}, entries), Wording(None))
    assert "Put right in part - blade bent back; yes - fan motor replaced" in flat(page.text)


def test_no_work_is_said(tmp_path: Path) -> None:
    visit = to_the_gauges(begun(tmp_path / "a.jsonl"))
    assert flat(section(visit.sheet(), "WHAT WAS DONE")) == "Work Looked at and measured. No work on the circuit."
