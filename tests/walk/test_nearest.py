"""What a close call could be on its other side: what the fewest further questions lead to comes first."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from tests.proof.shifting import Shift, with_shift
from tests.walk.test_rules import EXAMPLES, bundled  # noqa: F401
from tui.desk.saying import finding_lines
from tui.proof.reading import read_examples
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Driver, begin

CLOSE_BY = "11.5 psig"  # the limit is 11.9, the gauge good to 0.5
ICE_MAKER = "ice-maker-leaks-or-held"


def the_finding(walk: Walk) -> dict[str, Any]:
    return [event for event in walk.events if event["event"] == "finding"][-1]


def left_open(start: Callable[..., Walk], suction: str = CLOSE_BY) -> Walk:
    """To the finding, with the close call left open."""
    walk = start("near-by")
    for answer in ("R-134a", {"fan": "running", "box-wanted": "35 °F"}, suction, "go-on"):
        walk.answer(answer)
    return walk


def test_the_nearest_comes_first_and_what_speaks_against_the_known_last(start: Callable[..., Walk]) -> None:
    """The door to look at; the door and the plate; that the fan stands was never near a limit."""
    (near,) = the_finding(left_open(start))["nearest"]
    assert near["what"] == ["evaporating-now"]
    assert near["causes"] == ["refrigeration-is-well", "drier-blocked", "short-of-charge", "evaporator-fan"]
    assert near["more"] == 0


def ice_maker(bundled: Library) -> Walk:  # noqa: F811
    """Warm gas leaks by, but a clamp read wrong brings the drier near its limit; the gas could not be recovered."""
    (found,) = [each for each in read_examples(bundled, [EXAMPLES / "ice-maker-line.yaml"]) if each.name == ICE_MAKER]
    answers = with_shift(Shift(found, "main", "drier-inlet", 0, "94 °F", "96 °F"))
    walk = begin(bundled, answers, embed_texts=False)
    driver = Driver(walk, answers, lambda intent: intent(walk))
    while (prompt := walk.prompt) is not None:
        driver.step(prompt)
    return walk


def test_a_stop_names_what_stands_on_the_other_side(bundled: Library) -> None:  # noqa: F811
    walk = ice_maker(bundled)
    found = the_finding(walk)
    (near,) = found["nearest"]
    assert (found["cause"], found["could_be"]) == ("cannot-tell", [])
    assert {"drier-blocked", "bypass-leaking"} <= set(near["causes"])
    assert near["more"] > 0
    said = " ".join(finding_lines(walk.findings[-1], bundled.catalogue.causes))
    assert f"{near['more']} more" in said


def test_it_replays_where_only_the_trees_that_were_entered_are_there(bundled: Library) -> None:  # noqa: F811
    events = json.loads(json.dumps(ice_maker(bundled).events))
    entered = {event["tree"] for event in events if event["event"] == "entered"}
    assert "restriction" not in entered
    part = replace(bundled, trees={name: tree for name, tree in bundled.trees.items() if name in entered})
    again = Walk.from_events(part, events)
    assert the_finding(again)["where"] == the_finding(ice_maker(bundled))["where"]
    assert the_finding(again)["nearest"][0]["causes"][0] == "drier-blocked"
