"""Readings by their everyday names, several in one line, at any question and on the board."""

from __future__ import annotations

import pytest

from tests.app.lines import page, said, typed
from tests.app.typist import begun, bundled
from tests.record.helpers import HandClock
from tui.app.board import Board
from tui.app.talk import Talk
from tui.desk.everyday import called_here
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.fixture
def call(trees: Library) -> Talk:
    """A whole call in SI units, at its first question: which circuits."""
    return Talk(begun(trees, "call", clock=HandClock(), units="SI"))


def given(talk: Talk) -> dict[str, str]:
    return {each.reading: each.shown for each in talk.walk.given()}


def board_of(talk: Talk) -> Board:
    assert talk.press("board")
    assert isinstance(talk.mode, Board)
    return talk.mode


def test_readings_are_no_job_number(call: Talk) -> None:
    typed(call, "1", "suction 0.3, head 7.9")
    assert "job" not in given(call)
    assert given(call)["suction"] == "0.30 barg"
    assert given(call)["head"] == "7.90 barg"


def test_before_the_circuits_are_known_they_wait_in_the_line(call: Talk) -> None:
    assert not call.enter("suction 0.3, head 7.9")
    assert "First the circuits" in said(call)
    typed(call, "1")
    assert call.left_over() == "suction 0.3; head 7.9"
    typed(call, "suction 0.3; head 7.9")
    assert given(call)["suction"] == "0.30 barg"


def test_words_of_the_customer_stay_words(call: Talk) -> None:
    typed(call, "1", "J 4471", "door open all day, compressor hums, box warm")
    assert given(call)["complaint"] == "door open all day, compressor hums, box warm"
    assert given(call)["job"] == "J 4471"


def test_on_the_board_an_unknown_name_is_never_the_current_answer(call: Talk) -> None:
    typed(call, "1")
    board = board_of(call)
    assert board.rows[call.mark or 0].reading.id == "job"
    typed(call, "refrigerant r134a, boks 11, ambient 31, suction line 9, liquid 34")
    assert given(call) == {
        "circuits": "main",
        "refrigerant": "R-134a",
        "condenser-air": "31 °C",
        "suction-line": "9 °C",
        "liquid-line": "34 °C",
    }
    assert "no reading is called 'boks'" in said(call)
    assert "box air" in said(call), "the nearest is offered"
    assert "recorded refrigerant R-134a; condenser air 31 °C; suction line 9 °C; liquid line 34 °C" in said(call)
    assert call.left_over() == "boks 11"
    assert not call.enter("boks 11")
    assert "job" not in given(call)


def test_what_begins_with_equals_is_the_marked_value_whatever_it_looks_like(call: Talk) -> None:
    typed(call, "1")
    board_of(call)
    assert not call.enter("WO 4471")
    assert "= WO 4471" in said(call)
    typed(call, "= WO 4471")
    assert given(call)["job"] == "WO 4471"


@pytest.mark.parametrize(
    ("line", "reading"),
    [
        ("ambient 31", "condenser-air"),
        ("kitchen 31", "condenser-air"),
        ("box 4", "box-air"),
        ("head pressure 7.9", "head"),
        ("high side 7.9", "head"),
        ("liquid 34", "liquid-line"),
        ("suction temp 9", "suction-line"),
        ("discharge 80", "discharge-line"),
        ("low rating 10", "low-side-rating"),
    ],
)
def test_everyday_names(call: Talk, line: str, reading: str) -> None:
    typed(call, "1", line)
    assert reading in given(call)


@pytest.mark.parametrize("line", ["superheat 5", "SH 5", "sc 3"])
def test_what_is_worked_out_says_what_to_give(call: Talk, line: str) -> None:
    typed(call, "1")
    board_of(call)
    before = len(call.walk.events)
    assert not call.enter(line)
    assert "worked out here, not typed" in said(call)
    assert len(call.walk.events) == before


