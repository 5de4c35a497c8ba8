"""What stands on a sheet, and what no longer does."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.review.visits import DIGEST, EDGE, begun, charged, flat, section, to_the_gauges
from tui.record import read
from tui.review import sheet_of
from tui.review.job import accuracy
from tui.tree.library import Library


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


def test_a_whole_visit(log: Path) -> None:
    visit = charged(to_the_gauges(begun(log, technician="p-1f0c22ab", calibrated={"low-gauge": "2026-03-01"})))
    visit.act(lambda walk: walk.close())
    sheet = visit.sheet()
    head = flat(sheet.partition("\n\n")[0])
    for text in (
        "Unit K-12",
        "Date 25 November 2026, 09:30 to 09:44 (UTC-05:00)",
        "Technician p-1f0c22ab",
        "Record whole:",
    ):
        assert text in head, head
    result = flat(section(sheet, "RESULT"))
    assert result.startswith("For the customer It has lost refrigerant. Found Short of charge Seen 09:43 After 2 oz ")
    done = flat(section(sheet, "WHAT WAS DONE"))
    assert done == "Work Refrigerant added To be looked at 1 of 1 wait cut short"
    assert "Main R-134a, 14 oz on the plate; in: not weighed" in flat(section(sheet, "REFRIGERANT"))
    assert "Next Find the leak." in flat(section(sheet, "LEFT TO DO"))
    visited = flat(section(sheet, "THE VISIT"))
    assert "air 14.70 psia (altitude 0 ft)" in visited
    assert "no country's rules were used" in visited
    assert "Door yes" in visited
    found = flat(section(sheet, "MAIN: WHY, 09:43"))
    assert "Cause short of charge" in found
    assert "wanted 10 °F to 20 °F: low; at the end" in found
    assert flat(section(sheet, "MAIN: PLATE AND BUILD")) == "Refrigerant R-134a Nameplate charge 14 oz"
    assert "Suction 4.0 psig (09:36), then 15.0 psig (09:42)" in flat(section(sheet, "MAIN: READINGS TAKEN"))
    assert flat(section(sheet, "MAIN: REFRIGERANT IN AND OUT")) == (
        "- A small circuit: Scale 100 oz (09:38), then 98 oz (09:40) Worked out net 2 oz"
    )
    work = flat(section(sheet, "MAIN: WORK AND WAITS"))
    assert "09:37 Cylinder on the scale." in work
    assert "Waited 30 s of 4 min. CUT SHORT: it is steady already" in work
    assert "09:43 Cylinder closed and off." in work
    assert "STILL ON" not in work
    instruments = flat(section(sheet, "INSTRUMENTS"))
    assert "Low gauge good to 0.5 psi; calibrated 1 March 2026" in instruments
    assert "Scale good to 2 g" in instruments
    assert instruments.endswith("Day of calibration of the others not given")
    assert "Gloves on." in section(sheet, "CAUTIONS READ BEFORE THE WORK")


def test_no_id_of_the_catalogue_stands_for_a_word(log: Path) -> None:
    sheet = charged(to_the_gauges(begun(log))).sheet()
    for name in ("short-of-charge", "low-gauge", "nameplate-charge", "suction-level", "box-wanted", "what-now"):
        assert name not in sheet


def test_what_was_remarked(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.act(
        lambda walk: walk.note("door seal torn\x1b[31m at the hinge"),
        lambda walk: walk.photo("plate.jpg", DIGEST),
        lambda walk: walk.own_finding("drier-blocked", "cold by hand"),
    )
    sheet = visit.sheet()
    assert "door seal torn [31m at the hinge" in section(sheet, "NOTES")
    assert "plate.jpg" in section(sheet, "PHOTOS")
    assert DIGEST in section(sheet, "PHOTOS").replace("\n", "").replace(" ", "")
    assert "cold by hand" in section(sheet, "MAIN: THE TECHNICIAN'S OWN FINDING")
    result = flat(section(sheet, "RESULT"))
    assert "By the technician's own finding: A filter is blocked." in result
    assert "Found Nothing found yet; the technician's own finding: drier blocked" in result
    assert "not yet: the visit is still open" in flat(sheet)


def test_what_could_not_be_had_says_why(log: Path) -> None:
    visit = begun(log)
    visit.answer("R-134a", "yes")
    visit.act(lambda walk: walk.couldnt("plate painted over"))
    sheet = visit.sheet()
    assert "not had: plate painted over" in flat(sheet)
    assert "Cause Cannot be told from here" in flat(sheet)


def test_an_early_end_says_by_whom_and_why(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.act(lambda walk: walk.close("called away"))
    assert "Ended by the technician: called away" in flat(visit.sheet())


def test_a_cylinder_left_on_is_told(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer("4 psig")
    visit.act(lambda walk: walk.done())
    assert "STILL ON cylinder on" in flat(section(visit.sheet(), "MAIN: WORK AND WAITS"))


def test_a_reading_typed_by_its_name_stands_with_the_others(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.act(lambda walk: walk.tell("line", "40 °F"))
    visit.answer("4 psig")
    assert flat(section(visit.sheet(), "MAIN: READINGS TAKEN")).endswith("Line 40 °F Suction 4.0 psig")


def test_a_reading_taken_back_is_no_reading_any_more(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer("30 psig")  # well, and the walk ends in an offer
    visit.act(lambda walk: walk.undo())
    visit.answer("4 psig")
    sheet = visit.sheet()
    assert "30.0 psig" not in section(sheet, "MAIN: READINGS TAKEN")
    assert "WHY, " not in sheet
    back = flat(section(sheet, "CORRECTED, TAKEN BACK, OVERRULED"))
    assert "Went back one answer: suction 30.0 psig" in back
    assert "4.0 psig" in section(sheet, "MAIN: READINGS TAKEN")


def test_a_reading_that_work_made_history_stays_when_the_place_goes_back(log: Path) -> None:
    visit = charged(to_the_gauges(begun(log)))
    visit.act(lambda walk: walk.undo(2))
    readings = flat(section(visit.sheet(), "MAIN: READINGS TAKEN"))
    assert "Suction 4.0 psig" in readings
    assert "15.0 psig" not in readings


def test_a_correction_shows_both_and_counts_the_new_one(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer("30 psig")
    number = visit.walk.given()[-1].event_no
    change = visit.walk.correct(number, "4 psig")
    visit.act(lambda walk: walk.accept(change))
    sheet = visit.sheet()
    assert "Suction was 30.0 psig, corrected to 4.0 psig" in flat(section(sheet, "CORRECTED, TAKEN BACK, OVERRULED"))
    assert flat(section(sheet, "MAIN: READINGS TAKEN")).endswith("Suction 4.0 psig")
    assert "WHY, " not in sheet  # what followed from 30 psig no longer holds
    assert "LOW" in section(sheet, "MAIN: JUDGED")


def test_an_overruled_verdict_says_so(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer(EDGE)
    visit.act(lambda walk: walk.overrule("low", "compared with a second gauge"))
    sheet = visit.sheet()
    assert "LOW (so held by the technician)" in flat(section(sheet, "MAIN: JUDGED"))
    remarks = flat(section(sheet, "CORRECTED, TAKEN BACK, OVERRULED"))
    assert "Suction level, too close to tell: the technician holds it is low: compared with a second gauge" in remarks


def test_a_close_call_left_open_stays_close(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer(EDGE, "go-on")
    sheet = flat(visit.sheet())
    assert "could be low" in sheet or "could be on" in sheet
    assert "It could be short of charge; the circuit is well" in sheet
    assert "To tell them apart a better gauge" in sheet
    assert "Stayed close evaporating now" in sheet


def test_a_checked_instrument_shows_both_accuracies(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer(EDGE, "zero")
    visit.act(lambda walk: walk.done())
    sheet = flat(visit.sheet())
    assert "Checked low gauge, now good to 0.1 psi" in sheet
    assert "Low gauge good to 0.5 psi, then 0.1 psi (checked 09:38)" in sheet


def test_an_offer_not_taken(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    visit.answer("16 psig")
    visit.act(lambda walk: walk.accept_offer(False))
    assert "Offered to go on A small circuit: not now" in flat(visit.sheet())


def test_each_circuit_has_its_part(log: Path) -> None:
    visit = begun(log, known={"circuits": {"table": {}, "freezer": {"nameplate-charge": "3 oz"}}})
    visit.answer("freezer", "R-290", "yes")
    sheet = visit.sheet()
    assert "Circuits freezer, table" in flat(sheet)
    assert "Found Nothing found" in flat(section(sheet, "RESULT, TABLE"))
    assert "Nameplate charge 3 oz (known beforehand)" in flat(section(sheet, "FREEZER: PLATE AND BUILD"))
    assert "R-290" not in sheet.partition("TABLE: ")[2]


def test_an_earlier_visit_is_told_as_such(log: Path) -> None:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz"}]
    sheet = begun(log, known={"circuits": ["main"]}, history=history).sheet()
    assert "Nameplate charge 14 oz (from an earlier visit)" in flat(sheet)


def test_what_is_known_of_the_unit_is_told(log: Path) -> None:
    assert "Door yes" in flat(section(begun(log, known={"door": "yes"}).sheet(), "THE VISIT"))


def test_metric_visits_are_told_in_metric(log: Path) -> None:
    sheet = charged(to_the_gauges(begun(log, units="SI"))).sheet()
    judged = section(sheet, "MAIN: JUDGED")
    assert "°C" in judged
    assert "°F" not in judged
    assert "4.0 psig" in sheet  # what was typed stays as it was typed


@pytest.mark.parametrize(
    ("text", "units", "said"),
    [
        ("1 dF", "SI", "0.6 dC (1 dF)"),  # 5/9 K, NIST SP 811 B.8
        ("0.5 psi", "SI", "0.03 bar (0.5 psi)"),  # 1 psi = 6894.757 Pa, NIST SP 811 B.8
        ("0.1 psi (checked 09:38)", "SI", "0.01 bar (0.1 psi, checked 09:38)"),
        ("2 g", "SI", "2 g"),
        ("2 % of reading", "SI", "2 % of reading"),
        ("1 dF", "US", "1 dF"),
        ("good enough", "SI", "good enough"),  # what no program of ours wrote is not refused
    ],
)
def test_accuracies_in_the_units_of_the_visit(text: str, units: str, said: str) -> None:
    assert accuracy(text, units) == said


def test_instruments_of_a_metric_visit(log: Path) -> None:
    visit = to_the_gauges(begun(log, units="SI"))
    visit.answer(EDGE, "zero")
    visit.act(lambda walk: walk.done())
    sheet = flat(visit.sheet())
    assert "Low gauge good to 0.03 bar (0.5 psi), then 0.01 bar (0.1 psi, checked 09:38)" in sheet
    assert "Checked low gauge, now good to 0.01 bar (0.1 psi)" in sheet


def test_it_needs_no_trees_but_its_own(log: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    visit = charged(to_the_gauges(begun(log)))
    with_trees = visit.sheet()
    monkeypatch.setattr(Library, "load", lambda *folders: pytest.fail("the trees of today were read"))
    assert sheet_of(read(log)) == with_trees


def test_what_the_customer_said_parts_and_follow_up_stand_by_themselves(log: Path) -> None:
    visit = charged(to_the_gauges(begun(log)))
    visit.act(lambda walk: walk.note("repair, not replace", about="customer"))
    visit.act(lambda walk: walk.note("2 December: look again", about="follow-up"))
    visit.act(lambda walk: walk.note("one drier", about="parts"))
    visit.act(lambda walk: walk.note("the lamp flickers"))
    sheet = visit.sheet()
    left = flat(section(sheet, "LEFT TO DO"))
    assert "Customer agreed to 09:44 repair, not replace" in left
    assert "Follow-up, which day 09:45 2 December: look again" in left
    assert "Parts 09:46 one drier" in left
    assert "___" not in left, "what was said needs no line to write on"
    assert flat(section(sheet, "NOTES")) == "09:47 the lamp flickers"


def test_a_corrected_place_shows_both_and_counts_the_new_one(log: Path) -> None:
    visit = to_the_gauges(begun(log))
    for reading, text in (("altitude", "6000 ft"), ("region", "EU")):
        given = next(each for each in visit.walk.of_site() if each.reading == reading)
        change = visit.walk.correct(given, text)
        visit.act(lambda walk, change=change: walk.accept(change))  # type: ignore[misc]
    sheet = visit.sheet()
    visited = flat(section(sheet, "THE VISIT"))
    assert "(altitude 6000 ft)" in visited
    assert "those of EU" in visited
    corrected = flat(section(sheet, "CORRECTED, TAKEN BACK, OVERRULED"))
    assert "Altitude was 0 ft, corrected to 6000 ft" in corrected
    assert "Region was not set, corrected to EU" in corrected
