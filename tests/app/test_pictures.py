"""Pictures: the right numbers in the right rows, inside their box at every size, none where nothing is known."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.app.drawn import again, changed, row_with, text, walk_to
from tui.app.pictures import pictures
from tui.app.pictures.charge import charge_lines, rows_by_value
from tui.app.pictures.cycle import cycle_of, wanted_of
from tui.app.pictures.enthalpy import enthalpy_lines, service, waiting
from tui.app.pictures.places import places_lines, places_of
from tui.app.pictures.weighed import weighing_of
from tui.quantity import Quantity, show
from tui.walk import Walk
from tui.walk.counted import counted_events

#: ASCII, and the signs that the screen can put in ASCII one to one
ALLOWED = {chr(code) for code in range(32, 127)} | set("│─┌┐└┘├┤┬┴┼▲▼●○◆◇■□·█▓▒░←→↑↓×±°Δ✓")
SCENES = [
    ("call-leak", "clamps-or-scale"),
    ("call-leak", "add-a-little"),
    ("call-leak", "close-off"),
    ("call-leak", "clear-the-air"),
    ("call-leak", ""),
    ("call-receiver", ""),
    ("call-drier", ""),
]


# ---- the weighed test


def test_one_point_a_round_and_one_before() -> None:
    walk = walk_to("call-leak", "add-a-little", 2)
    test = weighing_of(walk)
    assert [typed(point.values["suction"]) for point in test.points] == ["8.2 psig", "10.9 psig"]
    assert test.points[0].net.si == 0
    assert show(test.points[1].net) == "0.99 oz", "218.70 oz less 217.66 oz and what the hose holds"
    assert pictures(walk)[0].name == "test", "first, while it runs"


def typed(value: Quantity) -> str:
    return show(value, "psig")


def test_the_end_of_the_visit_does_not_change_the_test() -> None:
    """Taken after the repair: 17.4 psig, at the very target. That is no point of the test."""
    test = weighing_of(walk_to("call-leak"))
    assert [typed(point.values["suction"]) for point in test.points] == ["8.2 psig", "10.9 psig", "16.5 psig"]
    assert test.verdicts["subcooling-level"] == "low", "as it was when the test ended"


def test_the_points_stand_on_the_right_side_of_what_is_wanted() -> None:
    low, done = (
        text(charge_lines(walk, 80, 20)) for walk in (walk_to("call-leak", "add-a-little", 2), walk_to("call-leak"))
    )
    assert low[0].startswith(" suction 10.9 psig, low")
    lower_edge = row_with(low, "13.9 psig")
    assert row_with(low, "10.9 psig │") > lower_edge, "still below"
    assert done[0].startswith(" suction 16.5 psig, as wanted")
    assert row_with(done, "23.8 psig") < row_with(done, "16.5 psig │") < row_with(done, "13.9 psig")


def test_it_says_where_it_stops() -> None:
    lines = text(charge_lines(walk_to("call-leak"), 80, 20))
    assert lines[-1] == " it stops at: plate 14 oz, 12 rounds 13.44 oz, head 225 psig, amps 6.5 A"
    assert sum("plate 14 oz →" in line for line in lines) == 2, "beyond the edge of the upper and of the lower two"
    assert row_with(lines, "20 dF │====")


FAR = {  # invented: a small circuit that takes most of its plate's charge
    "nameplate-charge": "6 oz",
    "scale": "[218.2 oz, 217.6 oz, 217.1 oz, 216.6 oz, 216.1 oz]",
    "suction": "[8.2 psig, 8.9 psig, 9.4 psig, 10 psig, 10.4 psig]",
    "head": "[108.3 psig, 109 psig, 110 psig, 111 psig, 112 psig]",
    "evaporator-outlet": "[35 °F, 35 °F, 35 °F, 34 °F, 34 °F]",
    "condenser-outlet": "[91 °F, 91 °F, 92 °F, 92 °F, 92 °F]",
    "return-air": "42 °F",
}


def test_the_limits_of_what_goes_in_are_upright_lines_once_they_are_near(tmp_path: Path) -> None:
    walk = changed(tmp_path, FAR, "add-a-little", 5)
    test = weighing_of(walk)
    assert len(test.points) == 5
    assert test.plate is not None
    assert test.most is not None
    assert test.plate.si > test.most.si > test.points[-1].net.si
    lines = text(charge_lines(walk, 110, 32))
    first = lines[5][: len(lines[5]) // 2 + 1]
    axis, rounds, plate = (at for at, letter in enumerate(first.rstrip()) if letter == "│")
    assert axis < lines[row_with(lines, "10.4 psig │")].index("●") < rounds < plate
    share = (rounds - axis - 1) / (plate - axis - 1)
    assert share == pytest.approx(test.most.si / test.plate.si, abs=0.03)


@given(
    st.lists(st.floats(-50, 400), min_size=1, max_size=4),
    st.lists(st.floats(-50, 400), min_size=1, max_size=13),
    st.integers(3, 30),
)
def test_a_higher_number_never_stands_lower(anchors: list[float], others: list[float], tall: int) -> None:
    rows = rows_by_value(anchors, others, tall)
    assert all(0 <= row < tall for row in rows.values())
    if len(set(anchors)) + 1 < tall:
        for anchor in anchors:
            assert all(rows[v] <= rows[anchor] + 1 for v in others if v > anchor)
    down = sorted(set(anchors), reverse=True)
    assert [rows[v] for v in down] == sorted(rows[v] for v in down)


def test_no_picture_of_a_test_before_it_has_begun() -> None:
    walk = walk_to("call-leak", "connect-the-cylinder")
    assert weighing_of(walk).points == []
    assert charge_lines(walk, 80, 20) == []
    assert "test" not in [each.name for each in pictures(walk)]


def test_a_round_taken_back_is_not_drawn() -> None:
    walk = again(walk_to("call-leak", "close-off"))
    count = len(weighing_of(walk).points)
    while len(weighing_of(walk).points) == count:
        walk.undo()
    assert len(weighing_of(walk).points) == count - 1


def test_a_corrected_reading_moves_its_own_point_only() -> None:
    walk = again(walk_to("call-leak", "close-off"))
    before = [typed(point.values["suction"]) for point in weighing_of(walk).points]
    given_first = next(each for each in walk.given() if each.reading == "suction")
    walk.accept(walk.correct(given_first.event_no, "7.9 psig"))
    assert [typed(point.values["suction"]) for point in weighing_of(walk).points] == ["7.9 psig", *before[1:]]


def test_the_events_that_count_are_those_of_a_walk_that_never_went_back() -> None:
    walk = again(walk_to("call-leak", "add-a-little", 2))
    assert counted_events(walk) is walk.events
    reading = next(each for each in walk.given() if each.reading == "condenser-air")
    walk.accept(walk.correct(reading.event_no, "76 °F"))
    counted = counted_events(walk)
    assert "corrected" not in [event["event"] for event in counted]
    straight = Walk.from_events(walk.library, counted)
    assert straight.values() == walk.values()


# ---- places


def test_the_places_searched_with_what_each_gave() -> None:
    found = places_of(walk_to("call-leak"))
    assert [each.mark for each in found] == ["○", "○", "○", "○", "●", "□", "□", "□", "□"]
    lines = text(places_lines(walk_to("call-leak"), 80, 20))
    assert lines[0].split() == ["place", "oil", "detector", "from", "clean", "air"]
    assert lines[5].split() == ["●", "drier", "joints", "fresh", "hit", "3", "of", "3", "hit"]
    assert " 5 of 9 places looked at; found at drier joints" in lines


def test_in_the_midst_it_says_where_it_stands_and_what_is_to_do() -> None:
    walk = walk_to("call-leak", "clear-the-air")
    lines = text(places_lines(walk, 80, 20))
    assert lines[5].startswith(" → drier joints")
    assert row_with(lines, "4 still to do after this one")
    assert pictures(walk)[0].name == "places"


ALL_CLEAR = {
    "oil-there": "none",
    "sniff": "[clear, clear, clear, clear, hit, clear, clear, clear, clear]",
    "from-left": "[hit, clear, hit, clear]",
    "from-right": "[clear, clear, hit, clear]",
    "from-below": "[hit, clear, clear, clear]",
    "bubbles-there": "[none, none, out of reach, growing]",
}


def test_a_hit_that_three_looks_do_not_bear_out_is_no_find(tmp_path: Path) -> None:
    """Then the high side after a run, with columns of its own, then soap."""
    walk = changed(tmp_path, ALL_CLEAR)
    found = {each.name: each for each in places_of(walk)}
    drier = found["drier joints"]
    assert drier.said("detector") == "hit"
    assert drier.said("from clean air") == "2 of 3 hit"
    assert drier.said("high side") == "2 of 3 hit"
    assert drier.mark == "○"
    assert found["suction line at the compressor"].mark == "-", "out of reach"
    assert found["discharge line at the compressor"].said("soap") == "growing"
    assert found["discharge line at the compressor"].mark == "●"


def test_a_place_seen_before_any_search_is_the_find(tmp_path: Path) -> None:
    walk = changed(tmp_path, {"leak-in-sight": "it shows", "where-it-shows": "flare nut"})
    assert [(each.name, each.mark) for each in places_of(walk)] == [("flare nuts", "●")]


def test_a_place_taken_back_is_still_to_do() -> None:
    walk = again(walk_to("call-leak", "clear-the-air"))
    walk.undo(2)
    assert places_of(walk)[4].answers == {}
    assert places_of(walk)[3].mark == "○"


@pytest.mark.parametrize("height", [4, 6, 9])
def test_where_not_all_places_fit_the_one_at_hand_does(height: int) -> None:
    lines = text(places_lines(walk_to("call-leak", "clear-the-air"), 80, height))
    assert len(lines) <= height
    assert any(line.startswith(" → drier joints") for line in lines)


def test_no_map_before_a_search() -> None:
    assert places_lines(walk_to("call-leak", "add-a-little"), 80, 20) == []


# ---- pressure against enthalpy


def test_the_cycle_is_that_of_the_readings() -> None:
    walk = walk_to("call-leak", "add-a-little")
    cycle, wanted = cycle_of(walk), wanted_of(walk)
    assert cycle is not None
    assert wanted is not None
    assert cycle.low < wanted.low, "short of charge: suction is below its target"
    assert cycle.vapour == pytest.approx((35 + 459.67) / 1.8)
    assert cycle.discharge is None, "not measured"


def begin_anew() -> None:
    """As if no picture of this process had asked yet."""
    if service.cache_info().currsize:
        service().close()
    service.cache_clear()


def answered(walk: Walk, width: int, height: int) -> list[str]:
    """The picture once the child has answered."""
    lines = enthalpy_lines(walk, width, height)
    until = time.monotonic() + 60
    while waiting():
        assert time.monotonic() < until
        time.sleep(0.02)
    return text(enthalpy_lines(walk, width, height) or lines)


@pytest.mark.slow
def test_the_cycle_is_drawn_once_the_child_has_answered() -> None:
    walk = walk_to("call-leak", "add-a-little")
    begin_anew()
    assert "Being worked out" in text(enthalpy_lines(walk, 80, 20))[0]
    assert waiting()
    drawn = answered(walk, 80, 20)
    assert not waiting()
    assert drawn[0].startswith(" R-134a  ● measured  ○ wanted  · saturated  ◇ if nothing were lost")
    low, high = row_with(drawn, "8.2 psig ●"), row_with(drawn, "108.3 psig ●")
    assert row_with(drawn, "135.1 psig ○") <= high < row_with(drawn, "17.2 psig ○") < low
    assert [letter for letter in drawn[low] if letter in "●◇"] == ["●"] * 3, "its pressure, liquid and vapour"
    assert [letter for letter in drawn[high] if letter in "●◇"] == ["●", "●", "◇"], "compressed: a sum, not measured"
    assert drawn[low].rindex("●") < drawn[high].index("◇"), "compression adds enthalpy"
    for row in range(high + 1, low):
        assert "·" in drawn[row].split("│", 1)[1], "the dome has no hole"


@pytest.mark.slow
def test_a_measured_discharge_line_is_a_corner() -> None:
    walk = again(walk_to("call-leak", "add-a-little"))
    walk.tell("discharge-line", "180 °F")
    drawn = answered(walk, 100, 30)
    assert "◇" not in "".join(drawn)
    assert drawn[row_with(drawn, "108.3 psig ●")].count("●") == 3


@pytest.mark.slow
def test_of_a_blend_the_dome_closes_as_far_as_the_tables_go(tmp_path: Path) -> None:
    """R-407F, whose bubble line the property library's own search gives up from 49 °C on."""
    blend = {"refrigerant": "R-407F", "suction": "30 psig", "head": "200 psig"}
    drawn = answered(changed(tmp_path, blend, "ask-cold-spot"), 100, 34)
    assert drawn[0].startswith(" R-407F")
    rows = [line for line in drawn if "│" in line]
    widths = [line.rstrip().rindex("·") - line.index("·", line.index("│")) for line in rows if line.count("·") > 1]
    assert widths[0] < widths[len(widths) // 2], "narrower at the top"


def test_a_refrigerant_that_is_not_in_the_tables_is_one_line() -> None:
    walk = again(walk_to("call-leak", "add-a-little"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tui.app.pictures.enthalpy.refrigerant_of", lambda _: "")
        lines = text(enthalpy_lines(walk, 60, 20))
    assert len(lines) == 1
    assert "not in the tables" in lines[0]


def test_no_cycle_without_a_head() -> None:
    walk = walk_to("call-leak", "clamps-or-scale")
    assert enthalpy_lines(walk, 80, 20) == []
    assert "cycle" not in [each.name for each in pictures(walk)]


def test_listing_the_pictures_starts_no_child() -> None:
    begin_anew()
    assert "cycle" in [each.name for each in pictures(walk_to("call-leak", "add-a-little"))]
    assert service.cache_info().currsize == 0


# ---- all of them


@settings(max_examples=150, deadline=None)
@given(st.integers(40, 160), st.integers(6, 45), st.sampled_from(SCENES))
def test_every_picture_stays_in_its_box(width: int, height: int, scene: tuple[str, str]) -> None:
    """The one that waits for the child too: by then it may have been drawn."""
    for picture in pictures(walk_to(*scene)):
        lines = picture.draw(width, height)
        assert 0 < len(lines) <= height, picture.name
        assert all(line.content.cell_length <= width for line in lines), picture.name
        assert set("".join(text(lines))) <= ALLOWED, picture.name


@pytest.mark.slow
def test_the_diagram_stays_in_its_box_at_every_size() -> None:
    walk = walk_to("call-receiver")
    answered(walk, 80, 20)
    for width in range(40, 161, 7):
        for height in range(6, 46, 3):
            lines = enthalpy_lines(walk, width, height)
            assert len(lines) == height
            assert all(line.content.cell_length <= width for line in lines)
            assert set("".join(text(lines))) <= ALLOWED
