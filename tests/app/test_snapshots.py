"""Every screen at three sizes, letter by letter; ``pytest --snapshot-update`` after a change that was meant."""

from __future__ import annotations

import asyncio
import time
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from tests.app.drawn import walk_to
from tests.app.scenes import SCENES, app_for, play
from tests.app.test_preview import preview, save
from tests.app.typist import Typist, app_of, asks, begun, bundled, known_of, screen_text
from tests.record.helpers import HandClock
from tui.app.demo import Demo
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.session import Visit

SIZES = ((80, 24), (100, 30), (140, 45))


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("name", SCENES)
async def test_screen(name: str, size: tuple[int, int], tmp_path: Path, snapshot: SnapshotAssertion) -> None:
    app, typist = app_for(name, tmp_path)
    async with app.run_test(size=size) as pilot:
        await play(name, pilot, typist)
        stands = screen_text(app)
    assert all(len(line) <= size[0] for line in stands.splitlines())
    assert stands == snapshot


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_the_demo_as_it_begins(size: tuple[int, int], snapshot: SnapshotAssertion) -> None:
    app = Demo(bundled(), pace="slow")
    async with app.run_test(size=size) as pilot:
        await pilot.press("x")  # stopped, so that nothing is typed meanwhile
        await pilot.pause()
        assert screen_text(app) == snapshot


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_preview_of_broken_trees(size: tuple[int, int], folder: Path, snapshot: SnapshotAssertion) -> None:
    save(folder, "- ask: door\n", "- ask: dor\n")
    app = preview(folder)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert screen_text(app) == snapshot


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_the_places_searched(size: tuple[int, int], snapshot: SnapshotAssertion) -> None:
    app = LowsideApp(Talk(Visit(walk_to("call-leak", "clear-the-air"), HandClock())))
    async with app.run_test(size=size) as pilot:
        await pilot.press("f7", *"places", "enter")
        await pilot.pause()
        assert screen_text(app) == snapshot


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_pressure_against_enthalpy(size: tuple[int, int], snapshot: SnapshotAssertion) -> None:
    app = app_of(begun(bundled(), clock=HandClock()))
    async with app.run_test(size=size) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
        await pilot.press("f7", *"pressure-enthalpy", "enter")
        until = time.monotonic() + 60
        while "From liquid to suction it takes up" not in screen_text(app):
            assert time.monotonic() < until, screen_text(app)
            await asyncio.sleep(0.05)
        assert screen_text(app) == snapshot


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("lines", [("4",), ("3", "K-12")], ids=["today", "a-unit"])
async def test_homes_lists(
    lines: tuple[str, ...], size: tuple[int, int], tmp_path: Path, snapshot: SnapshotAssertion
) -> None:
    app, _ = app_for("home", tmp_path)
    async with app.run_test(size=size) as pilot:
        for line in lines:
            await pilot.press(*line, "enter")
        until = time.monotonic() + 20
        while app.talk.ticking and time.monotonic() < until:  # the files are looked into one by one
            await pilot.pause(0.05)
        await pilot.pause(0.6)
        assert screen_text(app) == snapshot
