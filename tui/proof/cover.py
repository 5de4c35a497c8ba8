"""What no example reaches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tui.proof.examples import Outcome
from tui.proof.forks import forks
from tui.tree.check.names import every_step
from tui.tree.library import Library
from tui.tree.spot import Spot


@dataclass(frozen=True, slots=True)
class Uncovered:
    """A row (or, with no row, a step) that no example reaches.

    example: one that comes by this step another way, to start from; None if none does.
    """

    tree: str
    step: str
    row: str
    spot: Spot
    example: str | None


def uncovered(library: Library, outcomes: Sequence[Outcome]) -> list[Uncovered]:
    """Every row, line, end of rounds and outcome of a called tree that was not taken, every step not come by."""
    taken = {way for outcome in outcomes for way in outcome.ways}
    reached = {place for outcome in outcomes for place in outcome.reached}
    near = {way[:2]: outcome.example.name for outcome in reversed(outcomes) for way in outcome.ways}
    missing = []
    for tree in library.trees.values():
        for fork in forks(tree):
            if fork.way not in taken:
                beside = near.get((fork.tree, fork.step))
                missing.append(Uncovered(fork.tree, fork.step, fork.row, fork.spot, beside))
        for step in every_step(tree.steps):
            if (tree.name, step.name) not in reached:
                missing.append(Uncovered(tree.name, step.name, "", step.spot, None))
    return missing
