"""The way in words: what was given at each decision, not all that its row takes."""

from __future__ import annotations

from collections.abc import Callable

from tests.bundled import library
from tui.quantity import Kind, Quantity
from tui.tree.model import Decide, Expression, Name
from tui.walk import Walk
from tui.walk.rows import seen, taken

Start = Callable[..., Walk]


def way(walk: Walk) -> dict[str, str]:
    return {entry.at.split("/")[-1]: entry.words for entry in walk.trail()}


def triaged(start: Start, compressor: str, frost: str) -> Walk:
    walk = start("triage")
    walk.answer({"compressor-runs": compressor})
    walk.answer({"frost": frost})
    return walk


def test_a_row_of_a_triage_says_the_answer_that_was_given(start: Start) -> None:
    said = way(triaged(start, "stops and starts", "even"))
    assert said["runs-and-frost"] == "compressor runs: stops and starts; frost: even"
    assert said["by-table"] == "compressor runs: stops and starts"
    assert said["either"] == "frost: even; compressor runs: stops and starts"


def test_of_tests_joined_by_or_those_that_held(start: Start) -> None:
    assert way(triaged(start, "stands still", "even"))["either"] == "compressor runs: stands still"
    assert way(triaged(start, "runs steadily", "a block"))["either"] == "frost: a block"
    both = way(triaged(start, "stands still", "a block"))["either"]
    assert both == "frost: a block or compressor runs: stands still"


def test_what_could_not_be_had_is_said_so(start: Start) -> None:
    walk = start("triage")
    walk.couldnt("too dark")
    assert way(walk)["either"] == "not known: frost, compressor runs; that leaves it open"


def test_it_is_what_was_given_then_and_not_later(start: Start) -> None:
    walk = triaged(start, "runs steadily", "even")
    assert way(Walk.from_events(walk.library, walk.events)) == way(walk)
    given = next(each for each in walk.given() if each.reading == "compressor-runs")
    walk.accept(walk.correct(given, "stops and starts"))
    assert way(walk)["by-table"] == "compressor runs: stops and starts"


def test_where_nothing_is_known_of_it_all_that_the_row_takes_is_said(start: Start) -> None:
    step = start("triage").library.trees["triage"].named["by-table"]
    assert taken(step, ["runs steadily or stops and starts"]) == "compressor runs: runs steadily or stops and starts"


def clamped(row: int, **figures: float) -> str:
    """What is told where the clamps' head is held against the plate; without a figure it is not known."""
    step = library().trees["clamp-on"].named["over-the-plate"]
    assert isinstance(step, Decide)
    known = {name.replace("_", "-"): Quantity(Kind.GAUGE_PRESSURE, value) for name, value in figures.items()}
    source = step.lines[row].source

    def value(subject: Expression) -> Quantity | None:
        assert isinstance(subject, Name)
        return known.get(subject.name)

    return taken(step, [source], seen(step, [source], lambda _: None, value))


def test_a_figure_that_is_known_is_not_said_to_be_missing() -> None:
    assert clamped(0, high_side_rating=2.8e6) == "not known: head now"


def test_what_did_not_hold_is_said_where_it_was_all_that_was_asked() -> None:
    assert clamped(2, high_side_rating=2.8e6, head_now=1e6) == "not so: head now is above high side rating"
