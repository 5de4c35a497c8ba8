"""Rows sent elsewhere: the ones nobody holds are found, the ones an example holds are not reported."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.proof.conftest import WALK_LIBRARY
from tui.proof.cover import uncovered
from tui.proof.examples import run_example, run_examples
from tui.proof.forks import forks, retargeted
from tui.proof.reading import example_files, read_examples
from tui.proof.swap import NOTICED, REFUSED, UNNOTICED, swaps
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.tree.model import Decide


def test_every_way_of_a_tree_is_a_fork(library: Library) -> None:
    found = {(fork.step, fork.row): fork.to for fork in forks(library.trees["small"])}
    assert found["fan-first", "stopped"] == "fan-is-dead"
    assert found["what-now", "low"] == "go round"
    assert found["add", "when net is above nameplate-charge"] == "over-the-plate"
    assert found["add", "rounds run out"] == "never-came-up"
    assert found["go-readings", "taken"] == "carry on"


def test_a_wait_that_may_be_cut_short_is_a_fork(library: Library) -> None:
    cut = next(fork for fork in forks(library.trees["held"]))
    assert (cut.step, cut.row, cut.to, cut.others) == ("hold", "cut short", "not-held", ("it-held",))


def test_a_row_leads_to_where_its_siblings_lead(library: Library) -> None:
    others = {(fork.step, fork.row): fork.others for fork in forks(library.trees["small"])}
    assert others["is-it-low", "low"] == ("it-is-well",)
    assert others["add", "rounds run out"] == ("over-the-plate",)
    assert "cannot-say" in others["go-readings", "taken"], "an only child is sent further down the page"


def test_only_the_one_row_is_changed(library: Library) -> None:
    tree = library.trees["small"]
    for fork in forks(tree):
        changed = retargeted(tree, fork, fork.others[0])
        now = {other.way: other.to for other in forks(changed)}
        then = {other.way: other.to for other in forks(tree)}
        assert now == {**then, fork.way: fork.others[0]}


def test_a_row_that_no_example_holds_is_reported(library: Library, examples: Path) -> None:
    outcomes = run_examples(library, read_examples(library, [examples]))
    came_to = {(swap.fork.step, swap.fork.row, swap.instead): swap.came_to for swap in swaps(library, outcomes)}
    assert came_to["fan-first", "stopped", "carry on"] == NOTICED
    assert came_to["what-now", "on or high", "go round"] == NOTICED
    assert came_to["is-it-low", "on or high", "carry on"] == REFUSED, "nothing would lead to it-is-well any more"


def test_a_legal_swap_that_nobody_notices_is_unnoticed(examples: Path) -> None:
    """Suction that comes up high ends over the plate; no example holds it, and the proofs can't know better."""
    texts = {
        file.relative_to(WALK_LIBRARY).as_posix(): file.read_text("utf-8") for file in WALK_LIBRARY.rglob("*.yaml")
    }
    rows = "      on or high: came-up\n"
    assert rows in texts["small.yaml"]
    texts["small.yaml"] = texts["small.yaml"].replace(rows, "      on: came-up\n      high: over-the-plate\n")
    library = Library.from_texts(texts)
    outcomes = run_examples(library, read_examples(library, [examples]))
    came_to = {(swap.fork.row, swap.instead): swap.came_to for swap in swaps(library, outcomes)}
    assert came_to["high", "came-up"] == UNNOTICED
    assert came_to["on", "over-the-plate"] == NOTICED


def test_naming_the_next_step_is_no_swap(library: Library) -> None:
    """The step below go-readings is is-it-low: `carry on` and its name are the same way."""
    others = {(fork.step, fork.row): fork.others for fork in forks(library.trees["small"])}
    assert "is-it-low" not in others["go-readings", "taken"]
    assert "connect" in others["go-readings", "taken"]


def test_what_no_example_reaches_is_named_with_one_to_start_from(library: Library, examples: Path) -> None:
    outcomes = run_examples(library, read_examples(library, [examples]))
    missing = {(gap.step, gap.row): gap.example for gap in uncovered(library, outcomes)}
    assert missing["is-it-low", "on or high"] == "comes-up"
    assert missing["add", "rounds run out"] is None
    assert missing["over-the-plate", ""] is None
    assert ("fan-first", "stopped") not in missing
    assert ("came-up", "") not in missing


def test_the_bundled_examples_notice_a_row_changed_by_hand() -> None:
    """The same as `examples --swap` does, without its own code: one row, changed in the model."""
    library = Library.load(bundled_trees())
    examples = read_examples(library, example_files([bundled_trees()]))
    tree = library.trees["both-low"]
    decide = next(step for step in tree.steps if isinstance(step, Decide) and step.table)
    assert decide.table is not None
    first, second, *_ = decide.table.rows
    assert first.to != second.to
    turned = replace(decide, table=replace(decide.table, rows=(replace(first, to=second.to), *decide.table.rows[1:])))
    steps = tuple(turned if step is decide else step for step in tree.steps)
    changed = replace(library, trees={**library.trees, "both-low": replace(tree, steps=steps)})
    assert any(not run_example(changed, example).ok for example in examples)


def test_only_the_trees_that_are_picked_are_swapped(library: Library, examples: Path) -> None:
    outcomes = run_examples(library, read_examples(library, [examples]))
    assert list(swaps(library, outcomes, lambda tree: tree.name == "readings")) == []
