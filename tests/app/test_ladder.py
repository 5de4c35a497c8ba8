"""The temperature ladder: each temperature at its height, differences only between what is true at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.app.drawn import again, changed, row_with, text, walk_to
from tui.app.pictures.cycle import cycle_of
from tui.app.pictures.ladder import ladder_lines, rows_of
from tui.app.sheet import Line
from tui.quantity import Quantity
from tui.walk import Walk


@given(
    st.lists(st.floats(200, 400), min_size=2, max_size=12).map(lambda found: sorted(found, reverse=True)),
    st.integers(2, 50),
)
def test_a_hotter_reading_never_stands_lower(kelvins: list[float], height: int) -> None:
    rows = rows_of(kelvins, kelvins[0], kelvins[-1], height)
    assert rows == sorted(rows)
    assert all(0 <= row < height for row in rows)
    assert len(set(rows)) == min(len(rows), height), "each in a row of its own, as long as there are enough"


def test_the_ladder_has_every_temperature_at_its_height() -> None:
    walk = walk_to("call-leak", "add-a-little")
    lines = text(ladder_lines(walk, 80, 20))
    readings = {
        "92 °F ● condensing": 92.0,
        "91 °F ● condenser outlet": 91.0,
        "75 °F ● condenser air": 75.0,
        "42 °F ● box air": 42.0,
        "37 °F ● supply air": 37.0,
        "35 °F ● evaporator outlet": 35.0,
        "3.1 °F ● evaporating": 3.1,
    }
    rows = [row_with(lines, words) for words in readings]
    assert rows == sorted(rows)
    assert rows[0] == row_with(lines, "○ 105 °F condensing") + 2, "13 of 102 degrees over 18 rows"


def test_what_is_off_says_so_in_words_and_stands_out() -> None:
    lines = ladder_lines(walk_to("call-leak", "add-a-little"), 80, 20)
    for words in ("superheat 31.9 dF, wide", "TD 38.9 dF, wide", "subcooling 1 dF, small", "split 17 dF, small"):
        assert is_bold(lines[row_with(text(lines), words)]), words
    mended = ladder_lines(walk_to("call-leak"), 80, 20)
    for words in ("superheat 10.7 dF, on", "TD 21.7 dF, on", "subcooling 10 dF, on", "split 29 dF, on"):
        assert not is_bold(mended[row_with(text(mended), words)]), words


def in_a_new_set() -> Walk:
    """Refrigerant was just added: what the circuit read before that is of before."""
    walk = again(walk_to("call-leak", "add-a-little"))
    walk.done()
    return walk


def test_while_a_new_set_is_taken_the_old_one_is_told_apart() -> None:
    walk = in_a_new_set()
    lines = text(ladder_lines(walk, 80, 20))
    assert "◇ earlier: not taken again since" in lines[0]
    for words in ("condensing", "condenser outlet", "condenser air", "evaporator outlet", "evaporating"):
        assert any(f"◇ {words}" in line for line in lines), words
        assert not any(f"● {words}" in line for line in lines), words
    for words in ("superheat", "subcooling", "split", "TD"):
        assert not any(words in line for line in lines), f"{words}: of readings that are not true any more"
    assert "◇ earlier" not in text(ladder_lines(walk_to("call-leak", "add-a-little"), 80, 20))[0]


def test_no_difference_is_drawn_between_a_reading_of_now_and_one_of_before() -> None:
    walk = in_a_new_set()
    walk.tell("evaporator-outlet", "20 °F")
    walk.tell("suction", "20 psig")
    lines = text(ladder_lines(walk, 80, 20))
    assert any("20 °F ● evaporator outlet" in line for line in lines)
    assert any("3.1 °F ◇ evaporating" in line for line in lines), "of the suction before; it is still to be worked out"
    assert not any("superheat" in line for line in lines)
    assert not any("TD" in line for line in lines)
    assert cycle_of(walk) is None, "a cycle of two sets is none"
    assert cycle_of(walk_to("call-leak", "close-off")) is not None
    narrow = text(ladder_lines(walk, 30, 14))
    assert "◇ earlier" in narrow[0]
    assert not any("superheat" in line for line in narrow)


def is_bold(line: Line) -> bool:
    return any("bold" in str(span.style) for span in line.content.spans)


def test_what_is_wanted_is_said_beside_what_is_off_where_there_is_room() -> None:
    lines = text(ladder_lines(walk_to("call-receiver"), 120, 22))
    assert row_with(lines, "superheat 36.1 dF, wide, wanted 5 to 15 dF")
    assert row_with(lines, "TD 41.4 dF, wide, wanted 10 dF")
    assert not any("subcooling 1.4 dF," in line for line in lines), "a receiver: no verdict on subcooling"


def test_narrow_the_differences_stand_under_the_scale() -> None:
    lines = text(ladder_lines(walk_to("call-receiver"), 44, 18))
    assert lines[-4:] == [
        " split 15.7 dF, on",
        " TD 41.4 dF, wide, wanted 10 dF",
        " subcooling 1.4 dF",
        " superheat 36.1 dF, wide, wanted 5 to 15 dF",
    ]


def test_the_bracket_runs_from_one_reading_to_the_other() -> None:
    lines = text(ladder_lines(walk_to("call-leak"), 80, 20))
    top, bottom = row_with(lines, "● box air"), row_with(lines, "● evaporating")
    column = lines[top].index("┐")
    assert all(lines[row][column] in "│├" for row in range(top + 1, bottom))
    assert lines[bottom][column] == "┘"
    assert top < row_with(lines, "TD 21.7 dF") < bottom


def test_of_a_blend_superheat_counts_from_dew_and_subcooling_from_bubble(tmp_path: Path) -> None:
    blend = {"refrigerant": "R-448A", "suction": "30 psig", "head": "200 psig"}
    walk = changed(tmp_path, blend, "ask-cold-spot")
    lines = text(ladder_lines(walk, 90, 22))
    superheat, subcooling = walk.values()["superheat"], walk.values()["subcooling"]
    assert isinstance(superheat, Quantity)
    assert isinstance(subcooling, Quantity)
    dew, bubble = (shown_degrees(lines, words) for words in ("dew at suction", "bubble at head"))
    assert 35 - dew == pytest.approx(superheat.si * 1.8, abs=0.06)
    assert bubble - 91 == pytest.approx(subcooling.si * 1.8, abs=0.06)
    assert dew - shown_degrees(lines, "evaporating") > 2, "the coil's mean is a third of the glide colder"
    assert lines[row_with(lines, "● dew at suction")].rstrip().endswith("┘")


def shown_degrees(lines: list[str], words: str) -> float:
    return float(lines[row_with(lines, f"● {words}")].split("°F")[0])


def test_before_a_gauge_the_bends_stand_for_it() -> None:
    walk = walk_to("call-leak", "clamps-or-scale")
    lines = text(ladder_lines(walk, 80, 20))
    assert row_with(lines, "4 °F ● evaporator bend") > row_with(lines, "90 °F ● condenser bend")
    assert row_with(lines, "split 15 dF, small")
    assert not any("● evaporating" in line for line in lines)


def test_a_very_hot_discharge_line_stands_off_the_scale(tmp_path: Path) -> None:
    walk = walk_to("call-leak", "add-a-little")
    told = Walk.from_events(walk.library, walk.events)
    told.tell("discharge-line", "240 °F")
    lines = text(ladder_lines(told, 80, 20))
    assert "240 °F ● discharge line, off the scale" in lines[1]
    before, after = text(ladder_lines(walk, 80, 20)), lines
    assert abs(row_with(after, "● box air") - row_with(before, "● box air")) <= 1, "the rest is not squeezed together"


def test_no_ladder_of_one_temperature() -> None:
    assert ladder_lines(walk_to("call-leak", "ask-equipment"), 80, 20) == []
