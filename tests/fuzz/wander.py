"""Random walks over the bundled trees, which break no rule that was proven: `count` walks, from each tree in turn.

Run alone: ``python tests/fuzz/run.py wander --count 30000 --seed 1``.
"""

from __future__ import annotations

from tests.tree.check.wander import Common
from tests.tree.check.wandering import beginnings, wander
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library


def run(count: int, seed: int) -> int:
    """Walk `count` times; the number walked. A broken rule comes out as an AssertionError."""
    library = Library.load(bundled_trees())
    begin = list(beginnings(library))
    each, more = divmod(count, len(begin))
    common = Common()
    for number, (tree, trees) in enumerate(begin):
        walked = wander(trees, library.catalogue, each + (number < more), seed, root=tree, common=common)
        assert not walked.breaks, f"from {tree}: {sorted(walked.breaks)}"
    return count
