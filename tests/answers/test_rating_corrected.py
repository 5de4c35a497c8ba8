"""A plate's rating put right while nitrogen stands inside: it is let down first, and the record stays whole."""

from __future__ import annotations

import random

import pytest

from tests.answers.test_leak import _answer, library
from tui.walk import Walk
from tui.walk.prompt import Prompt

HIGH, LOW = "250 psig", "21.8 psig"
GUARD = "low side rating is 21.8 psig"


def under_nitrogen(tree: str, asked: str) -> Walk:
    """A walk at a question that is asked with nitrogen inside, on a side rated 250 psig."""
    for seed in range(60):
        walk = Walk.start(library(), tree, site={"altitude": "300 ft", "region": "US"}, units="US")
        told: dict[str, str] = {}
        chance = random.Random(seed)
        while (prompt := walk.prompt) is not None and len(walk.events) < 400:
            if _at(prompt, asked) and walk.left_on:
                return walk
            if _at(prompt, "low-side-rating"):
                walk.answer(HIGH)
            elif _at(prompt, "high-side-rating"):
                walk.answer("450 psig")
            elif prompt.kind == "wait" and prompt.seconds is not None:
                walk.waited(prompt.seconds)
            else:
                _answer(walk, prompt, told, chance)
    raise AssertionError(f"never came to {asked}")


def _at(prompt: Prompt, name: str) -> bool:
    return prompt.step == name or name in [reading.id for reading in prompt.readings[:1]]


def put_right(walk: Walk, text: str) -> tuple[str, ...]:
    """What the proposal says; it is then accepted."""
    given = next(each for each in walk.given() if each.reading == "low-side-rating")
    change = walk.correct(given, text)
    walk.accept(change)
    return change.differences


def words(walk: Walk) -> str:
    assert walk.prompt is not None
    return f"{walk.prompt.words} {walk.prompt.why}"


@pytest.mark.parametrize("asked", ["bubbles-there", "soaped-joints"])
def test_a_rating_put_under_the_nitrogen_lets_it_down_first(asked: str) -> None:
    walk = under_nitrogen("leak-search", asked)
    first, *_ = put_right(walk, LOW)
    assert first.startswith("FIRST")
    assert "let down slowly" in first
    assert GUARD in first
    assert walk.prompt is not None
    assert walk.prompt.work == "lets the pressure down"
    assert GUARD in words(walk)
    assert Walk.from_events(walk.library, walk.events).prompt == walk.prompt


def test_after_that_it_is_let_in_anew_or_not_at_all() -> None:
    walk = under_nitrogen("leak-search", "bubbles-there")
    put_right(walk, LOW)
    walk.done()
    assert walk.left_on == ()
    assert walk.prompt is not None
    assert walk.prompt.work == "lets the first nitrogen in"
    put_right(walk, "240 psig")  # the pressure is gone all the same
    assert walk.prompt is not None
    assert walk.prompt.work == "lets the first nitrogen in"
    assert Walk.from_events(walk.library, walk.events).prompt == walk.prompt


def test_put_right_again_before_it_is_let_down_nothing_has_changed() -> None:
    walk = under_nitrogen("leak-search", "bubbles-there")
    before = walk.prompt
    put_right(walk, LOW)
    put_right(walk, HIGH)
    assert walk.prompt == before
    assert walk.left_on == (("main", "nitrogen inside"),)


def test_taken_back_and_answered_lower_it_is_let_down_too() -> None:
    walk = under_nitrogen("nitrogen-hold", "soaped-joints")
    while not _at(walk.prompt, "low-side-rating"):  # type: ignore[arg-type]
        walk.undo()
    walk.answer(LOW)
    assert walk.prompt is not None
    assert walk.prompt.work == "lets the pressure down"


def test_where_the_tree_says_so_itself_its_own_way_is_taken() -> None:
    walk = under_nitrogen("nitrogen-hold", "first-hold-time")
    put_right(walk, LOW)
    assert walk.prompt is not None
    assert walk.prompt.step == "too-high"
    walk.done()
    assert walk.findings[-1].at == "nitrogen-hold/went-over-the-plate"


def test_a_rating_still_high_enough_changes_nothing() -> None:
    walk = under_nitrogen("leak-search", "bubbles-there")
    before = walk.prompt
    put_right(walk, "200 psig")
    assert walk.prompt == before
