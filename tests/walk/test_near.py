"""A finding that stands on a close call says so itself: what was near its limit, and what else it could be."""

from __future__ import annotations

import json

from tests.walk.test_rules import bundled, by_earlier_rules, example  # noqa: F401
from tui.desk.saying import finding_lines
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.prompt import Finding, Near
from tui.walk.showing import finding_of

FILE = "call-valve-and-suction-line.yaml"
CLOSE_BY = "11.5 psig"  # the limit is 11.9, the gauge good to 0.5


def left_open(low: Walk) -> Walk:
    low.answer(CLOSE_BY)
    low.answer("go-on")
    return low


def test_it_names_the_other_cause_and_what_would_tell(low: Walk) -> None:
    (found,) = left_open(low).findings
    assert found.could_be == ("short-of-charge", "refrigeration-is-well")
    assert found.near == (Near("evaporating now", ("drier-blocked",)),)
    said = " ".join(" ".join(finding_lines(found, low.library.catalogue.causes)).split())
    assert "Near a limit: evaporating now. Other side: drier blocked." in said


def test_of_many_it_names_the_nearest_and_how_many_more() -> None:
    near = Near("box now", ("cause-0", "cause-1", "cause-2"), 3)
    said = " ".join(" ".join(finding_lines(Finding("main", "t/a", "short-of-charge", near=(near,)), {})).split())
    assert "Near a limit: box now. Other side: cause 0, cause 1, cause 2, 3 more." in said


def test_of_an_older_file_where_they_stand_in_no_order_many_are_not_named(low: Walk) -> None:
    event = left_open(low).events[-1]
    causes = [f"cause-{n}" for n in range(6)]
    older = {key: part for key, part in event.items() if key != "nearest"}
    older["near"] = [{"at": "small/low", "what": ["box-now"], "causes": causes}]
    assert finding_of(older).near == (Near("box now", (), 6),)
    older["near"][0]["causes"] = causes[:5]
    assert finding_of(older).near == (Near("box now", tuple(causes[:5])),)


def test_a_clear_reading_leaves_nothing_near(low: Walk) -> None:
    low.answer("15 psig")
    assert [found.near for found in low.findings] == [()]
    assert "near" not in low.events[-1]


def test_it_replays_and_a_visit_of_before_has_none(low: Walk) -> None:
    walk = left_open(low)
    again = Walk.from_events(walk.library, json.loads(json.dumps(walk.events)))
    assert again.events == walk.events
    before = by_earlier_rules(walk.library, walk)
    assert "near" not in before.events[-1]
    assert before.findings[-1].cause == walk.findings[-1].cause


def test_what_a_later_tree_has_found_does_not_hang_on_an_earlier_ones_limit(bundled: Library) -> None:  # noqa: F811
    """The box stood 1 dF from its limit; the suction line was found by its own readings."""
    walk = example(bundled, FILE, "walk-in-service-valve-not-open")
    found = next(event for event in walk.events if event["event"] == "finding" and event["cause"] != "cannot-tell")
    assert "near" not in found
    assert found["still_possible"]
