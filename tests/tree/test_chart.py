"""The chart of a tree: every step once, every way the tree can go on by, none that it can't."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tui.proof.forks import forks
from tui.tree.bundled import bundled_trees
from tui.tree.chart import THE_END, Chart, chart_of
from tui.tree.library import Library
from tui.tree.model import Ask, Decide, Do, FindingStep, Wait

FORKS = ("row", "line", "stop", "out", "outcome", "cut short")
SMALL = Path(__file__).resolve().parents[1] / "walk" / "library"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.read(bundled_trees())


@pytest.fixture(scope="module")
def small() -> Chart:
    found = Library.read(SMALL)
    return chart_of(found.trees["small"], found.trees)


def ways_from(chart: Chart, start: str) -> list[tuple[str, str, str]]:
    return [(way.kind, way.row, way.end) for way in chart.ways if way.start == start]


def test_rows_with_their_words(small: Chart) -> None:
    assert ways_from(small, "is-it-low") == [
        ("row", "low", "connect"),
        ("row", "on or high", "it-is-well"),
        ("unsettled", "unsettled", "cannot-say"),
    ]


def test_a_way_that_can_t_be_had(small: Chart) -> None:
    assert ways_from(small, "ask-nameplate-charge") == [
        ("next", "", "ask-fan"),
        ("couldn't", "couldn't", "no-plate"),
    ]


def test_rounds_go_back_to_their_repeat(small: Chart) -> None:
    inside = [place.name for place in small.places if place.inside == "add"]
    assert inside[0] == "add-some"
    assert inside[-1] == "what-now"
    assert ways_from(small, "add") == [
        ("stop", "when net is above nameplate-charge", "over-the-plate"),
        ("round", "each round", "add-some"),
        ("out", "rounds run out", "never-came-up"),
    ]
    assert ("row", "low", "add") in ways_from(small, "what-now")


def test_what_follows_a_finding(small: Chart) -> None:
    assert ways_from(small, "it-is-well") == [("offered", "", "tree small")]
    assert small.places[-1].name == "tree small"
    assert small.places[-1].says == "A small circuit"


def test_a_unit_tree_may_simply_end() -> None:
    text = "tree: u\ntitle: t\nedition: 1\nof: unit\nsteps:\n- ask: there\n"
    readings = "there:\n  ask: There?\n  answers: yes, no\n  of: unit\n"
    found = Library.from_texts({"u.yaml": text, "catalogue/readings.yaml": readings}, partial=True)
    chart = chart_of(found.trees["u"], found.trees)
    assert ways_from(chart, "ask-there") == [("next", "", THE_END)]
    assert chart.places[-1].form == "end"


def test_a_call_of_a_tree_that_is_not_at_hand_keeps_its_ways(library: Library) -> None:
    alone = chart_of(library.trees["charge-test"], {})
    assert alone.ways == chart_of(library.trees["charge-test"], library.trees).ways


def test_every_step_and_every_fork_of_every_bundled_tree_once(library: Library) -> None:
    for tree in library.trees.values():
        chart = chart_of(tree, library.trees)
        names = [place.name for place in chart.places if place.form not in ("tree", "end")]
        assert Counter(names) == Counter(list(tree.named)), tree.name
        known = {place.name for place in chart.places}
        assert all(way.start in known and way.end in known for way in chart.ways)
        drawn = Counter((way.start, way.row) for way in chart.ways if way.kind in FORKS)
        assert drawn == Counter((fork.step, fork.row) for fork in forks(tree)), tree.name
        assert expected_besides(tree.named.values()) <= Counter((way.start, way.kind) for way in chart.ways)


def expected_besides(steps: object) -> Counter[tuple[str, str]]:
    """Ways that are no forks, counted from the steps themselves."""
    found: Counter[tuple[str, str]] = Counter()
    for step in steps:  # type: ignore[attr-defined]
        found[step.name, "skip"] += step.only_when is not None
        found[step.name, "couldn't"] += isinstance(step, Ask | Do | Wait) and step.couldnt is not None
        found[step.name, "unsettled"] += isinstance(step, Decide) and step.unsettled is not None
        found[step.name, "offered"] += isinstance(step, FindingStep) and step.offer is not None
        found[step.name, "follows"] += isinstance(step, FindingStep) and step.go_on is not None
    return +found


