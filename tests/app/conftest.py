"""Talks over the small library of the walk's tests."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.app.typist import begun
from tests.record.helpers import HandClock
from tui.app.talk import Talk
from tui.tree.library import Library

SMALL = Path(__file__).resolve().parents[1] / "walk" / "library"


@pytest.fixture(scope="session")
def small() -> Library:
    return Library.load(SMALL)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def talk_of(small: Library, clock: HandClock) -> Callable[..., Talk]:
    def made(tree: str = "small", path: Path | None = None, **start: object) -> Talk:
        return Talk(begun(small, tree, path=path, clock=clock, **start))

    return made


@pytest.fixture
def talk(talk_of: Callable[..., Talk]) -> Talk:
    """At the first question: the refrigerant."""
    return talk_of()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the small library, to be edited."""
    return Path(shutil.copytree(SMALL, tmp_path / "trees"))
