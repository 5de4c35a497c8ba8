"""What a screen must bear: twelve circuits, long tags, long notes, small and changing terminals, on every page."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.app.lines import BEGINNING, events, page, typed
from tests.app.typist import Typist, app_of, asks, begun, bundled, enter, known_of, screen_text, shown
from tui.app import keys
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.tree.library import Library

TWELVE = tuple(f"circuit number {number} on the far side" for number in range(1, 13))
PAGES = ("help", "details", "board", "menu", "correct", "undo", "note", "own-finding", "close", "theme")
SIZES = ((40, 10), (80, 24), (100, 30), (140, 45))


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_twelve_circuits_with_long_names(trees: Library, size: tuple[int, int]) -> None:
    known = {"circuits": {name[:30]: {"refrigerant": "R-134a"} for name in TWELVE}}
    app = app_of(begun(trees, "call", known=known, unit="K" * 30))
    async with app.run_test(size=size) as pilot:
        for _ in range(12):
            talk = app.talk
            assert isinstance(talk, Talk)
            if talk.walk.prompt is not None and talk.walk.prompt.kind == "which-circuit":
                break
            await enter(pilot, Typist(known_of("call-leak")).line(talk.walk.prompt) if talk.walk.prompt else "")
        lines = screen_text(app).splitlines()
        assert len(lines) <= size[1]
        assert all(len(line) <= size[0] for line in lines)
        assert lines[0].startswith(" KKKK")


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_every_page_stands_at_every_size_and_is_left_again(trees: Library, size: tuple[int, int]) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=size) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
        question = shown(app, "label")
        for action in PAGES:
            await pilot.press(keys.BY_ACTION[action].key)
            await pilot.pause()
            lines = screen_text(app).splitlines()
            assert all(len(line) <= size[0] for line in lines), action
            for key in ("pagedown", "down", "up", "pageup", "left", "right"):
                await pilot.press(key)
            await pilot.resize_terminal(31, 7)
            await pilot.pause()
            await pilot.resize_terminal(*size)
            await pilot.pause()
            await pilot.press("escape")
            await pilot.pause()
            assert shown(app, "label") == question, action


async def test_a_note_of_five_thousand_letters_is_kept_whole(talk: Talk) -> None:
    long = "the valve sticks and " * 240
    typed(talk, *BEGINNING[:2])
    talk.press("note")
    assert talk.enter(long)
    assert events(talk, "noted")[0]["text"] == " ".join(long.split())
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert len(screen_text(app).splitlines()) <= 24


@pytest.mark.parametrize("tag", ["K-12 [bold]", "‮evil", "x" * 30, "雪" * 30, "a\tb"], ids=range(5))
async def test_a_tag_is_shown_as_text(talk_of: Callable[..., Talk], tag: str) -> None:
    app = LowsideApp(talk_of(unit=tag))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        first = screen_text(app).splitlines()[0]
        assert "‮" not in first
        assert first.strip()


async def test_the_keypad_stands_at_forty_columns_and_goes_again(trees: Library) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=(40, 16)) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("suction"))
        await pilot.press("f19")
        await pilot.pause()
        assert all(len(line) <= 40 for line in screen_text(app).splitlines())
        await pilot.press("f19")
        await pilot.pause()
        assert "delete" not in screen_text(app)


def test_every_page_says_how_it_is_left(talk: Talk) -> None:
    typed(talk, *BEGINNING[:3])
    for action in PAGES:
        talk.press(action)
        view = talk.view(80)
        told = page(talk) + view.hint
        assert "ESC" in told or "Enter" in told, action
        talk.escape()
