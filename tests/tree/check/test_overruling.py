"""Which verdicts protect somebody, so that nobody should overrule them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.tree.check.overlay import problems_of
from tui.tree.library import Library

TREES = Path(__file__).parents[3] / "trees"
DECIDE = """- ask: refrigerant
- go: take-suction
  comes back:
    taken: carry on
    swinging: unclear
- decide: what-it-says
  by: suction-level
  rows:
    low: carry on
    on or high: unclear
  must be settled: yes
  unsettled: unclear
- back: low
- back: unclear
  name: unclear
"""
DEMANDS = "# catalogue/work.yaml\nlets more in:\n  only if: suction-level is low\n"
WARNS = "# catalogue/cautions.yaml\nfrostbite:\n  when: suction-level is low\n  say: It burns.\n"


def told(example: str) -> list[str]:
    return [one.message for one in problems_of(example) if one.code == "overrule-safety"]


def test_a_verdict_of_what_is_wrong_may_be_overruled() -> None:
    assert problems_of(DECIDE) == []


@pytest.mark.parametrize(
    ("catalogue", "what"), [(DEMANDS, "the work `lets more in`"), (WARNS, "the caution `frostbite`")]
)
def test_a_verdict_that_work_or_a_caution_hangs_on(catalogue: str, what: str) -> None:
    said = "At a close call a technician may overrule `what-it-says`, and {} hangs on `suction-level`."
    assert told(DECIDE + catalogue) == [said.format(what)]
    assert told(DECIDE.replace("settled: yes\n", "settled: yes\n  overrule: no\n") + catalogue) == []


def test_without_a_stop_at_a_close_call_there_is_nothing_to_overrule() -> None:
    assert told(DECIDE.replace("  must be settled: yes\n", "") + DEMANDS) == []


@pytest.mark.parametrize(
    "judged",
    [
        "compare: suction\n  on to: low-side-rating",
        "compare: suction\n  on to: low-side-rating - 5 psi",
        "compare: low-side-rating - suction\n  on from: 5 psi",
    ],
    ids=["the rating", "short of it", "what is left under it"],
)
def test_a_verdict_against_a_rating(judged: str) -> None:
    rated = f"- ask: low-side-rating, suction\n- judge: kept\n  {judged}\n"
    decide = "- decide: is-it-kept\n  by: kept\n  rows:\n    on: carry on\n    high: over\n  must be settled: yes\n"
    if "on from" in judged:
        decide = decide.replace("high: over", "low: over")
    ends = "- back: kept\n- back: over\n  name: over\n"
    unsettled = decide + "  unsettled: over\n"
    assert told(rated + unsettled + ends) == [
        "At a close call a technician may overrule `is-it-kept`, and a rating of the plate hangs on `kept`."
    ]


def test_the_bundled_decides_that_may_not_be_overruled() -> None:
    """Each was looked at: its verdict lets gas in, a compressor be tried, or a rating be passed."""
    texts = {
        str(file.relative_to(TREES)): re.sub(r"\n +overrule: no(?=\n)", "", file.read_text("utf-8"))
        for file in TREES.rglob("*.yaml")
        if file.parent.name != "examples"
    }
    named = {re.findall(r"overrule `([^`]+)`", one.message)[0] for one in Library.from_texts(texts).problems}
    assert named == {"do-its-amps-fit", "room-for-the-head", "must-it-stop", "what-the-rise-says", "ground"}
