"""Slips that were mended: the sheet tells what counts now, and when it was found first."""

from __future__ import annotations

from pathlib import Path

from tests.review.visits import begun, flat, section
from tui.review.brief import brief


def test_names_of_circuits_that_were_mended_are_no_circuits(tmp_path: Path) -> None:
    visit = begun(tmp_path / "a.jsonl", "named-unit")
    visit.answer("lefft, rihgt")
    visit.act(lambda walk: walk.accept(walk.correct(walk.given()[0], "left, right")))
    visit.act(lambda walk: walk.switch("left"))
    visit.answer("R-134a")
    sheet = visit.sheet()
    front, _, details = sheet.partition("DETAILS")
    assert "Circuits left, right" in flat(front)
    assert "fft" not in front.lower()
    assert "rihgt" not in front.lower()
    assert flat(details).lower().count("lefft") == 1, "where it was corrected"
    assert "fft" not in brief(visit.path).said


def test_one_named_no_more_is_told_where_work_was_done_on_it(tmp_path: Path) -> None:
    """The cylinder stood open on it: that must not vanish with its name."""
    visit = begun(tmp_path / "a.jsonl", "named-unit")
    visit.answer("lefft")
    visit.answer("R-134a", "yes", "14 oz", {"fan": "running", "box-wanted": "35 °F"})
    visit.act(lambda walk: walk.acknowledge())
    visit.answer("4 psig")
    visit.act(lambda walk: walk.done())
    named = next(each for each in visit.walk.given() if each.reading == "circuits")
    visit.act(lambda walk: walk.accept(walk.correct(named, "left, right")))
    sheet = visit.sheet()
    assert "cylinder on" in flat(section(sheet, "LEFT TO DO"))
    assert "Cylinder on the scale." in flat(section(sheet, "LEFFT: WORK AND WAITS"))
