"""Somebody who presses anything: nothing crashes, and what was recorded is whole and replays."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.app.typist import app_of, begun, bundled, screen_text
from tests.record.helpers import HandClock
from tui.app.modes import Asked
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.record import read, verify
from tui.tree.library import Library
from tui.walk import Walk

KEYS = (
    *(f"f{number}" for number in (1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14, 15, 16, 18, 19)),
    *("enter", "enter", "enter", "up", "down", "left", "right", "pageup", "pagedown", "escape", "escape", "backspace"),
)
LINES = (
    *("1", "2", "3", "4", "7", "12", "0", "-5", "1e9", "35 °F", "12 psig", "14 oz", "r134a", "yes", "no", "use", "="),
    *("suction 8.2, head 180", "suction", "head 1 furlong", "back", "couldn't it is dark", "note [x] \x1b[31m", "own"),
    *("close no time", "menu", "2026-11-25", "R-404A", "unknown", "later", "switch main", "‮", "x" * 300),
)
STEPS = 160


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.mark.parametrize("seed", range(4))
async def test_nothing_that_is_pressed_breaks_it(
    trees: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path))
    chance, clock = random.Random(seed), HandClock()
    log = tmp_path / "visit.jsonl"
    app = app_of(begun(trees, ("call", "both-low")[seed % 2], path=log, clock=clock))
    size = chance.choice([(80, 24), (40, 10), (140, 45)])
    async with app.run_test(size=size) as pilot:
        for _ in range(STEPS):
            clock.seconds += chance.choice([0.1, 1, 400])
            if app.talk.over:
                break
            if chance.random() < 0.45:
                await pilot.press(chance.choice(KEYS))
            else:
                app.entered(sensible(app, chance) if chance.random() < 0.6 else chance.choice(LINES))
            await pilot.pause()
            assert len(screen_text(app).splitlines()) <= size[1]
    talk = app.talk
    assert isinstance(talk, Talk)
    assert app.return_code in (0, None)
    talk.visit.leave()
    assert verify(log).state in ("whole", "open")
    events = read(log).events
    assert Walk.from_events(trees, events).events[: len(events)] == events


def sensible(app: LowsideApp, chance: random.Random) -> str:
    """An answer that fits, so that it gets somewhere."""
    talk = app.talk
    if not isinstance(talk, Talk) or not isinstance(talk.mode, Asked) or not talk.mode.prompt.readings:
        return ""
    reading = talk.mode.prompt.readings[0]
    if reading.choices:
        return chance.choice(reading.choices)[0]
    return chance.choice(["20", "45", "80", "120", "2026-11-20", "main"]) + chance.choice(["", f" {reading.unit}"])
