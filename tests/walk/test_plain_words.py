"""What the walk says of its ways is said as a person would: no ids, no arrows, no words of the program."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from tests.bundled import library
from tui.tree.model import Decide, Line, Repeat, Row, Step
from tui.walk import Walk
from tui.walk.rows import row_words, taken
from tui.walk.wording import OTHERWISE

NOT_A_PERSONS = re.compile(
    r"\b[a-z]+(?:-[a-z]+)+\b| [-+*/] |\(|\bunknown\b|\botherwise\b|is not known|\bis (?:yes|no|not yes)\b|is is"
)


def test_every_row_and_line_of_the_bundled_trees_is_said_plainly() -> None:
    answers = {answer for each in library().catalogue.readings.values() for answer in each.answers if " " in answer}
    told = {
        row_words(step, way.source)
        for tree in library().trees.values()
        for step in tree.named.values()
        for way in ways(step)
    }
    assert len(told) > 500
    assert [each for each in told if NOT_A_PERSONS.search(without(answers, each))] == []


def without(answers: set[str], text: str) -> str:
    """What is left of it without the answers in it: a low-pressure switch is spelled so."""
    for answer in answers:
        text = text.replace(answer, "")
    return text


def ways(step: Step) -> tuple[Line | Row, ...]:
    if isinstance(step, Decide):
        return step.lines if step.table is None else tuple(step.table.rows)
    return step.stops if isinstance(step, Repeat) else ()


@pytest.mark.parametrize(
    ("at", "saw", "said"),
    [
        (
            "box-fan/may-it-wait",
            {"evaporator-fan is stopped": "unknown", "defrost-just-over is yes": "unknown"},
            "not known: evaporator fan, defrost just over; that leaves it open",
        ),
        ("one-set/hoses-the-right-way", {}, "not known: whether suction is above head; that leaves it open"),
    ],
)
def test_what_is_not_known_is_said_in_one_breath(at: str, saw: dict[str, str], said: str) -> None:
    tree, _, name = at.partition("/")
    step = library().trees[tree].named[name]
    assert taken(step, [way.source for way in ways(step)], saw) == said


def test_the_last_line_of_tests_is_no_word_of_the_program() -> None:
    assert row_words(None, OTHERWISE) == "in every other case"


def test_what_is_taken_back_is_named_whatever_it_was(start: Callable[..., Walk]) -> None:
    walk = start("small")
    walk.answer("R-134a")
    walk.couldnt("no plate to be seen", walk.prompt.readings[0].id if walk.prompt else None)
    gone, *others = walk.undo_shows()
    assert gone.endswith("couldn't be had")
    assert not any("->" in each or "answered" in each for each in (gone, *others))
