"""Lines that whoever reads many sheets would strike out: false, without sense, or the names that trees go by."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bundled import examples, library
from tests.record.helpers import HandClock
from tests.review.test_bundled import told
from tests.review.visits import begun, charged, flat, section, to_the_gauges
from tui.record import Writer, read
from tui.review import sheet_of
from tui.review.brief import brief
from tui.walk.answers import run_answers

PASSED = "PASSED WITHOUT BEING SEEN, SO NOT RULED OUT"


@cache
def of_example(name: str) -> str:
    """The sheet of a bundled example."""
    answers = next(each.answers for each in examples() if each.name == name)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "visit.jsonl"
        with Writer.create(path, HandClock()) as writer:
            for event in run_answers(library(), answers).events:
                writer.append(event)
        return sheet_of(read(path))


def row(sheet: str, title: str, label: str, following: str) -> str:
    """What a section says from one label to the next."""
    return flat(section(sheet, title)).partition(f"{label} ")[2].partition(f" {following}")[0]


def test_nothing_less_than_nothing_is_missing() -> None:
    """86 g of 86 g went in: what is over is the rest of two floats, and may be below zero."""
    weighed = flat(section(told("call-drier"), "MAIN: REFRIGERANT IN AND OUT"))
    assert "surplus none" in weighed
    assert " -" not in weighed.replace("- Recover", "").replace("- The plate", "")


def test_a_plate_decides_no_finding() -> None:
    """After the last look, the rating only says which words the finding has."""
    decided = row(told("call-drier"), "MAIN: WHY 2 OF 2, 09:30", "Decided by", "Offered")
    assert decided.startswith("last sniff: nothing; caps tight: yes")
    assert "rating" not in decided


def test_a_history_that_nobody_knows_decides_no_finding() -> None:
    cleaned = of_example("cleaned-and-at-rest")
    assert row(cleaned, "MAIN: WHY 1 OF 2, 09:30", "Decided by", "Next") == "condenser looks: dirty"
    assert "box level: as wanted" in flat(section(cleaned, "MAIN: WHY 2 OF 2, 09:30"))


def test_a_question_that_was_not_answered_is_said_once() -> None:
    """It stopped there because of that; no list of all that it could have been."""
    decided = row(told("call-receiver"), "MAIN: WHY, 09:30", "Decided by", "Stayed")
    assert decided == "not known: liquid valves"


def test_the_day_of_a_search_decides_no_leak() -> None:
    """What was answered parted it: searched later, and on no day yet."""
    decided = row(of_example("still-plate-short-si"), "MAIN: WHY 2 OF 2, 09:30", "Decided by", "Not excluded")
    assert decided == "search now: later"


def test_how_a_unit_is_built_rules_no_fault_of_its_parts_out() -> None:
    sheet = told("call-drier")
    assert "Evaporator dirty" in flat(section(sheet, f"MAIN: {PASSED}"))
    assert "equipment:" not in flat(section(sheet, "MAIN: RULED OUT ON THE WAY"))
    assert "Seen" not in flat(section(sheet, f"MAIN: {PASSED}"))


def test_one_look_at_the_compressor_rules_no_dozen_causes_out() -> None:
    """That it hums says nothing of a drier: the walk only went another way."""
    sheet = of_example("class-freezer-second-try-while-hot")
    assert "Filter drier blocked" in flat(section(sheet, "MAIN: NOT FOLLOWED ONCE THAT WAS SEEN"))
    assert "Filter drier blocked" not in flat(section(sheet, "MAIN: RULED OUT ON THE WAY"))


def test_where_it_is_well_no_fault_is_said_to_be_left() -> None:
    """And that it is well is none that could be ruled out."""
    well = told("call-leak")
    assert "Not excluded" not in section(well, "MAIN: WHY 3 OF 3, 09:30")
    for each in ("call-leak", "call-drier", "call-two-circuits", "call-ice"):
        ruled = told(each).partition("RULED OUT ON THE WAY")[2].partition("PLATE AND BUILD")[0]
        assert "refrigeration side is well" not in flat(ruled)


def test_a_question_that_did_not_arise_would_tell_nothing() -> None:
    """Whether it was charged since, of a unit that was never empty."""
    assert "charged since" not in told("call-receiver")
    assert "left empty" not in told("call-receiver")


def test_a_piercing_valve_is_no_gauge() -> None:
    pierced = flat(section(of_example("weigh-out-pierced-with-consent"), "WHAT WAS DONE"))
    assert pierced.startswith("Work Piercing valve fitted; refrigerant recovered")


def test_a_new_drier_stands_in_the_work() -> None:
    """The step that mends says that there is always a new one; where it was all that was changed, once."""
    assert "joint made anew; new drier;" in flat(section(told("call-leak"), "WHAT WAS DONE"))
    only = flat(section(told("call-drier"), "WHAT WAS DONE"))
    assert "drier changed" in only
    assert "new drier" not in only
    anew = flat(section(of_example("core-changed-in-a-propane-circuit"), "WHAT WAS DONE"))
    assert "valve core changed" in anew
    assert "drier" not in anew, "nothing was cut"


def test_gas_that_was_out_before_it_was_asked_was_recovered_today() -> None:
    sheet = of_example("taken-out-before-it-was-asked")
    assert "refrigerant recovered, by the technician's own word" in flat(sheet).replace("Refrig", "refrig")
    assert "NOT CHARGED Recovered, and nothing was put in since." in flat(sheet)


def test_a_tree_that_was_not_entered_has_its_title() -> None:
    offered = flat(section(told("call-two-circuits"), "TABLE: WHY, 09:30")).partition("Offered to go on ")[2]
    assert offered == f"{library().trees['repair-and-prove'].title}: not now"


def test_a_planned_check_stands_as_a_leak_check() -> None:
    """With the charge off the plate beside it: that is what whoever keeps the books looks for."""
    refrigerant = flat(section(of_example("planned-walk-in-freezer-well-si"), "REFRIGERANT"))
    assert "R-449A, 9 kg on the plate" in refrigerant
    assert "Leak check detector along the circuit: nothing" in refrigerant


def test_a_verdict_stands_with_the_figures_it_was_given_for() -> None:
    judged = flat(section(of_example("merchandiser-overfilled-not-held-for-a-leak"), "MAIN: JUDGED"))
    assert "Evaporating now 1.6 °C; wanted -10.9 °C to -1.3 °C: HIGH then -6.5 °C" in judged
    assert "unknown" not in judged
    assert "not had" not in judged


def test_what_was_gone_back_over_is_named(tmp_path: Path) -> None:
    visit = begun(tmp_path / "a.jsonl")
    visit.answer("R-134a", "yes")
    visit.act(lambda walk: walk.couldnt("plate painted over"), lambda walk: walk.undo())
    back = flat(section(visit.sheet(), "CORRECTED, TAKEN BACK, OVERRULED"))
    assert back.endswith("Went back one answer: nameplate charge not had: plate painted over")


def test_two_columns_stay_apart_in_plain_letters(tmp_path: Path) -> None:
    """A degree sign is four letters there: what was short is not any more."""
    visit = to_the_gauges(begun(tmp_path / "a.jsonl"))
    plain = visit.sheet(ascii_only=True)
    assert "box wanted" in plain.lower()
    from tui.review.page import Page

    page = Page(ascii_only=True)
    page.pairs({"Condenser air": "27 °C (09:30)", "Condenser bend": "52 °C"})
    assert page.text.splitlines() == ["  Condenser bend         52 deg C", "  Condenser air          27 deg C (09:30)"]


def test_a_walk_at_its_end_has_only_to_be_closed(tmp_path: Path) -> None:
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    visit.visit.leave()
    assert visit.walk.prompt is None
    assert brief(tmp_path / "a.jsonl").stopped == "at its end: it has only to be closed"
