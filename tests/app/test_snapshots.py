"""Every screen at three sizes, letter by letter; ``pytest --snapshot-update`` after a change that was meant."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from tests.app.scenes import SCENES, app_for, play
from tests.app.test_preview import preview, save
from tests.app.typist import bundled, screen_text
from tui.app.demo import Demo

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
