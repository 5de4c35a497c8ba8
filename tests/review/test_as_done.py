"""The sheet says what was done, by the events of the visit; never by what somebody answered of an earlier one."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.bundled import examples
from tests.record.helpers import HandClock
from tests.review.test_bundled import library
from tests.review.visits import flat, section
from tui.desk.past import LEAK, past_of
from tui.record import Writer, read
from tui.review import sheet_of
from tui.review.wording import names_of
from tui.tree.model import Decide
from tui.walk.answers import Given, run_answers

Events = list[dict[str, object]]


@cache
def walked(example: str, *changed: tuple[str, str]) -> tuple[str, Events]:
    """The sheet and the events of an example with other answers in its first circuit."""
    found = next(each for each in examples() if each.name == example)
    circuits = dict(found.answers.circuits)
    first = next(iter(circuits))
    given = {name: Given((text,), (found.spot,), found.spot, False) for name, text in changed}
    circuits[first] = {**circuits[first], **given}
    walk = run_answers(library(), replace(found.answers, circuits=circuits))
    with TemporaryDirectory() as folder:
        path = Path(folder) / "visit.jsonl"
        with Writer.create(path, HandClock()) as writer:
            for event in walk.events:
                writer.append(event)
        return sheet_of(read(path)), list(walk.events)


def front(example: str, *changed: tuple[str, str]) -> str:
    return flat(walked(example, *changed)[0].partition("DETAILS")[0])


def leak_for_the_next(example: str, *changed: tuple[str, str]) -> object:
    values = past_of(walked(example, *changed)[1], "2026-11-25", library().catalogue).values
    return values.get(("main", LEAK), ("", ""))[0]


def test_a_leak_mended_before_is_not_mended_today() -> None:
    """The answer has today's date; what was found today is too much gas."""
    sheet = front("walk-in-freezer-overfilled", ("earlier-leak", "mended"))
    assert "Found Too much refrigerant inside" in sheet
    assert "leak mended" not in sheet
    assert "The leak was found" not in sheet


def test_a_flare_made_anew_and_held_tight_is_a_leak_mended() -> None:
    """Mended without cutting is mended all the same: for the customer, and for the next visit."""
    sheet = front("class-proven-reach-in-freezer")
    assert "flare made anew" in sheet
    assert "out 16 oz, in 28 oz, leak mended" in sheet
    assert "The leak was found and mended, and it was filled anew." in sheet
    assert "remakes a joint" not in sheet
    assert leak_for_the_next("class-proven-reach-in-freezer") == "mended"


def test_a_drier_that_was_changed_is_told_as_a_drier() -> None:
    """And a leak that is open stays open: a new drier closes none."""
    assert "drier changed" in front("repair-propane-drier", ("mended", "only the drier"))
    assert "drier changed" in front("joint-not-closed", ("mended", "only the drier"), ("how-mended", "without cutting"))
    found = "half-of-it-came-out-place-found"
    assert leak_for_the_next(found) == "mended"
    assert leak_for_the_next(found, ("mended", "only the drier")) == "found but not mended"


def test_a_charge_weighed_anew_is_not_told_as_mended() -> None:
    """Overfilled, and nothing was opened: the sheet names no part; said after cutting, it closes no leak."""
    sheet = front("overfilled-cooler-charged-anew")
    assert "plate charge weighed in" in sheet
    assert "core" not in sheet
    assert "circuit mended" not in sheet
    charged = ("mended", "nothing but the charge")
    assert leak_for_the_next("half-of-it-came-out-place-found", charged) == "found but not mended"


def test_a_new_compressor_is_told_as_one() -> None:
    assert "compressor changed" in front("new-compressor-in-a-reach-in")


def test_a_leak_that_the_last_sniff_hits_is_open() -> None:
    assert "in 14 oz, leak open" in front("repair-last-sniff-hits")
    assert leak_for_the_next("repair-last-sniff-hits") == "found but not mended"


def test_nitrogen_that_held_is_no_open_leak() -> None:
    """An earlier leak, said to be open, on a circuit that then holds: told is what the hold showed."""
    held = front("a-big-leak-would-show", ("earlier-leak", "found but not mended"))
    assert "leak open" not in held
    assert "no leak showed under nitrogen" in held


