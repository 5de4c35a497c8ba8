"""Examples that the program makes: for a row that nobody holds, from nothing, and out of a recorded visit."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bundled import TREES, library
from tests.bundled import outcomes as all_outcomes
from tests.proof.conftest import WALK_LIBRARY
from tui.cli.made import from_session
from tui.proof.cover import uncovered
from tui.proof.examples import Outcome, run_examples
from tui.proof.made import Maker
from tui.tree.library import Library
from tui.walk import Walk

FEW_TRIES = 150  # what can't be made is given up after so many walks instead of ten times as many
@pytest.fixture(scope="module")
def bundled() -> Library:
    return library()


@pytest.fixture(scope="module")
def outcomes() -> list[Outcome]:
    return all_outcomes()


@pytest.mark.parametrize(
    "way",
    [
        ("general-checks", "coil-dirt", "dirty"),
        ("leak-search", "detector-or-soap", "no, any"),
        ("unknown-gas", "room", "otherwise"),
        ("leak-search", "under-nitrogen", "US"),
    ],
    ids=lambda way: "/".join(way[:2]),
)
def test_a_row_without_its_examples_gets_one_again(
    bundled: Library, outcomes: list[Outcome], way: tuple[str, str, str]
) -> None:
    rest = [outcome for outcome in outcomes if way not in outcome.ways]
    gap = next(g for g in uncovered(bundled, rest) if (g.tree, g.step, g.row) == way)
    maker = Maker(bundled, rest)
    made = maker.make(gap)
    assert made is not None
    assert made.unreviewed
    kept = maker.keep(made)
    assert kept.ok
    assert way in kept.ways
    assert made.name not in {outcome.example.name for outcome in outcomes}


def test_a_tree_without_any_example_gets_its_first_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.proof.made.TRIES", FEW_TRIES)
    library = Library.load(WALK_LIBRARY)
    maker = Maker(library, [])
    made = [maker.make(gap) for gap in uncovered(library, [])]
    ways = {way for each in made if each is not None for way in maker.keep(each).ways}
    assert {("small", "fan-first", "running"), ("small", "fan-first", "stopped")} <= ways
    assert all(each.expected for each in made if each is not None)


def test_what_nobody_can_reach_gets_none(bundled: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.proof.made.TRIES", FEW_TRIES)
    gap = next(iter(uncovered(bundled, [])))
    assert Maker(bundled, []).make(gap.__class__(gap.tree, gap.step, "no such row", gap.spot, None)) is None


@pytest.mark.parametrize("name", ["ice", "leak", "call-two-circuits", "call-drier"])
def test_a_recorded_visit_becomes_an_example(bundled: Library, tmp_path: Path, name: str) -> None:
    from tui.cli.main import main

    log = tmp_path / "visit.jsonl"
    answers = TREES.parent / "tests" / "answers" / f"{name}.yaml"
    assert main(["walk", "--answers", str(answers), "--log", str(log)]) == 0
    example, notice = from_session(bundled, log, ())
    assert notice == ""
    assert example.unreviewed
    assert run_examples(bundled, [example])[0].ok


def test_what_was_corrected_counts_and_what_a_person_wrote_stays(small_session: Path) -> None:
    example, _ = from_session(Library.load(WALK_LIBRARY), small_session, ())
    given = example.answers.circuits["main"]
    assert given["nameplate-charge"].texts == ("12 oz",)
    said = repr(example)
    assert "K-12" not in said
    assert "p-1f0c22ab" not in said
    assert "hidden words" not in said


@pytest.fixture
def small_session(tmp_path: Path) -> Path:
    """A visit with a unit's tag, a technician's id, a slip mended, and a reason in somebody's words."""
    from tests.record.helpers import HandClock
    from tui.desk.session import Visit

    library = Library.load(WALK_LIBRARY)
    site = {"altitude": "0 ft", "today": "2026-11-25"}
    walk = Walk.start(library, "small", site=site, unit="K-12", technician="p-1f0c22ab")
    path = tmp_path / "visit.jsonl"
    visit = Visit.begin(walk, HandClock(), path)
    visit.act(lambda walk: walk.answer("R-134a"))
    visit.act(lambda walk: walk.answer("yes"))
    visit.act(lambda walk: walk.answer("14 oz"))
    visit.act(lambda walk: walk.note("hidden words"))
    charge = next(given for given in walk.given() if given.reading == "nameplate-charge")
    visit.act(lambda walk: walk.accept(walk.correct(charge, "12 oz")))
    visit.act(lambda walk: walk.answer({"fan": "stopped", "box-wanted": "35 °F"}))
    visit.act(lambda walk: walk.close())
    visit.leave()
    return path
