"""The proofs against random walks that know nothing of them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from random import Random

import pytest

from tests.broken.broken import BASE, HERE
from tests.tree.check.wander import Wanderer
from tui.tree.check import prove
from tui.tree.check.graph import Graph
from tui.tree.check.solve import starts
from tui.tree.library import Library
from tui.tree.model import Catalogue, Tree

SEED = 20261125
WALKS = 900
FEW = 300
SEEN_FROM_BELOW = {
    "not-asked", "stale", "not-settled", "caution-missing", "work-missing", "need-missing", "only-if-missing",
    "wrong-compressor", "left-on",
}  # fmt: skip
TREES = Path(__file__).parents[3] / "trees"


def wander(trees: Mapping[str, Tree], catalogue: Catalogue, walks: int, root: str = "") -> Wanderer:
    """From `root` where a walk may begin with it, else from every tree that one may begin with."""
    one = Wanderer(Graph(trees), catalogue, Random(SEED))
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


@pytest.mark.parametrize("folder", [BASE, TREES], ids=["base", "bundled"])
def test_no_walk_breaks_a_rule_that_was_proven(folder: Path) -> None:
    library = Library.load(folder)
    seen: set[tuple[str, str]] = set()
    for tree in library.trees:
        trees = below(library, tree)
        if not any(problem.severity == "error" for problem in prove(trees, library.catalogue)):
            walked = wander(trees, library.catalogue, WALKS, tree)
            assert walked.breaks == set()
            seen |= walked.seen
    steps = {(name, step) for name, tree in library.trees.items() for step in tree.named}
    assert len(seen) > 0.9 * len(steps), sorted(steps - seen)


def broken_by_proof() -> list[tuple[Path, str]]:
    """Broken trees whose one mistake a walk can see."""
    found = []
    for file in sorted(HERE.glob("*.yaml")):
        codes = {word.rpartition(":")[2] for word in file.read_text("utf-8").split("\n", 1)[0].split()[1:]}
        other = file.stem.startswith("catalogue-") or file.stem == "leaves-what-is-not-there"
        if len(codes) == 1 and codes <= SEEN_FROM_BELOW and not other:
            found.append((file, codes.pop()))
    return found


@pytest.mark.parametrize(("file", "code"), broken_by_proof(), ids=lambda one: getattr(one, "stem", one))
def test_walks_see_what_the_proofs_tell(file: Path, code: str, tmp_path: Path) -> None:
    (tmp_path / file.name).write_bytes(file.read_bytes())
    library = Library.read(BASE, tmp_path)
    assert code in {found[0] for found in wander(library.trees, library.catalogue, FEW).breaks}
