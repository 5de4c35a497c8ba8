"""While the trees are read: the screen stands, takes the unit's tag, can be left, and never hangs."""

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
    opening = Opening()

    def begin() -> Callable[[], Talk]:
        assert read.wait(10)

        def made() -> Talk:
            return Talk(begun(small, "small", clock=HandClock(), unit=opening.unit))

        return made

    return LowsideApp(opening, begin=begin)


async def until_begun(app: LowsideApp, pause: Callable[[float], object]) -> None:
    for _ in range(200):
        if isinstance(app.talk, Talk):
            return
        await pause(0.02)  # type: ignore[misc]
    raise AssertionError("the walk never began")


async def test_the_tag_is_taken_while_the_trees_are_read(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        assert "Which unit is it?" in screen_text(app)
        await pilot.press(*"K-12")
        await pilot.pause()
        assert "unit  K-12" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert READING in screen_text(app)
        await pilot.press("f5")
        await pilot.pause()
        assert "not begun yet" in screen_text(app)
        read.set()
        await until_begun(app, pilot.pause)
        await pilot.pause()
        assert "Refrigerant?" in screen_text(app)
        assert isinstance(app.talk, Talk)
        assert app.talk.walk.events[0]["unit"] == "K-12"


async def test_the_walk_waits_for_the_tag(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        read.set()
        await pilot.press(*"K-1")
        await pilot.pause(0.1)
        assert isinstance(app.talk, Opening)
        await pilot.press("2", "enter")
        await until_begun(app, pilot.pause)
        await pilot.press(*"134")
        await pilot.pause()
        assert "Refrigerant?" in screen_text(app)
        assert isinstance(app.talk, Talk)
        assert app.talk.walk.events[0]["unit"] == "K-12"


async def test_no_tag_is_an_answer_too(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        read.set()
        await pilot.press("enter")
        await until_begun(app, pilot.pause)
        assert isinstance(app.talk, Talk)
        assert app.talk.walk.events[0]["unit"] == ""


async def test_a_tag_too_long_is_refused_at_once(app: LowsideApp, read: threading.Event) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "x" * 61)
        assert "NO" in screen_text(app)
        read.set()
        await pilot.pause(0.1)
        assert isinstance(app.talk, Opening)


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

    def never(library: object, unit: str) -> object:
        raise AssertionError("there is nothing to begin")

    run = LowsideApp.run
    monkeypatch.setattr(LowsideApp, "run", lambda self: run(self, headless=True))
    monkeypatch.setattr(threading, "excepthook", lambda defect: None)
    with pytest.raises(type(problem)) as caught:
        run_start(Start(prepare, never, ""))  # type: ignore[arg-type]
    for thread in threading.enumerate():
        if thread.name == "reading the trees":
            thread.join()
    assert caught.value is problem
