"""Sends every row elsewhere in turn: a swap that no example notices is a row nobody holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from tui.proof.examples import Outcome, run_example
from tui.proof.forks import Fork, forks, retargeted
from tui.tree.check import holds
from tui.tree.check.names import every_step
from tui.tree.library import Library
from tui.tree.model import Back, FindingStep, Tree

REFUSED, NOTICED, UNNOTICED = "refused", "noticed", "unnoticed"


@dataclass(frozen=True, slots=True)
class Swap:
    """A fork sent to `instead`.

    came_to: ``noticed`` by an example that now ends otherwise; ``refused``: by no example, but by the proofs,
    so the destination is no legal one; else ``unnoticed``.
    """

    fork: Fork
    instead: str
    came_to: str


def swaps(
    library: Library, outcomes: Sequence[Outcome], of: Callable[[Tree], bool] = lambda tree: True
) -> Iterator[Swap]:
    """Every row sent to each place where the other rows of its step lead, in the trees that `of` picks.

    An example notices when its findings differ in circuit, cause, place or what it could be. Only those
    that take the row are walked again: for the others nothing has changed.
    """
    for tree in filter(of, library.trees.values()):
        for fork in forks(tree):
            takers = [outcome for outcome in outcomes if fork.way in outcome.ways]
            for instead in fork.others:
                changed = retargeted(tree, fork, instead)
                trees = {**library.trees, tree.name: changed}
                walkable = {**library.trees, tree.name: _with_a_way_for_doubt(changed)}
                if any(_ends_otherwise(replace(library, trees=walkable), taker) for taker in takers):
                    yield Swap(fork, instead, NOTICED)
                else:
                    yield Swap(fork, instead, UNNOTICED if holds(trees, library.catalogue) else REFUSED)


def _with_a_way_for_doubt(tree: Tree) -> Tree:
    """A tree that was not proven may come to a doubt it has no way for: it then ends at its first end, if any."""
    ends = (step.name for step in every_step(tree.steps) if isinstance(step, FindingStep | Back))
    end = next(ends, None)
    return replace(tree, unsettled=tree.unsettled or end)


def _ends_otherwise(library: Library, before: Outcome) -> bool:
    after = run_example(library, before.example)
    return (after.got, bool(after.refused)) != (before.got, bool(before.refused))
