"""Home: real files in a home of their own, the real app under a pilot."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from threading import Event

import pytest

from tests.app.house import SITE, SIZES, app_at, front_of, left_open, newer, stands, wait_for_talk
from tests.app.typist import bundled, enter, screen_text, shown
from tui.app.dialogue import REST
from tui.app.home import Home
from tui.app.screen import LowsideApp
from tui.desk.clock import SystemClock
from tui.desk.session import Visit, resume
from tui.record import read
from tui.tree.library import Library
from tui.walk import Walk


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_visit_is_started_left_gone_on_with_and_closed(
    tmp_path: Path, trees: Library, size: tuple[int, int]
) -> None:
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=size) as pilot:
        await stands(app, pilot, "1 no visit is open: start one 2 start a visit")
        await enter(pilot, "2")
        await enter(pilot, "K-7")
        talk = await wait_for_talk(app, pilot)
        assert "a notice" in screen_text(app)
        await enter(pilot, "1")
        await pilot.press("f10")
        await pilot.pause()
        assert app.talk is home
        assert "The visit stays open; number 1 goes on with it." in shown(app, "said")
        await stands(app, pilot, "1 go on with K-7, begun")
        assert "stopped after circuits" in shown(app, "page")
        await enter(pilot, "1")
        again = await wait_for_talk(app, pilot)
        assert again.visit.path == talk.visit.path
        await enter(pilot, "close nobody there")
        await enter(pilot, "yes")
        await pilot.pause()
        assert app.talk is home
        assert "The visit is closed. Its sheet: number 4." in shown(app, "said")
        await stands(app, pilot, "1 no visit is open: start one")
        await enter(pilot, "4")
        await stands(app, pilot, "K-7: closed early (nobody there)")
        await pilot.press("f10")
    assert home.left
    assert talk.visit.path is not None
    assert read(talk.visit.path).state == "whole"


async def test_a_unit_without_a_complaint_has_a_way_in(tmp_path: Path, trees: Library) -> None:
    """Nobody is asked what is wrong with it."""
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "9 start a planned visit: no complaint, a check")
        await enter(pilot, "9")
        await enter(pilot, "K-7")
        talk = await wait_for_talk(app, pilot)
        prompt = talk.walk.prompt
        assert prompt is not None
        assert prompt.tree == "planned-check"
    for visit in home.visits:
        visit.leave()


@pytest.mark.parametrize(("number", "tree"), [("3", "call"), ("4", "planned-check")])
async def test_a_visit_begins_from_the_units_earlier_ones(
    tmp_path: Path, trees: Library, number: str, tree: str
) -> None:
    """And what was left to be done there stands on the page."""
    path = left_open(tmp_path, trees)
    visit = resume(path, trees, SystemClock()).visit
    visit.act(lambda walk: walk.note("the flare sniffed again on the 14th", about="follow-up"))
    visit.leave()
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "3")
        await enter(pilot, "K-7")
        await stands(app, pilot, "open, stopped after circuits")
        await enter(pilot, "1")
        await stands(app, pilot, "3 start a visit to this unit")
        assert "the flare sniffed again on the 14th" in " ".join(shown(app, "page").split())
        await enter(pilot, number)
        talk = await wait_for_talk(app, pilot)
        prompt = talk.walk.prompt
        assert prompt is not None
        assert prompt.tree == tree
        assert talk.walk.events[0]["unit"] == "K-7"
        assert talk.visit.path != path
    for visit in home.visits:
        visit.leave()


async def test_what_is_still_on_is_told_at_home(tmp_path: Path) -> None:
    """Left with a cylinder on: the person hears it before he goes."""
    from tests.review.visits import SMALL

    small = Library.load(SMALL)
    home = Home(front_of(tmp_path))
    walk = Walk.start(small, "small", site=SITE, unit="K-7")
    visit = Visit.begin_in(home.store, walk, SystemClock(), "K-7")
    for answer in ("R-134a", "yes", "14 oz", {"fan": "running", "box-wanted": "35 °F"}):
        visit.act(lambda walk, given=answer: walk.answer(given))  # type: ignore[misc]
    visit.act(lambda walk: walk.acknowledge())
    visit.act(lambda walk: walk.answer("4 psig"))
    visit.act(lambda walk: walk.done())
    assert visit.walk.left_on
    app = LowsideApp(home)
    async with app.run_test(size=(80, 24)) as pilot:
        home.back(visit)
        app.paint()
        await pilot.pause()
        assert "STILL ON" in shown(app, "said")
        assert visit.walk.left_on[0][1] in shown(app, "said")


async def test_nothing_is_looked_at_before_the_screen_stands(tmp_path: Path, trees: Library) -> None:
    (tmp_path / "sessions").write_text("a file where the folder should be", encoding="utf-8")
    home = Home(front_of(tmp_path))
    app = LowsideApp(home)  # without `begin`: as long as nothing was begun
    async with app.run_test(size=(80, 24)):
        assert "2   start a visit" in shown(app, "page")
        assert "cannot list" not in screen_text(app)
    home = Home(front_of(tmp_path))
    app = LowsideApp(home, begin=lambda: home.begin(lambda: trees))
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "cannot list the sessions")
        await enter(pilot, "4")
        assert "cannot list the sessions" in " ".join(shown(app, "said").split())


async def test_one_of_several_goes_on(tmp_path: Path, trees: Library) -> None:
    first = left_open(tmp_path, trees, "K-7")
    left_open(tmp_path, trees, "K-8")
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "1 go on with one of 2, the latest: K-")
        await enter(pilot, "1")
        page = await stands(app, pilot, "K-7: open, stopped after circuits")
        assert "K-8: open, stopped after circuits" in await stands(app, pilot, "K-8: open")
        await enter(pilot, "1" if page.index("K-7") < page.index("K-8") else "2")
        talk = await wait_for_talk(app, pilot)
        assert talk.visit.path == first
    for visit in home.visits:
        visit.leave()


async def test_what_cannot_go_on_is_not_offered(tmp_path: Path, trees: Library) -> None:
    good = left_open(tmp_path, trees)
    sessions = tmp_path / "sessions"
    text = good.read_bytes()
    (sessions / "2099-01-01T0900-K-8-0001.jsonl").write_bytes(b"nothing of ours\n")
    (sessions / "2099-01-02T0900-K-8-0001.jsonl").write_bytes(newer(text))
    (sessions / "2099-01-03T0900-K-8-0001.jsonl").write_bytes(text.replace(b'"K-7"', b'"K-8"', 1))
    (sessions / "2099-01-04T0900-K-8-0001.jsonl").write_bytes(b"")
    (sessions / "zzz.jsonl").write_text("{}\n", encoding="utf-8")
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "1 go on with K-7, begun")


async def test_todays_visits_and_a_sheet(tmp_path: Path, trees: Library) -> None:
    left_open(tmp_path, trees)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "today")
        await stands(app, pilot, "K-7: open, stopped after circuits")
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
    for unit in ("K-7", "K-12", "K-7"):
        left_open(tmp_path, trees, unit)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "3")
        await stands(app, pilot, "K-7: 2 visits, the last")
        await enter(pilot, "K-9")
        assert "There is no visit to 'K-9'." in shown(app, "said")
        await pilot.press("k", "space", "7")
        await pilot.pause(0.05)
        assert "K-7: 2 visits" in shown(app, "said"), "blanks and capitals are no difference"
        await enter(pilot, "k 7")
        page = await stands(app, pilot, "Visits to K-7, the latest first.")
        page = await stands(app, pilot, "open, stopped after circuits")
        for _ in range(400):  # they are looked into one by one
            if page.count("open, stopped after circuits") == 2:
                break
            await pilot.pause(0.05)
            page = screen_text(app)
        assert page.count("open, stopped after circuits") == 2
        await pilot.press("escape")
        await stands(app, pilot, "K-12: ")
        place = next(n for n in ("1", "2") if f"{n}   K-12" in shown(app, "page"))
        await enter(pilot, place)
        await stands(app, pilot, "Visits to K-12")


async def test_a_whole_tag_comes_before_the_beginning_of_another(tmp_path: Path, trees: Library) -> None:
    sessions = tmp_path / "sessions"
    good = left_open(tmp_path, trees).read_bytes()
    for day in range(10, 19):
        (sessions / f"2026-11-{day}T0930-K-{day}-0001.jsonl").write_bytes(good)
    (sessions / "2026-11-01T0930-K-1-0001.jsonl").write_bytes(good)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "3")
        assert "K-1:" not in shown(app, "page"), "it stands among the older ones"
        await enter(pilot, "K-1")
        await stands(app, pilot, "Visits to K-1, the latest first.")


async def test_bad_files_are_listed_and_stop_nothing(tmp_path: Path, trees: Library) -> None:
    good = left_open(tmp_path, trees)
    sessions = tmp_path / "sessions"
    day = SystemClock().today().isoformat()
    torn = sessions / f"{day}T2358-K-7-0001.jsonl"
    torn.write_bytes(good.read_bytes() + b'{"at":"20')
    (sessions / f"{day}T2359-K-7-0002.jsonl").write_bytes(b"\x00\xff nothing of ours\n")
    (sessions / f"{day}T2356-K-7-0004.jsonl").write_bytes(newer(good.read_bytes()))
    (sessions / "not a session.jsonl").write_text("{}\n", encoding="utf-8")
    (sessions / f"{day}T2357-K-7-0003.jsonl").mkdir()
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(100, 30)) as pilot:
        await enter(pilot, "today")
        await stands(app, pilot, "foreign: Not a session file")
        await stands(app, pilot, "TORN, as far as it goes: open, stopped after circuits")
        await stands(app, pilot, "newer: Written in session format 9")
        await enter(pilot, "1")
        assert "go on with it" not in shown(app, "page")
        await enter(pilot, "1")
        assert "NO" in shown(app, "said")
        assert "Traceback" not in screen_text(app)


async def test_three_hundred_sessions_are_paged(tmp_path: Path, trees: Library) -> None:
    good = left_open(tmp_path, trees).read_bytes()
    day = SystemClock().today().isoformat()
    for number in range(300):
        (tmp_path / "sessions" / f"{day}T{number // 60:02}{number % 60:02}-U-{number:04x}.jsonl").write_bytes(good)
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "go on with one of 301, the latest: K-7")
        await enter(pilot, "today")
        first = await stands(app, pilot, "7 older ones")
        await stands(app, pilot, "04:55 K-7: open, stopped after circuits")
        assert "7   older ones" in shown(app, "page"), "all of it fits"
        await enter(pilot, "7")
        assert await stands(app, pilot, "7 older ones") != first


async def test_a_visit_open_elsewhere_is_told_of(tmp_path: Path, trees: Library) -> None:
    path = left_open(tmp_path, trees)
    held = resume(path, trees, SystemClock())
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "1 go on with K-7")
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
        await stands(app, pilot, "K-7: open")
        await pilot.press("escape")
        await enter(pilot, "1")
        await pilot.pause(0.2)
        assert app.talk is home
        assert "both-low.yaml:3:1" in shown(app, "said")


async def test_a_walk_that_waits_for_its_trees_can_be_left(tmp_path: Path, trees: Library) -> None:
    read_now = Event()

    def slow() -> Library:
        assert read_now.wait(20)
        return trees

    home = Home(front_of(tmp_path))
    app = LowsideApp(home, begin=lambda: home.begin(slow))
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "2")
        await enter(pilot, "K-7")
        assert "Reading the trees ..." in shown(app, "page")
        await enter(pilot, "2")
        assert "One moment" in shown(app, "said")
        await pilot.press("f9")
        assert "Reading the trees ..." in shown(app, "page")
        await pilot.press("escape")
        await pilot.pause()
        assert "What now?" in shown(app, "page")
        read_now.set()
        await pilot.pause(0.3)
        assert app.talk is home, "nothing is wished for any more"
        await enter(pilot, "2")
        await enter(pilot, "K-8")
        talk = await wait_for_talk(app, pilot)
        assert talk.walk.events[0]["unit"] == "K-8"
    for visit in home.visits:
        visit.leave()


async def test_the_demo_is_asked_for(tmp_path: Path, trees: Library) -> None:
    app, home = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "7")
    assert home.demo
    assert home.left
    assert not (tmp_path / "sessions").exists()


async def test_every_number_leads_somewhere_at_every_size(tmp_path: Path, trees: Library) -> None:
    """Keys only; ESC comes back from each; nothing is too wide or hidden."""
    left_open(tmp_path, trees)
    for size in SIZES:
        app, _ = app_at(tmp_path, trees)
        async with app.run_test(size=size) as pilot:
            await stands(app, pilot, "1 go on with K-7")
            for number, words in (("2", "Which unit is it?"), ("3", "Which unit?"), ("4", "Today's visits"),
                                  ("5", "sums"), ("6", "Which setting?")):
                await pilot.press(number, "enter")
                await stands(app, pilot, words)
                assert "more below" not in shown(app, "page")
                await pilot.press("escape")
                await stands(app, pilot, "8 leave")
                await pilot.pause(REST + 0.05)


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_what_lies_over_the_trees_of_lowside_stands_at_home(tmp_path: Path, size: tuple[int, int]) -> None:
    said = "Installed trees, edition 2 of 2026-11-30; approved by lead-2; door-check 1; digest 7c493f28c2e0."
    home = Home(replace(front_of(tmp_path), laid_over=lambda: (said,)))
    home.look()
    app = LowsideApp(home)
    async with app.run_test(size=size) as pilot:
        await stands(app, pilot, "approved by lead-2")
        await stands(app, pilot, "8 leave")


async def test_with_nothing_open_the_first_choice_starts_a_visit(tmp_path: Path, trees: Library) -> None:
    app, _ = app_at(tmp_path, trees)
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "1 no visit is open: start one")
        await enter(pilot, "1")
        assert "Which unit is it?" in shown(app, "page")
