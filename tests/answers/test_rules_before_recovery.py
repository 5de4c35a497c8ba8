"""Whose rules hold is said before anything comes out, and 40 CFR 82.156 is not told for what it exempts."""

from __future__ import annotations

import pytest

from tests.bundled import examples, library
from tui.walk.answers import run_answers

RULES, OUT = "no-rules-loaded", "recover-all"


def steps_of_recovery(example: str) -> list[str]:
    """What was done on the way through `recover`, in order."""
    found = next(each for each in examples() if each.name == example)
    walk = run_answers(library(), found.answers, embed_texts=False)
    done = (each for each in walk.events if each["event"] == "done" and each["tree"] == "recover")
    return [str(each["step"]) for each in done]


@pytest.mark.parametrize("example", ["weighed-and-found", "orifice-short", "repair-other-region"])
def test_without_rules_it_is_said_before_it_is_recovered(example: str) -> None:
    steps = steps_of_recovery(example)
    assert steps.index(RULES) < steps.index(OUT)


@pytest.mark.parametrize("example", ["repair-propane-us", "air-and-short-fridge"])
def test_a_hydrocarbon_in_the_us_is_recovered_without_that_rule(example: str) -> None:
    """79 FR 29682 exempts R-600a in household and R-290 in stand-alone food cases; others are looked up."""
    steps = steps_of_recovery(example)
    assert steps.index("us-hydrocarbon") < steps.index(OUT)
    assert not {"recover-by-the-us-rule", "recover-by-the-us-table"} & set(steps)


@pytest.mark.parametrize("example", ["air-and-filled-up", "repair-walk-in-over"])
def test_an_hfc_in_the_us_is_recovered_by_it(example: str) -> None:
    steps = steps_of_recovery(example)
    assert "recover-by-the-us-rule" in steps
    assert not {"us-hydrocarbon", RULES} & set(steps)
