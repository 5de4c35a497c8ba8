"""What is known on a visit is not asked a second time: hoses, the customer's word, whether it is empty."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.bundled import examples, library
from tui.walk.answers import Driver, begin, run_answers


def asked(example: str) -> Counter[str]:
    """How often each reading was answered in an example."""
    found = next(each for each in examples() if each.name == example)
    walk = run_answers(library(), found.answers, embed_texts=False)
    return Counter(str(event["reading"]) for event in walk.events if event["event"] == "answered")


def test_gauges_that_are_on_show_where_the_hoses_go() -> None:
    assert "way-in" not in asked("merchandiser-overfilled-not-held-for-a-leak")


def test_a_gauge_that_is_on_is_not_fitted_again() -> None:
    """By the standing test, or by the search for a leak: what was read with it before stays on."""
    for example in ("household-freezer-overfilled", "class-short-reach-in"):
        found = next(each for each in examples() if each.name == example)
        walk = run_answers(library(), found.answers, embed_texts=False)
        done = [str(each["step"]) for each in walk.events if each["event"] == "done"]
        assert "fit-the-gauges" in done, example
        assert "fit-a-gauge" not in done, example


def test_a_tube_that_is_pierced_is_asked_about_once() -> None:
    assert asked("class-proven-fridge")["way-in"] == 1


@pytest.mark.parametrize("example", ["merchandiser-overfilled-not-held-for-a-leak", "class-proven-fridge"])
def test_empty_is_asked_where_the_gauge_is_watched_and_then_known(example: str) -> None:
    assert asked(example)["circuit-empty"] == 1


@pytest.mark.parametrize("example", ["class-proven-fridge", "made-good-without-asking-the-customer-again"])
def test_the_customer_is_asked_once(example: str) -> None:
    assert asked(example)["customer-decides"] == 1


def test_going_back_over_the_let_down_asks_only_for_what_was_taken_back() -> None:
    """Nitrogen that is let down is no reason to read the hold anew: what it was held at is known."""
    found = next(each for each in examples() if each.name == "repair-walk-in-over")
    walk = begin(library(), found.answers, embed_texts=False)
    driver = Driver(walk, found.answers, lambda intent: intent(walk))
    while walk.prompt is not None and "circuit-pressure-now" not in [each.id for each in walk.prompt.readings]:
        driver.step(walk.prompt)
    walk.undo()
    assert walk.prompt is not None
    assert [each.id for each in walk.prompt.readings] == ["held-temperature"]
    driver.step(walk.prompt)
    assert walk.prompt is not None
    assert [each.id for each in walk.prompt.readings] == ["circuit-pressure-now"]
