"""A reading for another circuit is said with that circuit's name and values; one that was never had is struck out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.app.lines import BEGINNING, events, page, said, typed
from tests.app.typist import begun, bundled
from tests.record.helpers import HandClock
from tui.app.talk import Talk
from tui.record import read
from tui.review import sheet_of
from tui.walk import Walk

TWO: dict[str, dict[str, dict[str, str]]] = {"circuits": {"cooler": {}, "freezer": {}}}


@pytest.fixture
def two(talk_of: Callable[..., Talk], tmp_path: Path) -> Talk:
    """At the cooler's refrigerant; a suction was told for the freezer."""
    talk = talk_of("small", path=tmp_path / "visit.jsonl", known=TWO)
    typed(talk, "cooler", "freezer refrigerant R-290")
    return talk


def suctions(talk: Talk) -> list[tuple[str, str]]:
    return [(each.circuit, each.shown) for each in talk.walk.given() if each.reading == "suction"]


def test_echo_and_record_name_the_circuit_and_go_by_its_own_values(two: Talk) -> None:
    two.typing("freezer suction 9 psig")
    assert said(two).startswith("taken as freezer suction: 9")
    typed(two, "freezer suction 9 psig")
    assert said(two) == "recorded freezer suction: 9.0 psig"
    two.press("correct")
    typed(two, "1")
    assert "freezer suction: 9.0 psig was given." in page(two)
    typed(two, "10 psig")
    assert "freezer suction: 9.0 psig becomes 10.0 psig." in page(two)


def test_what_lies_beside_it_is_of_that_circuit() -> None:
    talk = Talk(begun(bundled(), known=TWO, clock=HandClock()))
    typed(talk, "freezer", "R-448A", "yes")
    typed(talk, "cooler refrigerant R-134a")
    talk.typing("cooler suction 20")
    assert "R-448A" not in said(talk)
    talk.typing("freezer suction 20")
    assert "R-448A dew" in said(talk)


def test_a_reading_told_for_the_wrong_circuit_is_struck_out(two: Talk) -> None:
    typed(two, "freezer suction 9 psig", *BEGINNING[:2])
    two.press("correct")
    typed(two, "freezer suction 9.0 psig", "never had")
    assert "freezer suction: 9.0 psig becomes never had." in page(two)
    typed(two, "yes")
    assert suctions(two) == []
    assert Walk.from_events(two.walk.library, two.walk.events).prompt == two.walk.prompt
    two.visit.record()
    assert two.visit.path is not None
    told = sheet_of(read(two.visit.path))
    assert "Suction was 9.0 psig, struck out: never had" in told


def test_an_answer_struck_out_is_asked_again(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("correct")
    typed(talk, "fan running", "never had", "yes")
    assert events(talk, "corrected")[0]["value"] is None
    assert talk.walk.prompt is not None
    assert talk.walk.prompt.readings[0].id == "fan"
    typed(talk, "running")
    assert "fan" in [each.reading for each in talk.walk.given()]


def test_the_names_of_the_circuits_are_put_right_not_struck_out() -> None:
    talk = Talk(begun(bundled(), "call", clock=HandClock()))
    typed(talk, "left, right")
    talk.press("correct")
    typed(talk, "1")
    assert not talk.enter("never had") or "never had" in page(talk)
    assert talk.walk.circuits == ("left", "right")
