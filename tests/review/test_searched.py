"""Places that were searched: each with what was seen there, in their order."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.review.person import Person
from tests.review.test_bundled import HERE, library
from tests.review.visits import flat, section
from tui.review.account import Account, Entry
from tui.review.searched import place_at, searched
from tui.walk import Walk
from tui.walk.answers import Answers, run_answers


def seen(n: int, place: str, reading: str, word: str, **more: Any) -> Entry:
    event = {"event": "answered", "circuit": "main", "tree": "leak-search", "step": "x", "reading": reading}
    value = {"kind": "choice", "value": word}
    return Entry(n, "2026-11-25T09:30:00-05:00", {**event, "value": value, "place": place, **more})


def done(n: int, tree: str = "leak-search", circuit: str = "main") -> Entry:
    event = {"event": "done", "circuit": circuit, "tree": tree, "step": "y"}
    return Entry(n, "2026-11-25T09:40:00-05:00", event)


SEARCH = [
    seen(3, "process tube", "oil-there", "none"),
    seen(4, "process tube", "sniff", "clear"),
    seen(5, "drier joints", "oil-there", "fresh"),
    seen(6, "drier joints", "sniff", "hit"),
]


def test_each_place_has_one_row_in_the_order_of_the_search() -> None:
    assert searched(Account({}, list(SEARCH)), "main") == [
        ("process tube", "oil there none, sniff clear"),
        ("drier joints", "oil there fresh, sniff hit"),
    ]


def test_a_place_gone_to_again_has_a_row_of_its_own() -> None:
    again = seen(9, "process tube", "soap", "bubbles")
    assert searched(Account({}, [*SEARCH, again]), "main")[2:] == [("process tube", "soap bubbles")]


def test_another_circuit_is_left_out() -> None:
    other = seen(9, "condenser", "sniff", "hit", circuit="freezer")
    assert [place for place, _ in searched(Account({}, [*SEARCH, other]), "main")] == ["process tube", "drier joints"]
    assert searched(Account({}, [*SEARCH, other]), "freezer") == [("condenser", "sniff hit")]


def test_what_was_not_had_at_a_place_says_why() -> None:
    event = {"event": "couldn't", "circuit": "main", "tree": "leak-search", "readings": ["sniff"], "place": "condenser"}
    couldnt = Entry(9, "2026-11-25T09:30:00-05:00", {**event, "step": "x", "reason": "behind the wall"})
    assert searched(Account({}, [couldnt]), "main") == [("condenser", "sniff not had: behind the wall")]


def test_readings_without_a_place_are_none_of_it() -> None:
    assert searched(Account({}, [seen(3, "", "suction", "x")]), "main") == []


def test_the_place_looked_at_last() -> None:
    account = Account({}, list(SEARCH))
    assert place_at(account, done(9)) == "drier joints"
    assert place_at(account, done(5)) == "process tube"
    assert place_at(account, done(3)) == ""
    assert place_at(account, done(9, tree="repair-and-prove")) == ""
    assert place_at(account, done(9, circuit="freezer")) == ""


def test_places_of_a_walk_typed_in_part_by_name(tmp_path: Path) -> None:
    """A reading typed by its name where it is asked stands at that place too."""

    def by_name(person: Person) -> None:
        person.does(lambda walk: walk.tell("oil-there", "none"))

    deeds = {"oil-there": by_name}
    person = Person(library(), HERE / "call-leak.yaml", tmp_path / "a.jsonl", deeds)
    person.used["main", "oil-there"] = 1
    told = flat(section(person.go().sheet(), "MAIN: PLACES SEARCHED, IN THIS ORDER"))
    assert told.startswith("- Service caps and cores, process tube, ")
    assert told.count("oil there none, sniff clear") == 1, "what is the same is said once"
    assert told.endswith("- Drier joints: oil there fresh, sniff hit, from left hit, from right hit, from below hit")


def test_what_was_said_at_a_place_keeps_it_through_a_correction(tmp_path: Path) -> None:
    """The fifth place hit, and that was only said after the seventh: photo and finding are of the fifth."""

    def slips(person: Person) -> None:
        for _ in range(7):
            person.does(lambda walk: walk.answer({"oil-there": "none", "sniff": "clear"}))
        fifth = [each for each in person.walk.given() if each.reading == "sniff"][4]
        person.does(lambda walk: walk.accept(walk.correct(fifth, "hit")))

    person = Person(library(), HERE / "call-leak.yaml", tmp_path / "a.jsonl", {"oil-there": slips})
    sheet = person.go().sheet()
    assert "Photo of drier joints with" in flat(section(sheet, "MAIN: WORK AND WAITS"))
    assert "Leaks at drier joints" in flat(sheet)
    told = section(sheet, "MAIN: PLACES SEARCHED, IN THIS ORDER")
    assert [line[4:17] for line in told.split("\n") if line[2] == "-"][1:] == ["Drier joints:", "Before the co"]
    beside = flat(told).partition("Before the correction")[2]
    assert beside.count("sniff clear") == 2


def test_a_place_lasts_over_an_answer_taken_back(tmp_path: Path) -> None:
    """The photo is made, the answer before it taken back, another place hits: each photo is of its own place."""

    def slips(person: Person) -> None:
        person.does(
            lambda walk: walk.answer({"oil-there": "none", "sniff": "hit"}),
            lambda walk: walk.done(),
            lambda walk: walk.answer({"from-left": "hit", "from-right": "hit", "from-below": "hit"}),
            lambda walk: walk.answer("the upper core"),
            lambda walk: walk.done(),
            lambda walk: walk.undo(3),
            lambda walk: walk.answer({"from-right": "clear", "from-below": "clear"}),
        )

    person = Person(library(), HERE / "call-leak.yaml", tmp_path / "a.jsonl", {"oil-there": slips})
    person.used["main", "oil-there"] = person.used["main", "sniff"] = 1
    told = flat(section(person.go().sheet(), "MAIN: WORK AND WAITS"))
    assert "Photo of service caps and cores with" in told
    assert "Photo of drier joints with" in told


def test_an_older_file_that_names_no_place_with_acts_and_decisions_replays() -> None:
    walk = run_answers(library(), Answers.read(HERE / "call-leak.yaml"))
    assert {e["event"] for e in walk.events if "place" in e} == {"answered", "done", "routed", "finding"}
    older = [{k: v for k, v in e.items() if k != "place" or e["event"] not in ("done", "routed")} for e in walk.events]
    assert Walk.from_events(library(), older).findings == walk.findings
