"""What a customer is told where no cause is certain: what comes next and who does it, without trade words."""

from __future__ import annotations

import re

import pytest

from tests.review.test_bundled import library
from tui.tree.check.names import every_step
from tui.tree.model import FindingStep

TRADE = re.compile(
    r"\b(suction|head|superheat|subcooling|gauges?|txv|cap tube|drier|evaporator|condenser|micron|nitrogen|psig?|"
    r"charged?|recover(ed)?|pull-down|gas in|bulb)\b",
    re.IGNORECASE,
)
WHO = re.compile(r"\b(technician|we|you|looked for)\b", re.IGNORECASE)
OPEN = [
    (tree.name, step)
    for tree in library().trees.values()
    for step in every_step(tree.steps)
    if isinstance(step, FindingStep) and step.cause in (None, "cannot-tell")
]


@pytest.mark.parametrize(("tree", "step"), OPEN, ids=[f"{tree}-{step.name}" for tree, step in OPEN])
def test_what_is_open_is_told_in_plain_words_with_what_comes_next(tree: str, step: FindingStep) -> None:
    assert step.customer is not None, "what is the customer told?"
    assert not TRADE.findall(step.customer.source)
    assert WHO.search(step.customer.source), "what comes next, and who does it?"
    assert len(step.customer.source) <= 200
    assert not [part for part in step.customer.parts if not isinstance(part, str)], "no figures"
