"""Slips that were mended: the sheet tells what counts now, and when it was found first."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

from tests.review.person import Person
from tests.review.test_bundled import HERE, library
from tests.review.visits import SMALL, Recorded, begun, charged, flat, section, to_the_gauges
from tui.desk.session import resume
from tui.record import read
from tui.review import sheet_of
from tui.review.brief import brief
from tui.tree.library import Library
from tui.walk.prompt import Given


def plate(visit: Recorded) -> Given:
    return next(each for each in visit.walk.given() if each.reading == "nameplate-charge")


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


def test_a_break_of_the_visit_is_told_once(tmp_path: Path) -> None:
    visit = begun(tmp_path / "a.jsonl", known={"circuits": {"left": {}, "right": {}}})
    visit.answer("left", "R-134a")
    visit.visit.leave()
    visit.clock.at += timedelta(minutes=5)
    resume(visit.path, Library.load(SMALL), visit.clock).visit.leave()
    sheet = sheet_of(read(visit.path))
    assert "Gone on with 09:37" in flat(section(sheet, "THE VISIT"))
    assert sheet.count("09:37") == 2, "and at the top, when it ended"


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


def test_a_finding_has_the_time_it_was_found_first(tmp_path: Path) -> None:
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    before = sheet_of(read(visit.path))
    visit.act(lambda walk: walk.accept(walk.correct(plate(visit), "15 oz")))
    assert section(visit.sheet(), "MAIN: WHY, 09:43") == section(before, "MAIN: WHY, 09:43")


def test_a_finding_that_says_something_else_since_a_correction_says_when(tmp_path: Path) -> None:
    """The scale stood at 97 oz and not at 98: 3 oz went in."""
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    scale = [each for each in visit.walk.given() if each.reading == "scale"][-1]
    visit.act(lambda walk: walk.accept(walk.correct(scale, "97 oz")), lambda walk: walk.note("again"))
    visit.act(lambda walk: walk.accept(walk.correct(plate(visit), "15 oz")))
    sheet = visit.sheet()
    assert "Seen 09:43, put right 09:44 After 3 oz" in flat(section(sheet, "RESULT"))
    assert "MAIN: WHY, 09:43, PUT RIGHT 09:44" in sheet


def test_a_finding_keeps_what_it_was_decided_by(tmp_path: Path) -> None:
    """High at first, low in the walk that followed; then a slip of the plate was put right."""
    visit = to_the_gauges(begun(tmp_path / "a.jsonl"))
    visit.answer("30 psig")
    visit.act(lambda walk: walk.accept_offer(True), lambda walk: walk.tell("suction", "4 psig"))
    visit.act(lambda walk: walk.accept(walk.correct(plate(visit), "15 oz")))
    why = flat(section(visit.sheet(), "MAIN: WHY, 09:36"))
    assert "Decided by suction level: high (34.6 °F)" in why


def test_a_late_slip_of_no_weight_changes_no_figure_of_the_work(tmp_path: Path) -> None:
    """The plate is put right at the very end: all that was told on the way is worked out anew."""

    def slips(person: Person) -> None:
        first = next(each for each in person.walk.given() if each.reading == "plate-amps")
        person.does(lambda walk: walk.accept(walk.correct(first, "6.6 A")))

    sheets = [
        Person(library(), HERE / "call-leak.yaml", tmp_path / f"{n}.jsonl", deeds).go().sheet()
        for n, deeds in enumerate(({}, {"last-sniff": slips}))
    ]
    without, with_slip = (re.sub(r"\d\d:\d\d", "", section(sheet, "MAIN: WORK AND WAITS")) for sheet in sheets)
    assert with_slip == without
    assert section(sheets[0], "MAIN: JUDGED") == section(sheets[1], "MAIN: JUDGED").replace("6.6 A", "6.5 A")
    assert flat(sheets[0]).count("Decided by") == flat(sheets[1]).count("Decided by")
