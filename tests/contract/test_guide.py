"""Whoever follows the trainer's guide sees what it shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.contract.guide import FENCE, GUIDE, followed
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library

NARROW = 80


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path / "home"))
    (tmp_path / "documents").mkdir()
    monkeypatch.chdir(tmp_path / "documents")


@pytest.mark.slow
def test_followed_to_the_letter_it_comes_to_what_it_shows() -> None:
    """If a command rightly prints something else now: python tests/contract/guide.py"""
    guide = GUIDE.read_text(encoding="utf-8")
    assert _steady(followed(guide)) == _steady(guide)


def _steady(text: str) -> str:
    """However many examples come with lowside."""
    return re.sub(r"\b[0-9]{3,}(?= of | examples)", "N", text)


def test_a_box_that_cant_be_followed_is_noticed() -> None:
    with pytest.raises(AssertionError, match="has this 0 times"):
        followed("```yaml my-trees/a.yaml take out\nnot there\n```\n")
    assert followed("```console\n$ lowside why gap\nsomething else\n```\n").count("something else") == 0


def test_it_can_be_printed() -> None:
    text = FENCE.sub("", GUIDE.read_text(encoding="utf-8"))
    assert [line for line in text.splitlines() if len(line) > NARROW] == []


def test_a_guide_among_the_trees_is_no_tree() -> None:
    assert GUIDE.parent == bundled_trees()
    assert Library.read(bundled_trees()).problems == ()
