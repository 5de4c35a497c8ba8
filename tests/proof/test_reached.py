"""What examples reach from the call may only grow: every cause on every class where it can happen, in the end."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof import reached
from tui.proof.table import Cell, Count, Table


def test_what_was_reached_from_the_call_is_reached_still() -> None:
    """More is reached now: python tests/proof/reached.py --raise. Less: an example has gone, or ends otherwise."""
    made = reached.bundled()
    held = reached.floor()
    assert held, "else nothing is held"
    assert [place for place in held if place not in reached.reached(made)] == []


def test_a_class_that_is_excluded_is_not_wanted() -> None:
    alone = Cell(alone=Count(1, 1))
    cells = {("a", "x"): alone, ("a", "y"): Cell(alone=Count(3, 0)), ("b", "x"): Cell(several=Count(1, 1))}
    made = Table(("a", "b", "cannot-tell"), ("x", "y", "other"), cells, {("b", "y"): "There is none."})
    assert reached.wanted(made) == [("a", "x"), ("a", "y"), ("b", "x")]
    assert reached.reached(made) == [("a", "x")]


def test_the_floor_is_read_as_it_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    places = [("b", "x"), ("a", "x of y"), ("a", "z")]
    text = "\n".join(reached.lines(set(places), places)) + "\n"
    assert text == "b: x\na: x of y, z\n"
    monkeypatch.setattr(reached, "FLOOR", tmp_path / "reached.txt")
    reached.FLOOR.write_text(text, encoding="utf-8")
    assert reached.floor() == places
