"""The board of readings, the menu, the keys on the screen, the panel."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.app.lines import BEGINNING, TO_THE_WAIT, events, page, said, typed
from tests.app.typist import Typist, app_of, asks, begun, bundled, known_of, screen_text, shown
from tui.app import keypad, keys
from tui.app.board import MOST, Board
from tui.app.modes import Asked
from tui.app.screen import LowsideApp, panel_width
from tui.app.talk import Talk
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


def at_the_board(talk: Talk) -> Board:
    assert talk.press("board")
    assert isinstance(talk.mode, Board)
    return talk.mode


def values(board: Board) -> dict[str, str]:
    return {row.reading.id: row.shown for row in board.rows}


# ---- the board


def test_the_board_begins_with_what_is_asked_and_ends_with_what_is_had(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    board = at_the_board(talk)
    assert board.rows[0].asked
    had = [bool(row.shown) for row in board.rows]
    assert had == sorted(had), "what is still to be had stands first"
    assert values(board)["refrigerant"] == "R-134a"
    assert {"suction", "scale"} <= set(values(board)), "what is still to come can be typed now"


def test_a_value_goes_to_the_reading_that_is_marked_and_the_next_empty_one_is_marked_then(talk: Talk) -> None:
    board = at_the_board(talk)
    assert board.rows[talk.mark or 0].reading.id == "refrigerant"
    typed(talk, "r134a")
    assert values(board)["refrigerant"] == "R-134a"
    marked = board.rows[talk.mark or 0]
    assert not marked.shown
    assert talk.aside is board, "it stays until Enter alone"


def test_arrows_choose_the_reading_and_keep_what_is_typed(talk: Talk) -> None:
    board = at_the_board(talk)
    talk.typing("12")
    before = talk.mark or 0
    assert not talk.move(1), "the line is not emptied"
    assert talk.mark == before + 1
    talk.typing("12 psig")
    assert talk.mark == before + 1
    assert board.rows[talk.mark].reading.unit in ("", "oz", "psig", "°F")


def test_several_readings_in_one_line(talk: Talk) -> None:
    typed(talk, *BEGINNING[:4])
    at_the_board(talk)
    talk.typing("suction 12, charge 14 oz")
    assert "suction: 12.0 psig" in said(talk)
    typed(talk, "suction 12; scale 99 oz")
    told = {str(event["reading"]) for event in events(talk, "told") + events(talk, "answered")}
    assert {"suction", "scale"} <= told


def test_of_several_what_is_right_counts_and_what_is_wrong_stays_in_the_line(talk: Talk) -> None:
    typed(talk, *BEGINNING[:4])
    board = at_the_board(talk)
    typed(talk, "suction 12; scale fat")
    assert values(board)["suction"] == "12.0 psig"
    assert not values(board)["scale"]
    assert talk.left_over() == "scale fat"
    assert "recorded suction: 12.0 psig" in said(talk)
    assert "NO scale:" in said(talk)


def test_a_decimal_comma_is_no_second_reading(talk: Talk) -> None:
    typed(talk, *BEGINNING[:4])
    at_the_board(talk)
    typed(talk, "suction 12,5")
    assert values(at_the_board_again(talk))["suction"].startswith("12.5")


def at_the_board_again(talk: Talk) -> Board:
    assert isinstance(talk.aside, Board)
    return talk.aside


def test_enter_alone_goes_back_to_the_question(talk: Talk) -> None:
    at_the_board(talk)
    assert talk.enter("")
    assert isinstance(talk.mode, Asked)


def test_a_name_alone_marks_its_row(talk: Talk) -> None:
    board = at_the_board(talk)
    typed(talk, "suction")
    assert board.rows[talk.mark or 0].reading.id == "suction"


async def test_before_its_circuits_are_walked_a_unit_with_one_has_its_readings(trees: Library) -> None:
    talk = app_of(begun(trees, "call")).talk
    assert isinstance(talk, Talk)
    assert not talk.press("board"), "nobody knows yet of which circuit"
    typed(talk, "1")
    board = at_the_board(talk)
    typed(talk, "refrigerant r134a, suction 8.2, head 108")
    assert values(at_the_board_again(talk))["refrigerant"] == "R-134a"
    talk.escape()
    board = at_the_board(talk)
    assert values(board)["suction"] == "8.2 psig", "also what no step has asked yet"


def test_a_long_board_drops_what_is_still_to_be_had_and_nothing_that_is_had(trees: Library) -> None:
    talk = app_of(begun(trees, "call")).talk
    assert isinstance(talk, Talk)
    typed(talk, "1")
    assert len(at_the_board(talk).rows) == MOST, "else this board is too short to drop anything"
    typed(talk, "suction 8.2, head 108, evaporator outlet 30")
    for board in (at_the_board_again(talk), Board(talk)):
        assert len(board.rows) == MOST
        assert {"suction", "head", "evaporator-outlet"} <= {row.reading.id for row in board.rows if row.shown}


# ---- the menu


def test_the_menu_has_all_that_is_allowed_and_says_what_each_does(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("menu")
    offered = dict(talk.mode.choices)
    assert set(offered) == {c.action for c in keys.COMMANDS if c.allowed(talk.walk)} - {"menu"}
    talk.typing("note")
    assert "a note in your own words (F11)" in said(talk)
    talk.typing("own")
    assert "(or type own)" in said(talk)
    typed(talk, "own")
    assert "What do you find?" in page(talk)


def test_the_menu_is_moved_through_and_taken_with_enter(talk: Talk) -> None:
    talk.press("menu")
    talk.move(1)
    action = talk.mode.choices[talk.mark or 0][0]
    assert keys.BY_ACTION[action].help in said(talk)


def test_colours_are_worn_and_kept(talk: Talk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path))
    typed(talk, "colours", "sunlight")
    assert talk.theme == "sunlight"
    assert "theme: sunlight" in (tmp_path / "settings.yaml").read_text(encoding="utf-8")


def test_a_wait_can_be_cut_short_by_its_number(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    assert "1 cut it short" in page(talk)
    typed(talk, "1")
    assert "Why is this wait cut short?" in page(talk)


# ---- keys on the screen


def test_every_key_on_the_screen_is_wide_enough_and_fits(trees: Library) -> None:
    for rows in (keypad.rows_of(keypad.NUMBER, ("psig", "barg", "kPag", "inHg vac")), keypad.rows_of(keypad.WORDS, ())):
        for line in keypad.drawn(rows, 80):
            assert line.cell_length <= 80
        assert all(len(row) * keypad.WIDE + 1 <= 80 for row in rows)


async def test_a_reading_is_typed_with_the_mouse_alone(trees: Library) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=(80, 24)) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("suction"))
        talk = app.talk
        assert isinstance(talk, Talk)
        await click(pilot, app, "F12", "keys")
        await click(pilot, app, "Keypad", "page")
        for key in ("1", "5", ".", "2"):
            await click(pilot, app, f" {key} ", "pad")
        await click(pilot, app, "Enter", "go")
        await pilot.pause()
        assert talk.walk.given()[-1].shown == "15.2 psig"


async def click(pilot: object, app: LowsideApp, words: str, where: str) -> None:
    lines = shown(app, where).splitlines()
    row = next(number for number, line in enumerate(lines) if words in line)
    column = lines[row].index(words) + len(words) // 2
    await pilot.click(f"#{where}", offset=(column, row))  # type: ignore[attr-defined]
    await pilot.pause()  # type: ignore[attr-defined]


# ---- the panel


@pytest.mark.parametrize(("width", "wide"), [(80, 0), (119, 0), (120, 38), (140, 56), (300, 56)])
def test_how_wide_the_panel_is(width: int, wide: int) -> None:
    assert panel_width(width) == wide


async def test_the_panel_shows_causes_and_the_way(trees: Library, talk_of: Callable[..., Talk]) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=(140, 45)) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
        await pilot.pause()
        stands = screen_text(app)
        talk = app.talk
        assert isinstance(talk, Talk)
        assert f"{len(talk.walk.still_possible)} still possible" in stands
        assert f"{len(talk.walk.ruled_out)} ruled out" in stands
        assert "the way" in stands
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "the way" not in screen_text(app)
