"""What the bundled trees doubt, and what they do not ask of somebody without gauges."""

from __future__ import annotations

import pytest

from tests.desk.test_before import ROOT, SEA, bundled
from tui.proof.examples import walked
from tui.proof.reading import read_examples
from tui.walk import Walk

FREEZING = "never set above freezing"


@pytest.mark.parametrize(
    ("equipment", "wanted", "doubted"),
    [
        ("reach-in freezer", "52 °F", True),
        ("walk-in freezer", "33 °F", True),
        ("reach-in freezer", "0 °F", False),
        ("walk-in cooler", "52 °F", False),
    ],
)
def test_a_freezer_wanted_above_freezing(equipment: str, wanted: str, doubted: bool) -> None:
    walk = Walk.start(bundled(), "circuit-call", site=SEA)
    walk.tell("equipment", equipment)
    assert any(FREEZING in said for said in walk.doubts(wanted, "box-wanted")) == doubted


def test_without_gauges_nothing_is_asked_or_warned_of_that_needs_one() -> None:
    library = bundled()
    file = ROOT / "trees" / "examples" / "blocked.yaml"
    example = next(each for each in read_examples(library, [file]) if each.name == "cap-tube-propane")
    walk, trouble = walked(library, example.answers)
    assert walk is not None, trouble
    asked = {each.get("reading") for each in walk.events}
    asked |= {reading for each in walk.events for reading in each.get("readings", ())}
    assert not asked & {"suction", "head", "evens-out"}
    warned = {caution for each in walk.events for caution in each.get("cautions", ())}
    assert warned
    assert not warned & {"high-pressure", "small-charge"}
