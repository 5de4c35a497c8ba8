"""Sends every row elsewhere in turn: a swap that no example notices is a row nobody holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tui.proof.examples import Outcome, run_example
from tui.proof.forks import Fork, forks, retargeted
from tui.tree.library import Library


@dataclass(frozen=True, slots=True)
class Swap:
    """A fork sent to `instead`; every example that takes it still ended the same."""

    fork: Fork
    instead: str


def unnoticed(library: Library, outcomes: Sequence[Outcome]) -> Iterator[Swap]:
    """The swaps that change no example's findings: circuit, cause, place and what it could be.

    A row is sent to each place that the other rows of its step lead to. Only the examples that take the
    row are walked again: for the others nothing has changed.
    """
    for tree in library.trees.values():
        for fork in forks(tree):
            takers = [outcome for outcome in outcomes if fork.way in outcome.ways]
            for instead in fork.others:
                changed = replace(
                    library, trees={**library.trees, tree.name: retargeted(tree, fork, instead)}
                )
                if not any(_ends_otherwise(changed, taker) for taker in takers):
                    yield Swap(fork, instead)


def _ends_otherwise(library: Library, before: Outcome) -> bool:
    after = run_example(library, before.example)
    return (after.got, bool(after.refused)) != (before.got, bool(before.refused))
