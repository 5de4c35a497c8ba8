"""While the trees are read: the screen stands, takes the altitude, can be left, and never hangs."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest

from tests.app.typist import begun, enter, screen_text
from tests.record.helpers import HandClock
from tui.app.opening import READING, Opening
from tui.app.run import Start, run_start
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.quantity import Refused
from tui.tree.library import Library


@pytest.fixture
def read() -> threading.Event:
    """Set when the trees are to be there."""
    return threading.Event()


@pytest.fixture
def app(small: Library, read: threading.Event) -> LowsideApp:
    opening = Opening("US", asks_altitude=True)

    def begin() -> Callable[[], Talk]:
        assert read.wait(10)

        def made() -> Talk:
            talk = Talk(begun(small, "small", clock=HandClock(), site={"today": "2026-11-25"}))
            if opening.answer:
                talk.enter(opening.answer)
            return talk

        return made

    return LowsideApp(opening, begin=begin)


async def until_begun(app: LowsideApp, pause: Callable[[float], object]) -> None:
    for _ in range(200):
        if isinstance(app.talk, Talk):
            return
        await pause(0.02)  # type: ignore[misc]
    raise AssertionError("the walk never began")


async def test_the_altitude_is_taken_while_the_trees_are_read(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        assert "How high" in screen_text(app)
        await pilot.press(*"300")
        await pilot.pause()
        assert "taken as  300 ft" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert READING in screen_text(app)
        await pilot.press("f5")
        await pilot.pause()
        assert "still being read" in screen_text(app)
        read.set()
        await until_begun(app, pilot.pause)
        await pilot.pause()
        assert "Refrigerant?" in screen_text(app)
        assert isinstance(app.talk, Talk)
        assert [event["event"] for event in app.talk.walk.events][-1] == "answered"


async def test_what_is_half_typed_when_the_trees_are_there_stays(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"120")
        read.set()
        await until_begun(app, pilot.pause)
        await pilot.press("0", "enter")
        await pilot.pause()
        assert "Refrigerant?" in screen_text(app)
        assert isinstance(app.talk, Talk)
        assert app.talk.walk.events[-1]["value"]["typed"] == "1200"


async def test_a_wrong_altitude_is_refused_at_once(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "40000 ft")
        assert "NO" in screen_text(app)
        read.set()


async def test_it_can_be_left_before_the_trees_are_there(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        assert not app.is_running or app._exit
    read.set()
    assert isinstance(app.talk, Opening)


class Defect(Exception):
    """Something nobody thought of."""


@pytest.mark.parametrize("problem", [Refused("no", "The trees are broken."), OSError("gone"), Defect("ours")], ids=str)
def test_no_trouble_leaves_the_screen_standing(problem: Exception, monkeypatch: pytest.MonkeyPatch) -> None:
    def prepare() -> object:
        raise problem

    def never(walk: object) -> object:
        raise AssertionError("there is nothing to begin")

    run = LowsideApp.run
    monkeypatch.setattr(LowsideApp, "run", lambda self: run(self, headless=True))
    monkeypatch.setattr(threading, "excepthook", lambda defect: None)
    with pytest.raises(type(problem)) as caught:
        run_start(Start(prepare, never, "US", True))  # type: ignore[arg-type]
    for thread in threading.enumerate():
        if thread.name == "reading the trees":
            thread.join()
    assert caught.value is problem