def test_what_came_out_over_the_plate_leaves_it_charged() -> None:
    sheet = front("repair-too-much")
    assert "in 15.5 oz" in sheet
    assert "NOT CHARGED" not in sheet
    assert "NOT CHARGED Recovered, and nothing was put in since." in front("joint-not-closed")


@pytest.mark.parametrize(
    ("example", "day"),
    [
        ("date-within-a-month", "leak search: 30 November 2026"),
        ("hold-cut-short", "proof of the repair: 30 November 2026"),
    ],
)
def test_a_day_agreed_on_the_walk_is_the_follow_up(example: str, day: str) -> None:
    assert f"Follow-up, which day {day}" in front(example)


def test_what_an_inspector_asks_of_a_repair() -> None:
    """Figures of the invented visit: nitrogen at 145 psig, 330 micron after ten and twenty minutes."""
    refrigerant = flat(section(walked("class-proven-reach-in-freezer")[0], "REFRIGERANT"))
    assert "Leak check nitrogen at 145 psig, stood 1 h, 145 psig at the end: tight" in refrigerant
    assert "vacuum 330 micron, 30 min after the pump was off: dry last sniff: nothing" in refrigerant
    assert "Cylinder numbers ____" in refrigerant
    assert "Certificate number ____" in refrigerant


def test_a_cause_excluded_by_one_reading_names_that_reading() -> None:
    """A compressor that runs rules its windings out; the plate's ratings, decided on next, do not."""
    told = flat(section(walked("class-proven-reach-in-freezer")[0], "MAIN: RULED OUT ON THE WAY"))
    assert "Contactor at fault; Compressor stuck;" in told
    assert "Seen: compressor runs: runs steadily." in told
    assert "rating" not in told


def test_a_column_that_is_any_in_its_row_is_no_evidence() -> None:
    steps = (step for tree in library().trees.values() for step in tree.named.values())
    tables = [(step, step.table) for step in steps if isinstance(step, Decide) and step.table is not None]
    told = [
        (names_of(step, [row.source]), [name for name, cell in zip(table.columns, row.cells, strict=True) if cell])
        for step, table in tables
        for row in table.rows
        if any(row.cells)
    ]
    assert len(told) > 100
    assert all(names == asked for names, asked in told)


def test_a_repair_put_off_does_not_settle_what_was_open() -> None:
    result = flat(section(walked("test-then-weigh-right")[0], "RESULT"))
    assert "It could be Filter drier blocked;" in result
    assert "To tell them apart a new drier, the plate charge" in result
    assert "at the end: Cannot be told" not in front("class-short-walk-in-cooler-si"), "what was found stands"


def test_masses_stand_in_the_unit_of_the_plate() -> None:
    assert "R-448A, 4.2 kg on the plate; out 2.4 kg" in front("class-short-walk-in-cooler-si")
    assert "R-404A, 22 lb on the plate; out 18.2 lb" in front("repair-walk-in-replaced")


def test_the_rules_of_the_place_and_their_days() -> None:
    """40 CFR 84.106: 20 % a year for commercial refrigeration; EU 2024/573: checked again within a month."""
    us = front("repair-walk-in-replaced")
    assert "Rules 40 CFR 84 - 40.6 % a year is over 20 %. Mended by 25 December 2026" in us
    assert "mended by 25 December 2026, by the rules" not in us, "the unit goes"
    assert "leak check again by 25 December 2026, by the rules" in front("class-short-walk-in-cooler-si")
    assert "by the rules" not in front("repair-propane-drier"), "propane has no such duty"


def test_a_circuit_found_empty_is_told_so() -> None:
    assert "NOT CHARGED Found empty, and nothing was put in since." in front("left-empty-nobody-knows")


def test_a_metric_sheet_says_nothing_in_psi() -> None:
    """The step says 10 psig (0.7 bar); the drier's own drop is told in kelvin."""
    sheet = walked("half-of-it-came-out-place-found")[0]
    assert "psi" not in sheet.partition("INSTRUMENTS")[0], "an instrument is good to what was typed of it"
    assert "Dry nitrogen to 0.7 bar first" in flat(sheet)


def test_a_repair_of_what_never_leaked_has_no_day_for_its_leak() -> None:
    """EU 2024/573 asks for a check within a month of a leak's repair; here a valve was stuck."""
    changed = front("walk-in-freezer-power-head-changed-si")
    assert "A leak is mended at once" in changed
    assert "leak check again" not in changed
