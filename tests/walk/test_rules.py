"""A visit is judged by the rules its opening names, and one of before by those of before."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.desk.visits import TO_THE_END, walked
from tests.record.test_replay import rewritten
from tui.proof.reading import read_examples
from tui.quantity import Refused
from tui.record import read
from tui.record.replay import replay
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Driver, begin

SITE = {"altitude": "300 ft", "today": "2026-11-25", "region": "US"}
EXAMPLES = Path(__file__).resolve().parents[2] / "trees" / "examples"


@pytest.fixture(scope="module")
def bundled() -> Library:
    return Library.read(bundled_trees())


def by_earlier_rules(library: Library, walk: Walk) -> Walk:
    """The same inputs, in a visit that was begun by a lowside which named no rules."""
    opened = {part: value for part, value in walk.events[0].items() if part != "rules"}
    again = Walk(library, opened, embed_texts=False)
    again.begin()
    for each in walk.inputs:
        again.again(each.event)
    return again


def example(library: Library, file: str, name: str) -> Walk:
    (found,) = [each for each in read_examples(library, [EXAMPLES / file]) if each.name == name]
    walk = begin(library, found.answers, embed_texts=False)
    driver = Driver(walk, found.answers, lambda intent: intent(walk))
    while (prompt := walk.prompt) is not None:
        driver.step(prompt)
    return walk


def findings(events: Iterable[Mapping[str, Any]]) -> list[tuple[str, list[str]]]:
    return [(event["where"], list(event["could_be"])) for event in events if event["event"] == "finding"]


def test_a_new_visit_names_its_rules(bundled: Library) -> None:
    assert Walk.start(bundled, "both-low", site=SITE).events[0]["rules"] == 2


def test_a_finding_leaves_out_what_the_circuit_cannot_have(bundled: Library) -> None:
    """A receiver and a valve: no cap tube can be blocked."""
    walk = example(bundled, "head-overcharge.yaml", "walk-in-receiver-overfilled-si")
    found = dict(findings(walk.events))
    assert found["standing-test/too-much-is-left"] == ["overcharge", "drier-blocked"]
    before = by_earlier_rules(bundled, walk)
    assert dict(findings(before.events))["standing-test/too-much-is-left"] == [
        "overcharge",
        "drier-blocked",
        "cap-tube-blocked",
    ]


def test_a_visit_of_before_replays_as_it_was_judged(bundled: Library) -> None:
    walk = by_earlier_rules(bundled, example(bundled, "head-overcharge.yaml", "walk-in-receiver-overfilled-si"))
    again = Walk.from_events(bundled, json.loads(json.dumps(walk.events)))
    assert findings(again.events) == findings(walk.events)
    assert [e.get("u") for e in again.events] == [e.get("u") for e in walk.events]


def test_two_clamps_are_not_wrong_by_the_same(bundled: Library) -> None:
    """Superheat by clamps: the error was nothing, now it is 0.87 of one clamp's."""
    walk = example(bundled, "head-overcharge.yaml", "walk-in-receiver-overfilled-si")
    (now, *_), (before, *_) = (
        [float(e["u"]) for e in each.events if e["event"] == "judged" and e["name"] == "air-drop"]
        for each in (walk, by_earlier_rules(bundled, walk))
    )
    assert before == pytest.approx(0, abs=1e-12)
    one = (5 / 9) / 3**0.5  # 1 dF as a rectangular half-width (JCGM 100, 4.3.7), in K
    assert now == pytest.approx(one * (2 * 3 / 8) ** 0.5)


def test_a_file_of_before_and_one_of_after(tmp_path: Path) -> None:
    path = tmp_path / "visit.jsonl"
    walked(path, *TO_THE_END)
    assert read(path).events[0]["rules"] == 2
    assert replay(path).same
    with pytest.raises(Refused) as refused:
        replay(rewritten(path, 0, rules=3))
    assert refused.value.code == "newer"
    assert "rules 3" in refused.value.message
