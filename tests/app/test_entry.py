"""The line that is typed into: drawn as the library's own would be, at less cost, and never behind the keys."""

from __future__ import annotations

import pytest
from textual.geometry import Size
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input

from tests.app.lines import BEGINNING, events
from tests.app.typist import enter, shown
from tui.app.entry import Entry
from tui.app.screen import LowsideApp
from tui.app.talk import Talk

LINES = ("", "8", "8.2 psig", "雪雪 12", "e\u0301 x", "[bold]x", "x" * 300, "1 lb 4 oz " * 30)


@pytest.fixture
def app(talk: Talk) -> LowsideApp:
    return LowsideApp(talk)


async def at_cursor(pilot: Pilot[None], entry: Entry, text: str, cursor: int) -> None:
    entry.value = text
    entry.cursor_position = cursor
    await pilot.pause()


@pytest.mark.parametrize("text", LINES, ids=range(len(LINES)))
async def test_drawn_as_the_library_draws_its_own(app: LowsideApp, text: str) -> None:
    """Same letters in the same cells, same cell under the cursor."""
    async with app.run_test(size=(80, 24)) as pilot:
        entry = app.query_one(Entry)
        for cursor in sorted({0, len(text) // 2, len(text)}):
            await at_cursor(pilot, entry, text, cursor)
            ours, theirs = entry.render_line(0), Input.render_line(entry, 0)
            assert ours.text == theirs.text
            assert ours.cell_length == theirs.cell_length
            assert reversed_cells(ours) == reversed_cells(theirs)


def reversed_cells(strip: object) -> list[int]:
    """The cells under the cursor: those whose paper is not that of the last cell."""
    cells = [segment.style.bgcolor for segment in strip for _ in range(segment.cell_length)]  # type: ignore[attr-defined]
    return [place for place, paper in enumerate(cells) if paper != cells[-1]]


async def test_what_is_selected_is_seen(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = app.query_one(Entry)
        await at_cursor(pilot, entry, "12 psig", 7)
        await pilot.press("shift+left", "shift+left", "shift+left", "shift+left")
        await pilot.pause()
        assert reversed_cells(entry.render_line(0)) == [3, 4, 5, 6] == reversed_cells(Input.render_line(entry, 0))


async def test_a_key_costs_no_layout(app: LowsideApp, monkeypatch: pytest.MonkeyPatch) -> None:
    layouts: list[Size] = []
    real = Screen._refresh_layout
    async with app.run_test(size=(80, 24)) as pilot:
        for line in BEGINNING[:-1]:
            await enter(pilot, line)
        await pilot.press("4")
        await pilot.pause(0.1)

        def counted(screen: Screen[object], size: Size | None = None, scroll: bool = False) -> None:
            layouts.append(screen.size)
            real(screen, size, scroll)

        monkeypatch.setattr(Screen, "_refresh_layout", counted)
        for key in ("full_stop", "2", "space", "p", "backspace", "backspace", "1"):
            await pilot.press(key)
            await pilot.pause(0.05)
        assert "taken as  4.21 psig" in shown(app, "said")
        assert not layouts


async def test_enter_never_takes_a_mark_of_what_was_typed_before(app: LowsideApp, talk: Talk) -> None:
    """Faster than the screen: a digit, taken back, Enter."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("2")
        await pilot.pause(0.1)
        assert talk.mark == 1
        app.query_one(Entry).value = ""
        app.entered("")
        await pilot.pause()
        assert not events(talk, "answered")
        assert "Nothing is chosen yet" in shown(app, "said")


async def test_what_is_typed_after_enter_belongs_to_the_next_question(app: LowsideApp, talk: Talk) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = app.query_one(Entry)
        entry.value = "1"
        app.entered("1")
        entry.value = "y"
        app.entered("y")
        entry.value = "14 o"
        await pilot.pause(0.1)
        assert [event["reading"] for event in events(talk, "answered")] == ["refrigerant", "door"]
        assert entry.value == "14 o"
        assert "Charge?" in shown(app, "page")
