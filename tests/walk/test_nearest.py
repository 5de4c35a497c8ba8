"""What a close call could be on its other side: what the fewest further questions lead to comes first."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from shutil import copy, copytree
from typing import Any

from tests.proof.shifting import Shift, with_shift
from tests.walk.conftest import SEA
from tests.walk.test_rules import EXAMPLES, bundled  # noqa: F401
from tui.desk.saying import finding_lines
from tui.proof.reading import read_examples
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Driver, begin

HERE = Path(__file__).parent
CLOSE_BY = "11.5 psig"  # the limit is 11.9, the gauge good to 0.5
STANDS = "liquid-stands-before-any-gas"


def the_finding(walk: Walk) -> dict[str, Any]:
    return [event for event in walk.events if event["event"] == "finding"][-1]


def left_open(folder: Path) -> Walk:
    """To the finding of a tree of its own beside the small ones, with the close call left open."""
    copytree(HERE / "library", folder, dirs_exist_ok=True)
    copy(HERE / "near-by.yaml", folder)
    walk = Walk.start(Library.load(folder), "near-by", site=SEA)
    for answer in ("R-134a", {"fan": "running", "box-wanted": "35 °F"}, CLOSE_BY, "go-on"):
        walk.answer(answer)
    return walk


def test_the_nearest_comes_first_and_what_speaks_against_the_known_last(tmp_path: Path) -> None:
    """The door to look at; the door and the plate; that the fan stands was never near a limit."""
    (near,) = the_finding(left_open(tmp_path))["nearest"]
    assert near["what"] == ["evaporating-now"]
    assert near["causes"] == ["refrigeration-is-well", "drier-blocked", "short-of-charge", "evaporator-fan"]
    assert near["more"] == 0


def stopped(bundled: Library) -> Walk:  # noqa: F811
    """Liquid stands before the valve, but a head read wrong brings that near its limit; the plate is not to be read."""
    (found,) = [each for each in read_examples(bundled, [EXAMPLES / "charge-test-ends.yaml"]) if each.name == STANDS]
    answers = with_shift(Shift(found, "main", "head", 0, "130.7 psig", "126.7 psig"))
    walk = begin(bundled, answers, embed_texts=False)
    driver = Driver(walk, answers, lambda intent: intent(walk))
    while (prompt := walk.prompt) is not None:
        driver.step(prompt)
    return walk


def test_a_stop_names_what_stands_on_the_other_side(bundled: Library) -> None:  # noqa: F811
    walk = stopped(bundled)
    found = the_finding(walk)
    (near,) = found["nearest"]
    assert (found["cause"], found["could_be"]) == ("cannot-tell", [])
    assert {"drier-blocked", "valve-underfeeding"} <= set(near["causes"])
    said = " ".join(finding_lines(walk.findings[-1], bundled.catalogue.causes))
    assert "drier blocked" in said


def test_it_replays_where_only_the_trees_that_were_entered_are_there(bundled: Library) -> None:  # noqa: F811
    events = json.loads(json.dumps(stopped(bundled).events))
    entered = {event["tree"] for event in events if event["event"] == "entered"}
    assert len(entered) < len(bundled.trees)
    part = replace(bundled, trees={name: tree for name, tree in bundled.trees.items() if name in entered})
    again = Walk.from_events(part, events)
    assert [e["where"] for e in again.events if e["event"] == "finding"] == [the_finding(stopped(bundled))["where"]]
