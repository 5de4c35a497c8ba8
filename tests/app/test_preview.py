"""The preview: a saved edit is on the screen at once, a mistake stands in place of the step, answers are kept."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.test_terminal import Person
from tests.app.typist import enter, screen_text
from tests.record.helpers import HandClock
from tui.app.preview import BrokenTalk, Preview
from tui.tree.library import Library
from tui.walk import Walk

SITE = {"altitude": "300 ft", "today": "2026-11-25"}


def preview(folder: Path) -> Preview:
    def start(library: Library) -> Walk:
        return Walk.start(library, "small", site=SITE)

    return Preview([folder], lambda: Library.load(folder), start, HandClock())


def save(folder: Path, old: str, new: str, file: str = "small.yaml") -> None:
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


async def comes(pilot: Pilot[None], words: str) -> str:
    """Waits until the words stand on the screen."""
    until = time.monotonic() + 30
    while words not in (stands := screen_text(pilot.app)):  # type: ignore[arg-type]
        assert time.monotonic() < until, f"{words!r} never came:\n{stands}"
        await pilot.pause(0.05)
    await pilot.pause(0.05)  # it may have been read before the rest of the page was laid out
    return screen_text(pilot.app)  # type: ignore[arg-type]


async def test_what_is_saved_is_on_the_screen_and_the_answers_are_kept(folder: Path) -> None:
    app = preview(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "R-134a")
        await comes(pilot, "Does the door close?")
        save(folder, "Does the door close?", "Does the door shut tight?", "catalogue/readings.yaml")
        stands = await comes(pilot, "Does the door shut tight?")
        assert "1 answer kept" in stands
        assert "PREVIEW: nothing is kept" in stands
        assert "R-134a" in stands
        assert list(folder.parent.rglob("*.jsonl")) == []


async def test_a_mistake_stands_in_place_of_the_step_until_it_is_mended(folder: Path) -> None:
    app = preview(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "R-134a")
        save(folder, "  by: fan\n", "  by: fann\n")
        stands = await comes(pilot, "The trees do not hold")
        assert "small.yaml, line 13, column 7" in stands
        assert "by: fann" in stands
        assert "Did you mean `fan`?" in " ".join(stands.split())
        await pilot.press("1", "enter", "f3")
        assert isinstance(app.talk, BrokenTalk)
        save(folder, "  by: fann\n", "  by: fan\n")
        assert "Does the door close?" in await comes(pilot, "Read again")


async def test_what_stands_there_of_before_the_save_says_so_at_once(folder: Path) -> None:
    """While the trees are still being read."""
    go = threading.Event()
    go.set()

    def read() -> Library:
        assert go.wait(30)
        return Library.load(folder)

    app = Preview([folder], read, lambda library: Walk.start(library, "small", site=SITE), HandClock())
    async with app.run_test(size=(80, 24)) as pilot:
        assert "Reading again" not in await comes(pilot, "Refrigerant?")
        go.clear()
        save(folder, "  by: fan\n", "  by: fann\n")
        assert "Refrigerant?" in await comes(pilot, "Reading again ...")
        go.set()
        assert "Reading again" not in await comes(pilot, "The trees do not hold")
        go.clear()
        save(folder, "  by: fann\n", "  by: fan\n")
        stands = await comes(pilot, "Saved. Reading again ...")
        assert "The trees do not hold" not in stands
        go.set()
        assert "Reading again" not in await comes(pilot, "Read again")


async def test_it_begins_with_broken_trees_too(folder: Path) -> None:
    save(folder, "- ask: door\n", "- ask: dor\n")
    app = preview(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await comes(pilot, "Did you mean `door`?")
        save(folder, "- ask: dor\n", "- ask: door\n")
        await comes(pilot, "Refrigerant?")


async def test_an_answer_that_fits_no_more_is_said_and_kept_for_later(folder: Path) -> None:
    app = preview(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        for line in ("R-134a", "yes"):
            await enter(pilot, line)
        await comes(pilot, "Charge?")
        save(folder, "- ask: door\n", "- ask: line\n  why: First of all.\n- ask: door\n")
        stands = await comes(pilot, "Line?")
        assert "1 answer kept; 1 not asked for now" in stands
        await enter(pilot, "40 °F")
        await comes(pilot, "Charge?")


@pytest.mark.slow
def test_an_edit_is_picked_up_in_a_real_terminal(tmp_path: Path, folder: Path) -> None:
    person = Person(tmp_path, "preview", str(folder / "small.yaml"))
    person.sees("How high")
    person.types("300 ft")
    person.sees("Refrigerant?")
    person.types("R-134a")
    person.sees("Does the door close?")
    save(folder, "Does the door close?", "Does the door shut tight?", "catalogue/readings.yaml")
    person.sees("Does the door shut tight?")
    save(folder, "- ask: door\n", "\t- ask: door\n")
    person.sees("The trees do not hold")
    save(folder, "\t- ask: door\n", "- ask: door\n")
    person.sees("Does the door shut tight?")
    person.process.write(b"\x1b[21~")  # F10
    assert person.ends() == 0
    assert list(tmp_path.rglob("*.jsonl")) == []
