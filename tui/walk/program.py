"""Moving down the page: what comes after a step, and where a destination is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tui.quantity import Refused
from tui.tree.model import Ask, Repeat, Step, Tree

if TYPE_CHECKING:
    from tui.tree.library import Library


class TreeMissing(Refused):
    """The walk leads into a tree that the library does not hold; only one that is a part can lack it."""

    def __init__(self, tree: str) -> None:
        super().__init__("no-such-tree", f"The tree {tree} is not there.", "Walk it with all trees.")
        self.tree = tree


def tree_of(library: Library, name: str) -> Tree:
    """Raises TreeMissing."""
    found = library.trees.get(name)
    if found is None:
        raise TreeMissing(name)
    return found


@dataclass(slots=True)
class Program:
    """One tree as places: `below` the next step of the same list, `inside` the enclosing repeat."""

    tree: Tree
    steps: dict[str, Step] = field(default_factory=dict)
    below: dict[str, Step | None] = field(default_factory=dict)
    inside: dict[str, Repeat | None] = field(default_factory=dict)
    asked_in: dict[str, frozenset[str]] = field(default_factory=dict)

    def around(self, step: Step) -> Iterator[Repeat]:
        """The repeats a step stands in, innermost first."""
        repeat = self.inside[step.name]
        while repeat is not None:
            yield repeat
            repeat = self.inside[repeat.name]


def program(tree: Tree) -> Program:
    """The tree, ready to be walked."""
    made = Program(tree)
    _list(made, tree.steps, None)
    return made


def _list(made: Program, steps: tuple[Step, ...], inside: Repeat | None) -> None:
    for step, below in zip(steps, [*steps[1:], None], strict=True):
        made.steps[step.name] = step
        made.below[step.name] = below
        made.inside[step.name] = inside
        if isinstance(step, Repeat):
            made.asked_in[step.name] = frozenset(_asked(step.steps))
            _list(made, step.steps, step)


def _asked(steps: tuple[Step, ...]) -> Iterator[str]:
    for step in steps:
        if isinstance(step, Ask):
            yield from step.readings
        elif isinstance(step, Repeat):
            yield from _asked(step.steps)
