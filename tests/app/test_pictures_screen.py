"""The pictures on the screen: the one that has to be worked out comes by itself."""

from __future__ import annotations

import asyncio
import time

import pytest

from tests.app.typist import Typist, app_of, asks, begun, bundled, known_of, screen_text


@pytest.mark.slow
async def test_the_diagram_comes_by_itself_once_it_is_worked_out() -> None:
    app = app_of(begun(bundled()))
    async with app.run_test(size=(80, 24)) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
        await pilot.press("f7", *"pressure-enthalpy", "enter")
        until = time.monotonic() + 60
        while "From liquid to suction it takes up" not in (stands := screen_text(app)):
            assert time.monotonic() < until, stands
            await asyncio.sleep(0.05)
        assert "● measured  ○ wanted" in stands
