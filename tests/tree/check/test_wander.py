"""The proofs against random walks that know nothing of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.broken.broken import BASE, HERE
from tests.tree.check.wander import Common
from tests.tree.check.wandering import beginnings, wander
from tui.tree.library import Library

SEED = 20261125
WALKS = {"base": 600, "bundled": 100}  # from each tree; `python tests/fuzz/run.py wander` goes on for longer
AT_LEAST = {"base": 0.9, "bundled": 0.8}  # of all steps are seen; 0.834 of the bundled trees' 2,363 when it was set
FEW = 300
SEEN_FROM_BELOW = {
    "not-asked", "stale", "not-settled", "caution-missing", "work-missing", "need-missing", "only-if-missing",
    "wrong-compressor", "left-on",
}  # fmt: skip
TREES = Path(__file__).parents[3] / "trees"


@pytest.mark.parametrize(("name", "folder"), [("base", BASE), ("bundled", TREES)], ids=["base", "bundled"])
def test_no_walk_breaks_a_rule_that_was_proven(name: str, folder: Path) -> None:
    library = Library.load(folder)
    common = Common()
    for tree, trees in beginnings(library):
        walked = wander(trees, library.catalogue, WALKS[name], SEED, root=tree, common=common)
        assert walked.breaks == set()
    steps = {(tree.name, step) for tree in library.trees.values() for step in tree.named}
    assert len(common.seen) > AT_LEAST[name] * len(steps), sorted(steps - common.seen)


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
    assert code in {found[0] for found in wander(library.trees, library.catalogue, FEW, SEED).breaks}
