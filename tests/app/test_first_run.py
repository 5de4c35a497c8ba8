"""The first run and the settings at home: asked little, checked at once, written whole or not at all."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.app.house import app_at, front_of
from tests.app.typist import bundled, enter, screen_text, shown
from tui.app.dialogue import REST
from tui.app.home import Home
from tui.app.screen import LowsideApp
from tui.app.setting import INSTRUMENTS
from tui.desk.settings import load
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


def test_the_instruments_that_are_offered_are_in_the_catalogue(trees: Library) -> None:
    assert set(INSTRUMENTS) <= set(trees.catalogue.instruments)


async def test_settings_are_checked_and_kept(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "settings")
        await enter(pilot, "altitude")
        await enter(pilot, "high")
        assert "NO" in shown(app, "said")
        await enter(pilot, "300 m")
        assert "altitude     300 m" in shown(app, "page")
        await enter(pilot, "theme")
        await enter(pilot, "sunlight")
        assert app.theme == "sunlight"
        await enter(pilot, "instruments")
        await enter(pilot, "scale")
        await enter(pilot, "0 g")
        assert "says that it is never" in shown(app, "said")
        await enter(pilot, "5 g")
        assert "scale        5 g" in shown(app, "page")
        await enter(pilot, "scale")
        await enter(pilot, "-")
        assert "scale        as usual" in shown(app, "page")
        await enter(pilot, "scale")
        await enter(pilot, "5 g")
        await enter(pilot, "the days")
        await enter(pilot, "clamp")
        await enter(pilot, "2026-10-01")
        assert "clamp        2026-10-01" in shown(app, "page")
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert "instruments  2 set by you" in shown(app, "page"), "also when it is come back to by ESC"
    kept = load(tmp_path / "settings.yaml")
    assert kept.theme == "sunlight"
    assert kept.calibrations == {"clamp": "2026-10-01"}
    assert kept.altitude is not None
    assert kept.altitude.typed == "300 m"


async def test_the_first_run_asks_four_things_and_writes_once(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "1 of 4" in shown(app, "page")
        await enter(pilot, "SI")
        await pilot.press(*"90")
        await pilot.pause()
        assert "90 m" in shown(app, "said"), "a number alone is in the units just chosen"
        await enter(pilot, "90")
        await enter(pilot, "EU")
        assert not (tmp_path / "settings.yaml").exists()
        await enter(pilot, "1")
        assert "What now?" in shown(app, "page")
    kept = load(tmp_path / "settings.yaml")
    assert (kept.units, kept.region) == ("SI", "EU")
    assert kept.altitude is not None
    assert kept.altitude.typed == "90 m"


@pytest.mark.parametrize("way", ["escape", "later"])
async def test_the_first_run_is_skipped_and_not_asked_again(tmp_path: Path, trees: Library, way: str) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "SI")
        if way == "escape":
            await pilot.press("escape")
            await pilot.pause()
        else:
            await enter(pilot, "later")
        assert "What now?" in shown(app, "page")
    again, _ = app_at(tmp_path, trees, known=False)
    async with again.run_test(size=(80, 24)):
        assert "What now?" in shown(again, "page")
    assert load(tmp_path / "settings.yaml").units == "SI", "what was answered is kept"


async def test_skipped_at_the_last_question_all_answers_are_kept(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        for line in ("SI", "90", "EU"):
            await enter(pilot, line)
        assert "what you answered is kept" in shown(app, "page")
        await pilot.press("escape")
        await pilot.pause()
        assert "kept in your settings" in " ".join(shown(app, "said").split())
    kept = load(tmp_path / "settings.yaml")
    assert (kept.units, kept.region) == ("SI", "EU")
    assert kept.altitude is not None
    assert kept.altitude.typed == "90 m"


async def test_f3_goes_back_one_question(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        for line in ("US", "12", "EU"):
            await enter(pilot, line)
        for count in ("3 of 4", "2 of 4", "1 of 4", "1 of 4"):
            await pilot.press("f3")
            await pilot.pause()
            assert count in shown(app, "page")
        for line in ("SI", "300", "UK", "1"):
            await enter(pilot, line)
    kept = load(tmp_path / "settings.yaml")
    assert kept.altitude is not None
    assert (kept.units, kept.region, kept.altitude.typed) == ("SI", "UK", "300 m")


async def test_what_enter_alone_takes_is_marked(tmp_path: Path, trees: Library) -> None:
    app, home = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        assert home.mark == 0, "from the beginning"
        await pilot.press("2")
        await pilot.pause()
        assert home.mark == 1
        await pilot.press("backspace")
        await pilot.pause()
        assert home.mark == 0, "and again once the line is empty"


async def test_a_slip_in_the_first_run_is_told_at_once(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "1")
        await pilot.press(*"high")
        await pilot.pause()
        assert "NO" in shown(app, "said")
        await enter(pilot, "high")
        assert "2 of 4" in shown(app, "page")
        await pilot.pause(REST + 0.05)
        await enter(pilot, "")
        assert "3 of 4" in shown(app, "page"), "Enter alone: the altitude is asked at each visit"


@pytest.mark.parametrize(("units", "region"), [("", "US"), ("SI", "")], ids=["US", "SI"])
async def test_enter_alone_takes_what_is_marked(tmp_path: Path, trees: Library, units: str, region: str) -> None:
    """Nobody's rules are guessed from metric units."""
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        for line in (units, "", "", ""):
            await pilot.pause(REST + 0.05)
            await enter(pilot, line)
        assert "What now?" in shown(app, "page")
    kept = load(tmp_path / "settings.yaml")
    assert (kept.units, kept.region, kept.altitude) == (units or "US", region, None)


async def test_a_number_that_can_be_two_is_asked_again(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "1")
        await enter(pilot, "1,200")
        assert "Type 1200" in " ".join(shown(app, "said").split())
        assert "2 of 4" in shown(app, "page")
        for line in ("-30.5", "1", "1"):
            await enter(pilot, line)
    altitude = load(tmp_path / "settings.yaml").altitude
    assert altitude is not None
    assert altitude.typed == "-30.5 ft"


async def test_settings_that_cannot_be_written_stop_nothing(tmp_path: Path, trees: Library) -> None:
    (tmp_path / "sub").write_text("a file where the folder should be", encoding="utf-8")
    home = Home(replace(front_of(tmp_path, known=False), settings=tmp_path / "sub" / "settings.yaml"))
    app = LowsideApp(home, begin=lambda: home.begin(lambda: trees))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        assert "What now?" in shown(app, "page")
        assert "NO" in shown(app, "said")
        assert "settings.yaml" in "".join(shown(app, "said").split())


async def test_leaving_the_first_run_by_f10_writes_nothing(tmp_path: Path, trees: Library) -> None:
    app, home = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "SI")
        await pilot.press("f10")
        await pilot.pause()
    assert home.left
    assert not (tmp_path / "settings.yaml").exists()


@pytest.mark.parametrize("units", ["US", "SI"])
async def test_what_is_asked_is_read_whole_on_a_narrow_screen(tmp_path: Path, trees: Library, units: str) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, units)
        assert "Enter alone: asked each time " in screen_text(app)
        assert ("300 ft" if units == "US" else "90 m") in screen_text(app)
        await enter(pilot, "90")
        await enter(pilot, "EU")
        assert "Your instruments" in shown(app, "page")
        assert ("psi" in shown(app, "page")) == (units == "US")
