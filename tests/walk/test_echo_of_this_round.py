"""While one types, a reading is held against those of this round alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.tree.library import Library
from tui.walk import Walk

HERE = Path(__file__).parent
ROUNDS = """\
tree: rounds
title: Two rounds of two temperatures
edition: 1
of: circuit
steps:
- repeat: twice
  at most: 2 rounds
  each round:
  - ask: box-wanted, line
  - work out: over
    as: line - box-wanted
  - work out: half
    as: over / 2
  - judge: over-level
    compare: half
    on from: 1 dF
    on to: 2 dF
  when rounds run out: seen
- finding: seen
  cause: cannot-tell
  seen: <over-level>
  next: Nothing.
"""


@pytest.fixture
def walk(tmp_path: Path) -> Walk:
    """In the second round; in the first the line was 10 °F over the box."""
    (tmp_path / "rounds.yaml").write_text(ROUNDS, encoding="utf-8")
    library = Library.load(HERE / "library", tmp_path)
    walk = Walk.start(library, "rounds", site={"altitude": "0 ft"})
    walk.answer({"box-wanted": "30 °F", "line": "40 °F"})
    assert walk.prompt is not None
    assert [reading.id for reading in walk.prompt.readings] == ["box-wanted", "line"]
    return walk


def test_nothing_of_the_round_before_is_in_it(walk: Walk) -> None:
    assert walk.try_answer("50 °F", "line").beside == ()
    assert walk.try_answer("20 °F", "box-wanted").beside == ()


def test_what_was_typed_a_moment_ago_is(walk: Walk) -> None:
    walk.answer({"box-wanted": "47 °F"})
    assert walk.try_answer("50 °F", "line").beside == ("half 1.5 dF, wanted 1 dF to 2 dF",)
