"""Every screen at three sizes, letter by letter; ``pytest --snapshot-update`` after a change that was meant."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from tests.app.scenes import SCENES, app_for, play
from tests.app.typist import screen_text

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
