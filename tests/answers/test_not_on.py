"""What the catalogue says can't happen on a class of equipment is not held possible there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from tui.tree import source
from tui.tree.library import Library
from tui.walk.answers import Answers, Driver, begin

TREES = Path(__file__).parents[2] / "trees"
VALVES = {"valve-underfeeding", "valve-overfeeding", "valve-hunting"}
HARDLY_ANYTHING = """
tree: both-low
site: {{altitude: 0 ft}}
circuits:
  main:
    refrigerant: R-134a
    plates-agree: yes
    nameplate-charge: 100 g
    equipment: {0}
    simple-circuit: yes
    compressor-runs: runs steadily
    evaporator-fan: running
    frost-pattern: even and thin
"""


@cache
def library() -> Library:
    return Library.read(TREES)


@pytest.mark.parametrize(("equipment", "left"), [("household freezer", set()), ("reach-in freezer", VALVES)])
def test_a_valve_is_not_possible_where_there_is_none(equipment: str, left: set[str]) -> None:
    """How it is fed could not be said; on the way and at the end."""
    answers = Answers.from_node(source.read_text("one.yaml", HARDLY_ANYTHING.format(equipment), flow=True), "one.yaml")
    walk = begin(library(), answers, embed_texts=False)
    driver = Driver(walk, answers, lambda intent: intent(walk))
    on_the_way: set[str] = set()
    while (prompt := walk.prompt) is not None:
        driver.step(prompt)
        if any(event.get("step") == "which-kind" for event in walk.events):  # the first fork behind that answer
            on_the_way |= VALVES & set(walk.still_possible)
    (end,) = (event for event in walk.events if event["event"] == "finding")
    assert (on_the_way, VALVES & set(end["still_possible"])) == (left, left)
