"""A slip is found by its number, by its place or by its name, however many readings there are."""

from __future__ import annotations

import pytest

from tests.app.lines import BEGINNING, events, page, said, typed
from tui.app.correcting import Slips
from tui.app.talk import Talk
from tui.proof.reading import read_examples
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk.answers import run_answers
from tui.walk.prompt import Given


def test_correct_with_name_and_value_works_at_once(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    typed(talk, "correct suction 15")
    assert "suction: 4.0 psig becomes 15.0 psig." in page(talk)
    assert not events(talk, "corrected")
    typed(talk, "yes")
    assert events(talk, "corrected")[0]["reading"] == "suction"


@pytest.mark.parametrize("line", ["suction 15", "low side 15", "Suction: 15"])
def test_in_the_list_too(talk: Talk, line: str) -> None:
    typed(talk, *BEGINNING, "correct")
    talk.typing(line)
    assert "taken as suction: 15.0 psig" in said(talk)
    typed(talk, line)
    assert "suction: 4.0 psig becomes 15.0 psig." in page(talk)


def test_a_figure_that_one_in_the_list_begins_with_is_the_right_one(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1], "4.5", "correct suction 4")
    assert "suction: 4.5 psig becomes 4.0 psig." in page(talk)


def many(talk: Talk) -> Slips:
    places = ("service-caps", "process-tube", "suction-line", "discharge", "drier-joints", "cap-tube-rub")
    given = {str(n): Given(n, "main", "suction", "none", place) for n, place in enumerate(places)}
    given |= {str(n): Given(n, "main", "scale", f"{n} oz") for n in range(10, 17)}
    return Slips(talk, given)


def test_equal_rows_have_their_places_and_numbers_work(talk: Talk) -> None:
    slips = many(talk)
    said = [say.strip() for _, say in slips.choices]
    assert said[4] == "5 drier joints: suction none"
    assert said[12].startswith("13 ")
    assert slips.picked("5") == "4"
    assert slips.picked("13") == "16"
    assert slips.picked("14") is None


def test_a_reading_given_at_a_place_keeps_it() -> None:
    trees = bundled_trees()
    library = Library.read(trees)
    example = read_examples(library, [trees / "examples" / "leak-soap-nitrogen.yaml"])[0]
    walk = run_answers(library, example.answers)
    soaped = [each for each in walk.given() if each.reading == "bubbles-there"]
    assert soaped
    assert all(each.place for each in soaped)


def test_the_board_is_not_opened_over_a_caution(talk: Talk) -> None:
    typed(talk, *BEGINNING[:5])
    assert "CAUTION" in page(talk)
    assert not talk.press("board")
    assert "CAUTION" in page(talk)
    typed(talk, "")
    assert talk.press("board")
