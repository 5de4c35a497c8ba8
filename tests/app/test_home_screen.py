"""Home and the first run: real files in a home of their own, the real app under a pilot."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.typist import bundled, enter, screen_text, shown
from tui.app.dialogue import REST
from tui.app.front import Begun, Front
from tui.app.home import Home
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.clock import SystemClock
from tui.desk.session import Visit, resume
from tui.desk.settings import load
from tui.desk.store import Store
from tui.record import read
from tui.tree.library import Library
from tui.walk import Walk

SIZES = ((80, 24), (100, 30), (140, 45))
SITE = {"altitude": "300 ft", "today": "2026-11-25"}


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


def front_of(folder: Path, *, known: bool = True) -> Front:
    if known:
        (folder / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")
    store = Store(folder / "sessions")

    def start(library: Library, unit: str) -> Begun:
        walk = Walk.start(library, "call", site=SITE, unit=unit)
        return Visit.begin_in(store, walk, SystemClock(), unit), ("a notice",)

    def again(library: Library, path: Path) -> Begun:
        resumed = resume(path, library, SystemClock())
        return resumed.visit, resumed.notices

    today = SystemClock().today().isoformat()
    return Front(folder / "sessions", folder / "settings.yaml", today, start, again)


def app_at(folder: Path, trees: Library, *, known: bool = True) -> tuple[LowsideApp, Home]:
    home = Home(front_of(folder, known=known))
    return LowsideApp(home, begin=lambda: lambda: home.make(trees)), home


def left_open(folder: Path, trees: Library, unit: str = "K-7") -> Path:
    visit, _ = front_of(folder).start(trees, unit)
    visit.act(lambda walk: walk.answer({"circuits": "1"}))
    visit.leave()
    assert visit.path is not None
    return visit.path


async def wait_for_talk(app: LowsideApp, pilot: object) -> Talk:
    for _ in range(100):
        await pilot.pause(0.05)  # type: ignore[attr-defined]
        if isinstance(app.talk, Talk):
            return app.talk
    raise AssertionError(screen_text(app))


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_visit_is_started_left_gone_on_with_and_closed(
    tmp_path: Path, trees: Library, size: tuple[int, int]
) -> None:
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=size) as pilot:
        assert "1   start a visit" in screen_text(app)
        await enter(pilot, "start")
        await enter(pilot, "K-7")
        talk = await wait_for_talk(app, pilot)
        assert "a notice" in screen_text(app)
        await enter(pilot, "1")
        await pilot.press("f10")
        await pilot.pause()
        assert app.talk is home
        assert "1   go on with K-7" in screen_text(app)
        await enter(pilot, "1")
        again = await wait_for_talk(app, pilot)
        assert again.visit.path == talk.visit.path
        await enter(pilot, "close nobody there")
        await pilot.pause()
        assert app.talk is home
        assert "The visit is closed." in screen_text(app)
        assert "go on with" not in screen_text(app)
        await pilot.press("f10")
    assert home.left
    assert talk.visit.path is not None
    assert read(talk.visit.path).state == "whole"


async def test_todays_visits_and_a_sheet(tmp_path: Path, trees: Library) -> None:
    left_open(tmp_path, trees)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "today")
        assert "K-7: open, nothing found" in shown(app, "page")
        await enter(pilot, "1")
        assert "2   go on with it" in shown(app, "page")
        await enter(pilot, "1")
        assert "SERVICE SHEET" in shown(app, "page")
        await pilot.pause(REST + 0.05)
        await enter(pilot, "")
        assert "go on with it" in shown(app, "page")
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert "What now?" in shown(app, "page")


async def test_a_units_visits(tmp_path: Path, trees: Library) -> None:
    for unit in ("K-7", "K-8", "K-7"):
        left_open(tmp_path, trees, unit)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "a unit")
        assert "K-7, 2 visits, the last" in shown(app, "page")
        place = next(n for n in ("1", "2") if f"{n}   K-7" in shown(app, "page"))
        await enter(pilot, place)
        assert "Visits to K-7, the latest first." in shown(app, "page")
        assert shown(app, "page").count("open, nothing found") == 2


async def test_bad_files_are_listed_and_stop_nothing(tmp_path: Path, trees: Library) -> None:
    good = left_open(tmp_path, trees)
    sessions = tmp_path / "sessions"
    day = SystemClock().today().isoformat()
    torn = sessions / f"{day}T2358-K-7-0001.jsonl"
    torn.write_bytes(good.read_bytes() + b'{"at":"20')
    (sessions / f"{day}T2359-K-7-0002.jsonl").write_bytes(b"\x00\xff nothing of ours\n")
    (sessions / "not a session.jsonl").write_text("{}\n", encoding="utf-8")
    (sessions / f"{day}T2357-K-7-0003.jsonl").mkdir()
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(100, 30)) as pilot:
        await enter(pilot, "today")
        page = shown(app, "page")
        assert "foreign:" in page
        assert "TORN, as far as it goes: nothing found" in page
        await enter(pilot, "1")
        await enter(pilot, "1")
        assert "NO" in shown(app, "said") or "foreign" in screen_text(app)
        assert "Traceback" not in screen_text(app)


async def test_three_hundred_sessions_are_paged(tmp_path: Path, trees: Library) -> None:
    good = left_open(tmp_path, trees).read_bytes()
    day = SystemClock().today().isoformat()
    for number in range(300):
        (tmp_path / "sessions" / f"{day}T{number // 60:02}{number % 60:02}-U-{number:04x}.jsonl").write_bytes(good)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "19 more" in shown(app, "page")
        await enter(pilot, "today")
        assert "older ones" in shown(app, "page")
        first = shown(app, "page")
        await enter(pilot, "older")
        assert shown(app, "page") != first
        assert "older ones" in shown(app, "page")


async def test_a_visit_open_elsewhere_is_told_of(tmp_path: Path, trees: Library) -> None:
    path = left_open(tmp_path, trees)
    held = resume(path, trees, SystemClock())
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "1")
        for _ in range(20):
            await pilot.pause(0.05)
        assert app.talk is home
        assert "NO" in shown(app, "said")
        assert "start a visit" in shown(app, "page")
    held.visit.leave()


async def test_trees_that_cannot_be_read_stop_walks_only(tmp_path: Path, trees: Library) -> None:
    from tui.quantity import Refused

    left_open(tmp_path, trees)
    home = Home(front_of(tmp_path))

    def broken() -> object:
        raise Refused("broken", "both-low.yaml:3:1: no title.", "Mend it.")

    app = LowsideApp(home, begin=broken)  # type: ignore[arg-type]
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.5)
        assert "both-low.yaml:3:1" in shown(app, "said")
        await enter(pilot, "today")
        assert "K-7" in shown(app, "page")
        await pilot.press("escape")
        await enter(pilot, "1")
        await pilot.pause(0.2)
        assert app.talk is home
        assert "both-low.yaml:3:1" in shown(app, "said")


# ---- settings and the first run


async def test_settings_are_checked_and_kept(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "settings")
        await enter(pilot, "altitude")
        await enter(pilot, "high")
        assert "NO" in shown(app, "said")
        await enter(pilot, "300 m")
        assert "altitude    300 m" in shown(app, "page")
        await enter(pilot, "theme")
        await enter(pilot, "sunlight")
        assert app.theme == "sunlight"
        await enter(pilot, "instruments")
        await enter(pilot, "scale")
        await enter(pilot, "5 g")
        assert "scale       5 g" in shown(app, "page")
        await enter(pilot, "scale")
        await enter(pilot, "-")
        assert "scale       as usual" in shown(app, "page")
    kept = load(tmp_path / "settings.yaml")
    assert kept.theme == "sunlight"
    assert kept.altitude is not None
    assert kept.altitude.typed == "300 m"


async def test_the_first_run_asks_four_things_and_writes_once(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees, known=False)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "1 of 4" in shown(app, "page")
        await enter(pilot, "SI")
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
    assert load(tmp_path / "settings.yaml").units == "US", "nothing half done is kept"


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
