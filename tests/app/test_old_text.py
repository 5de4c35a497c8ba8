"""What stood in the line before is never glued to what is typed next."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from tests.app.lines import BEGINNING, events
from tests.app.typist import enter, shown
from tui.app.entry import Entry
from tui.app.screen import LowsideApp
from tui.app.talk import Talk


@pytest.fixture
def app(talk: Talk) -> LowsideApp:
    return LowsideApp(talk)


async def at_the_charge(pilot: Pilot[None]) -> Entry:
    for line in BEGINNING[:2]:
        await enter(pilot, line)
    return pilot.app.query_one(Entry)


@pytest.mark.parametrize("aside", ["f1", "f2", "f5", "f9", "f11", "f12"])
async def test_back_from_an_aside_the_next_key_replaces_what_stood_there(app: LowsideApp, aside: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        await pilot.press("9", "9", aside)
        await pilot.pause()
        held = [entry.value]
        await pilot.press("escape")
        await pilot.pause()
        held.append(entry.value)
        await pilot.press("4")
        assert [*held, entry.value] == ["", "99", "4"]


async def test_the_number_that_chose_in_the_menu_is_no_answer_to_the_question(app: LowsideApp, talk: Talk) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        await pilot.press("f12")
        at = [choice for choice, _ in talk.mode.choices].index("own-finding")
        await enter(pilot, str(at + 1))
        assert "What do you find?" in shown(app, "page")
        assert not entry.value
        await pilot.press("escape")
        await pilot.pause()
        assert not entry.value


async def test_the_number_that_began_cutting_a_wait_short_is_gone_when_that_is_left(
    app: LowsideApp, talk: Talk
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for line in (*BEGINNING, "", "100 oz", "", "98 oz", "1"):
            await enter(pilot, line)
        assert "Why is this wait cut short?" in shown(app, "page")
        await pilot.press("escape")
        await pilot.pause()
        assert not app.query_one(Entry).value


async def test_text_that_was_refused_is_replaced_also_after_a_look_elsewhere(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        await enter(pilot, "flare nut")
        assert "NO" in shown(app, "said")
        await pilot.press("f9")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("2")
        assert entry.value == "2"


async def test_also_on_the_board_however_long(app: LowsideApp, talk: Talk) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        await pilot.press("f8")
        await enter(pilot, "scale " + "very " * 14 + "heavy")
        assert "NO" in shown(app, "said")
        await pilot.press("7")
        assert entry.value == "7"


async def test_escape_at_a_question_clears_the_line_and_goes_nowhere(app: LowsideApp, talk: Talk) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        count = len(talk.walk.events)
        await pilot.press("9", "9", "escape")
        await pilot.pause()
        assert not entry.value
        assert "taken as" not in shown(app, "said")
        await pilot.press("escape", "escape")
        assert len(talk.walk.events) == count
        assert not events(talk, "undone")


async def test_a_long_note_begun_is_gone_on_with(app: LowsideApp) -> None:
    """Words of one's own that took a minute to type are not lost by one key."""
    async with app.run_test(size=(80, 24)) as pilot:
        entry = await at_the_charge(pilot)
        long = "oil below the third bend from the left, wiped off, dry after it, seen again later"
        await pilot.press("f11")
        entry.value = long
        await pilot.press("f5")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("x")
        assert entry.value == f"{long}x"