def test_a_choice_goes_by_the_end_of_its_readings_name(call: Talk) -> None:
    typed(call, "1")
    board_of(call)
    typed(call, "compressor runs steadily, suction 0.3")
    assert given(call)["compressor-runs"] == "runs steadily"


def test_all_of_a_line_is_said_back_while_it_is_typed(call: Talk) -> None:
    typed(call, "1")
    call.typing("suction 0.3, head 7.9, ambient 31, liquid 34, amps 1.9, fan stopped")
    for words in ("suction:", "head:", "condenser air:", "liquid line:", "amps:", "'fan'"):
        assert words in said(call)


def test_at_the_complaint_too(call: Talk) -> None:
    typed(call, "1", "4471", "suction 0.3, head 7.9")
    assert {"suction", "head"} <= set(given(call))
    assert "complaint" not in given(call)


def test_the_board_stands_in_the_bottom_line_of_a_narrow_screen(call: Talk) -> None:
    typed(call, "1")
    assert "board" in [command.action for _, command in call.commands(80)]


def test_sums_know_what_the_board_was_told_before_the_circuit_is_walked(call: Talk) -> None:
    typed(call, "1", "refrigerant r134a, suction 0.3, evaporator outlet 9, head 7.9, liquid 30")
    call.press("sums")
    typed(call, "superheat")
    assert "0.30 barg" in " ".join(page(call).split())
    assert "superheat 29.4 dC" in " ".join(page(call).split())
    assert "clamp 0.6 dC" in page(call), "units of the visit also in the small print"
    call.escape()
    typed(call, "subcooling")
    assert "30 °C" in " ".join(page(call).split())


@pytest.fixture
def plate(trees: Library) -> Talk:
    """At the rest of the plate."""
    known = {"refrigerant": "R-134a", "plates-agree": "yes", "compressor-runs": "runs steadily"}
    talk = Talk(begun(trees, "circuit-call", clock=HandClock(), known={"circuits": {"main": known}}))
    for _ in range(20):
        prompt = talk.walk.prompt
        assert prompt is not None
        if "low-side-rating" in [each.id for each in prompt.readings]:
            return talk
        typed(talk, "" if prompt.kind == "caution" else prompt.readings[0].choices[0][1])
    raise AssertionError("the plate never came")


def test_at_the_plate_names_mean_the_plate(plate: Talk) -> None:
    plate.enter("low-side 150, high side 450, amps")
    assert {"low-side-rating": "150 psig", "high-side-rating": "450 psig"}.items() <= given(plate).items()
    assert not {"suction", "head", "amps", "plate-amps"} & given(plate).keys()
    assert "plate amps: what does it read?" in said(plate)
    assert plate.left_over() == "amps"
    typed(plate, "charge 14 oz, amps 4.1")
    assert given(plate)["plate-amps"] == "4.1 A"


def test_a_figure_that_begins_the_line_is_of_what_is_asked(plate: Talk) -> None:
    plate.typing("26 oz, low 150, amps 5.2")
    assert "nameplate charge: 26" in said(plate)
    typed(plate, "26 oz, low 150, amps 5.2")
    assert (given(plate)["nameplate-charge"], given(plate)["plate-amps"]) == ("26 oz", "5.2 A")


def test_a_figure_of_another_kind_is_not(plate: Talk) -> None:
    plate.enter("26 psig, low 150")
    assert "nameplate-charge" not in given(plate)
    assert plate.left_over() == "26 psig"


def test_a_reading_by_its_own_name_is_that_reading_there_too(plate: Talk) -> None:
    typed(plate, "suction 12, head 180")
    assert (given(plate)["suction"], given(plate)["head"]) == ("12.0 psig", "180 psig")


def test_where_the_meter_is_asked_about_too_amps_are_its_own() -> None:
    assert "amps" not in called_here(["plate-amps", "amps"])
    assert called_here(["plate-amps"])["amps"] == "plate-amps"
