"""A small library and walks over it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tui.tree.library import Library
from tui.walk import Walk

HERE = Path(__file__).parent
SEA = {"altitude": "0 ft", "today": "2026-11-25"}


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.load(HERE / "library")


@pytest.fixture
def start(library: Library) -> Callable[..., Walk]:
    def begin(tree: str = "small", **options: object) -> Walk:
        options.setdefault("site", SEA)
        return Walk.start(library, tree, **options)  # type: ignore[arg-type]

    return begin


@pytest.fixture
def low(start: Callable[..., Walk]) -> Walk:
    """R-134a, box wanted 35 °F (so 15 °F evaporating wanted), about to be asked for suction."""
    return low_of(start())


def low_of(walk: Walk) -> Walk:
    """A walk of the tree `small` at its first question, gone on to the suction."""
    for answer in ("R-134a", "yes", "14 oz"):
        walk.answer(answer)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    walk.acknowledge()
    return walk
