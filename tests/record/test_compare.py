"""Two runs are the same to nine digits, or the first difference is named."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from tui.record.compare import Difference, first_difference

THEN: list[dict[str, Any]] = [
    {"event": "opened", "circuit": None, "versions": {"lowside": "1"}, "region": "US"},
    {"event": "entered", "circuit": "main", "tree": "both-low", "text": "x", "digest": "y"},
    {
        "event": "answered",
        "circuit": "main",
        "reading": "suction",
        "value": {"value": "55158.05838", "unit": "Pa"},
    },
    {
        "event": "judged",
        "circuit": "main",
        "result": "suction-level",
        "verdict": "low",
        "margin": "-5.000000001",
    },
    {"event": "routed", "circuit": "main", "step": "what-it-did", "row": "low, low", "could_be": ["a", "b"]},
]


def changed(n: int, key: str, value: object) -> list[dict[str, Any]]:
    now = deepcopy(THEN)
    now[n][key] = value
    return now


def test_the_same() -> None:
    assert first_difference(THEN, deepcopy(THEN)) is None


@pytest.mark.parametrize("margin", ["-5.000000002", "-5.0000000010", "-5.000000005"])
def test_numbers_are_the_same_to_nine_digits(margin: str) -> None:
    assert first_difference(THEN, changed(3, "margin", margin)) is None


def test_a_number_differs_in_the_ninth_digit() -> None:
    assert first_difference(THEN, changed(3, "margin", "-5.00000001")) == Difference(
        3, "judged suction-level in main: margin", "-5.000000001", "-5.00000001"
    )


def test_a_verdict_differs() -> None:
    assert first_difference(THEN, changed(3, "verdict", "on")) == Difference(
        3, "judged suction-level in main: verdict", "low", "on"
    )


def test_a_difference_deep_inside_is_named_there() -> None:
    found = first_difference(THEN, changed(2, "value", {"value": "1", "unit": "Pa"}))
    assert found == Difference(2, "answered suction in main: value value", "55158.05838", "1")
    found = first_difference(THEN, changed(4, "could_be", ["a", "c"]))
    assert found == Difference(4, "routed what-it-did in main: could_be 2", "b", "c")
    found = first_difference(THEN, changed(4, "could_be", ["a"]))
    assert found == Difference(4, "routed what-it-did in main: could_be", "a, b", "a")


def test_what_is_new_or_gone() -> None:
    assert first_difference(THEN, changed(3, "close", True)) == Difference(
        3, "judged suction-level in main: close", "nothing", "True"
    )
    assert first_difference(THEN, THEN[:4]) == Difference(
        4, "what comes next", "routed what-it-did in main", "nothing more"
    )
    assert first_difference(THEN[:4], THEN) == Difference(
        4, "what comes next", "nothing more", "routed what-it-did in main"
    )


def test_another_event() -> None:
    assert first_difference(THEN, [*THEN[:3], THEN[4]]) == Difference(
        3, "event", "judged suction-level in main", "routed what-it-did in main"
    )


def test_texts_and_versions_may_differ() -> None:
    now = changed(1, "text", "z")
    now[0]["versions"] = {"lowside": "2"}
    assert first_difference(THEN, now) is None


def test_true_is_not_one_and_words_are_not_numbers() -> None:
    assert first_difference([{"event": "e", "a": True}], [{"event": "e", "a": 1}]) is not None
    assert first_difference([{"event": "e", "a": "nan"}], [{"event": "e", "a": "nan "}]) is not None
