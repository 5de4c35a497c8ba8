"""Sends every row elsewhere in turn: a swap that no example notices is a row nobody holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tui.proof.examples import Outcome, run_example
from tui.proof.forks import Fork, forks, retargeted
from tui.tree.check import prove
from tui.tree.library import Library

REFUSED, NOTICED, UNNOTICED = "refused", "noticed", "unnoticed"


@dataclass(frozen=True, slots=True)
class Swap:
    """A fork sent to `instead`.

    came_to: ``refused`` by the proofs (no legal destination), ``noticed`` by an example that now ends
    otherwise, or ``unnoticed``.
    """

    fork: Fork
    instead: str
    came_to: str


def swaps(library: Library, outcomes: Sequence[Outcome]) -> Iterator[Swap]:
    """Every row sent to each place where the other rows of its step lead.

    An example notices when its findings differ in circuit, cause, place or what it could be. Only those
    that take the row are walked again: for the others nothing has changed.
    """
    for tree in library.trees.values():
        for fork in forks(tree):
            takers = [outcome for outcome in outcomes if fork.way in outcome.ways]
            for instead in fork.others:
                changed = replace(library, trees={**library.trees, tree.name: retargeted(tree, fork, instead)})
                yield Swap(fork, instead, _came_to(changed, takers))


def _came_to(library: Library, takers: Sequence[Outcome]) -> str:
    if any(problem.severity == "error" for problem in prove(library.trees, library.catalogue)):
        return REFUSED
    return NOTICED if any(_ends_otherwise(library, taker) for taker in takers) else UNNOTICED


def _ends_otherwise(library: Library, before: Outcome) -> bool:
    after = run_example(library, before.example)
    return (after.got, bool(after.refused)) != (before.got, bool(before.refused))
