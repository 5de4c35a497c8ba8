"""Pictures: the right numbers in the right rows, inside their box at every size, none where nothing is known."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.app.typist import ANSWERS, bundled
from tui.app.pictures import pictures
from tui.app.pictures.charge import charge_lines, points_of
from tui.app.pictures.cycle import cycle_lines, cycle_of, waiting, wanted_of
from tui.app.pictures.ladder import Rung, ladder_lines, rows_of
from tui.app.pictures.places import looked_at, places_lines
from tui.app.sheet import Line, joined
from tui.quantity import Quantity
from tui.refrigerant.enthalpy import Enthalpies
from tui.walk import Walk
from tui.walk.answers import Answers, begin, drive


class _Stop(Exception):
    pass


@cache
def walk_to(name: str, step: str = "", times: int = 1) -> Walk:
    """A walk of an answers file, up to where that step is asked for so many times; else to its end."""
    answers = Answers.read(ANSWERS / f"{name}.yaml")
    walk = begin(bundled(), answers)
    left = times

    def act(intent: Callable[[Walk], object]) -> None:
        nonlocal left
        if step and walk.prompt is not None and walk.prompt.step == step:
            left -= 1
            if not left:
                raise _Stop
        intent(walk)

    with suppress(_Stop):
        drive(walk, answers, act)
    return walk


def text(lines: list[Line]) -> list[str]:
    return joined(lines).plain.splitlines()


# ---- the ladder


@given(
    st.lists(st.floats(200, 400), min_size=2, max_size=12, unique=True).map(lambda found: sorted(found, reverse=True)),
    st.integers(2, 50),
)
def test_a_hotter_reading_never_stands_lower(kelvins: list[float], height: int) -> None:
    rungs = [Rung(str(number), "", kelvin, "") for number, kelvin in enumerate(kelvins[:height])]
    rows = [rows_of(rungs, kelvins[0], kelvins[-1], height)[rung.name] for rung in rungs]
    assert rows == sorted(rows)
    assert len(set(rows)) == len(rows), "each in a row of its own"
    assert all(0 <= row < height for row in rows)


def test_the_ladder_has_every_temperature_and_its_differences() -> None:
    walk = walk_to("call-leak", "add-a-little")
    lines = text(ladder_lines(walk, 110, 22))
    names = ("condensing", "evaporating", "box air")
    rows = {name: next(n for n, line in enumerate(lines) if f"● {name}" in line) for name in names}
    assert rows["condensing"] < rows["box air"] < rows["evaporating"]
    whole = "\n".join(lines)
    shown = next(row.measured for row in walk.table() if row.name == "superheat")
    assert f"superheat {shown}" in whole
    assert "▲" in next(line for line in lines if "superheat" in line), "as the table says"
    assert "○" in whole, "what is wanted stands beside it where there is room"


def test_no_ladder_of_one_temperature() -> None:
    assert ladder_lines(walk_to("call-leak", "ask-equipment"), 80, 20) == []


# ---- the weighed test


def test_one_point_a_round_and_one_before() -> None:
    walk = walk_to("call-leak", "add-a-little", 2)
    points = points_of(walk)
    assert points[0].net.si == 0
    assert len(points) == 2
    net = walk.values()["net-added"]
    assert isinstance(net, Quantity)
    assert points[1].net.si == pytest.approx(net.si)
    assert points[0].values["suction"].si < points[1].values["suction"].si
    lines = text(charge_lines(walk, 80, 18))
    assert lines[0].startswith(" suction ")
    assert any("it stops at" in line for line in lines)
    assert sum("●" in line for line in lines) >= 2


def test_no_picture_of_a_test_before_it_has_begun() -> None:
    walk = walk_to("call-leak", "connect-the-cylinder")
    assert points_of(walk) == []
    assert charge_lines(walk, 80, 20) == []


def test_a_round_taken_back_is_not_drawn() -> None:
    walk = walk_to("call-leak", "add-a-little", 2)
    again = Walk.from_events(walk.library, walk.events)
    count = len(points_of(again))
    while len(points_of(again)) == count:
        again.undo()
    assert len(points_of(again)) < count


# ---- places


def test_the_places_searched_with_what_each_gave() -> None:
    found = looked_at(walk_to("call-leak"))
    assert [each.mark for each in found][-1] == "●"
    assert all(each.answers for each in found)
    lines = text(places_lines(walk_to("call-leak"), 80, 20))
    assert any(line.startswith(f" ● {found[-1].place}") for line in lines)


# ---- pressure against enthalpy


def test_the_cycle_is_that_of_the_readings() -> None:
    walk = walk_to("call-leak", "add-a-little")
    cycle, wanted = cycle_of(walk), wanted_of(walk)
    assert cycle is not None
    assert wanted is not None
    assert cycle.low < wanted.low, "short of charge: suction is below its target"


@pytest.mark.slow
def test_the_cycle_is_drawn_once_the_child_has_answered() -> None:
    walk = walk_to("call-leak", "add-a-little")
    lines = cycle_lines(walk, 80, 18)
    assert "Being worked out" in text(lines)[0]
    until = time.monotonic() + 60
    while waiting():
        assert time.monotonic() < until
        time.sleep(0.05)
    drawn = text(cycle_lines(walk, 80, 18))
    assert sum(line.count("●") for line in drawn) >= 5, "four corners, and one in the title"
    assert drawn[0].startswith(" R-134a")


@pytest.mark.slow
def test_enthalpies_of_r134a() -> None:
    """Evaporation of R-134a at 0 °C takes 198.6 kJ/kg (IIR reference tables of R-134a; from memory)."""
    service = Enthalpies()
    pa = 292_800.0
    points = [("liquid", 273.15 - 0.01, pa), ("gas", 273.15 + 0.01, pa)]
    until = time.monotonic() + 60
    while service.of("R-134a", points) is None:
        assert time.monotonic() < until
        time.sleep(0.05)
    found = service.of("R-134a", points)
    assert isinstance(found, list)
    liquid, vapour = found
    assert liquid is not None
    assert vapour is not None
    assert (vapour - liquid) / 1000 == pytest.approx(198.6, abs=0.6)
    assert isinstance(service.of("R-134a", points), list), "it is kept"
    service.close()


def test_a_child_that_cannot_start_or_talks_nonsense_is_one_sentence() -> None:
    for command in (["/nowhere/at/all"], ["sh", "-c", "echo nonsense; cat >/dev/null"], ["sh", "-c", "exit 3"]):
        service = Enthalpies(command)
        until = time.monotonic() + 20
        while (found := service.of("R-134a", [("gas", 300.0, 1e5)])) is None:
            assert time.monotonic() < until
            time.sleep(0.02)
        assert isinstance(found, str)
        assert found.startswith("The property library")
        service.close()


# ---- all of them


@settings(max_examples=60, deadline=None)
@given(st.integers(40, 160), st.integers(6, 45), st.sampled_from(["add-a-little", ""]))
def test_every_picture_stays_in_its_box(width: int, height: int, step: str) -> None:
    walk = walk_to("call-leak", step)
    for picture in pictures(walk):
        lines = picture.draw(width, height)
        assert len(lines) <= height, picture.name
        assert all(line.content.cell_length <= width for line in lines), picture.name
