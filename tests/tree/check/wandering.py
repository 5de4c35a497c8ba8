"""Where random walks begin: from every tree of a library, in a library of what that tree leads to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from random import Random

from tests.tree.check.wander import Common, Wanderer
from tui.tree.check import holds
from tui.tree.check.graph import Graph
from tui.tree.check.solve import starts
from tui.tree.library import Library
from tui.tree.model import Catalogue, Tree


def wander(
    trees: Mapping[str, Tree],
    catalogue: Catalogue,
    walks: int,
    seed: int,
    *,
    root: str = "",
    common: Common | None = None,
) -> Wanderer:
    """From `root` where a walk may begin with it, else from every tree that one may begin with.

    common: kept from walks over the same trees: together they see more.
    """
    one = Wanderer(Graph(trees), catalogue, Random(seed), common=common or Common())
    roots = [root] if root in starts(trees) else starts(trees)
    for number in range(walks):
        one.walk(roots[number % len(roots)])
    return one


def below(library: Library, tree: str) -> dict[str, Tree]:
    """A tree with all it leads to: a library of its own, in which it starts walks."""
    found, todo = {tree}, [tree]
    while todo:
        for step in library.trees[todo.pop()].named.values():
            led = {str(to) for key in ("tree", "go_on", "offer") if (to := getattr(step, key, None))}
            todo.extend(led - found)
            found |= led
    return {name: library.trees[name] for name in library.trees if name in found}


def beginnings(library: Library) -> Iterator[tuple[str, dict[str, Tree]]]:
    """Every tree that holds as a beginning, with all it leads to."""
    for tree in library.trees:
        trees = below(library, tree)
        if holds(trees, library.catalogue):
            yield tree, trees
