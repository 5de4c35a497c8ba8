"""The demo: its script leads to its finding on today's trees; a key stops it; it can be taken over; nothing is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.typist import bundled, screen_text, shown
from tui.app.demo import PACES, Demo, DemoClock, DemoTalk, Player, Script, begin
from tui.app.modes import Asked
from tui.desk.session import Visit
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.fixture(autouse=True)
def at_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(PACES, "quick", (0.001, 0.001, 0.001))
    monkeypatch.setattr("tui.app.dialogue.REST", 0.0)


def test_the_script_leads_to_its_finding(trees: Library) -> None:
    script, clock = Script.read(), DemoClock()
    player = Player(script)
    talk = DemoTalk(Visit(begin(trees, script), clock))
    told, lines = set(), []
    for _ in range(200):
        prompt = talk.walk.prompt
        if prompt is None:
            break
        if isinstance(talk.mode, Asked):
            told.add(player.says(prompt))
        if prompt.kind == "wait":
            clock.skipped += 10_000
        line = player.line(prompt) if isinstance(talk.mode, Asked) or talk.in_aside else ""
        lines.append(line)
        clock.skipped += 1
        assert talk.enter(line), (prompt, line, talk.said)
    assert talk.walk.prompt is None, "it comes to an end"
    assert talk.walk.findings[-1].at == "restriction/it-is-the-drier"
    assert [e["event"] for e in talk.walk.events].count("corrected") == 1, "the slip is mended before all eyes"
    assert [line for line in lines if line.startswith("couldn't")] == ["couldn't nobody knows"], "only what it says so"
    assert set(script.says.values()) <= told, "each of its remarks is shown"


async def test_it_plays_by_itself_and_keeps_nothing(trees: Library, at_once: None, at_home: Path) -> None:
    app = Demo(trees, pace="quick")
    async with app.run_test(size=(80, 24)) as pilot:
        for _ in range(400):
            await pilot.pause(0.05)
            if not app.playing:
                break
        assert "Filter drier blocked" in screen_text(app)
        assert "DEMO: all of it invented" in screen_text(app).splitlines()[0]
        await pilot.press("f10")
    assert not list(at_home.rglob("*.jsonl"))


async def test_any_key_stops_it_and_enter_plays_on(trees: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(PACES, "quick", (0.001, 0.001, 0.3))
    app = Demo(trees, pace="quick")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.1)
        await pilot.press("x")
        await pilot.pause(0.5)
        assert "Stopped." in shown(app, "said")
        before = len(app.talk.walk.events)  # type: ignore[attr-defined]
        await pilot.pause(0.5)
        assert len(app.talk.walk.events) == before  # type: ignore[attr-defined]
        await pilot.press("enter")
        for _ in range(40):
            await pilot.pause(0.1)
            if len(app.talk.walk.events) > before + 2:  # type: ignore[attr-defined]
                break
        else:
            raise AssertionError("it does not play on")


async def test_it_is_taken_over(trees: Library) -> None:
    app = Demo(trees, pace="slow")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("x", "t")
        await pilot.pause()
        assert "It is yours now. Nothing of it is kept." in shown(app, "said")
        await pilot.press(*"1", "enter")
        await pilot.pause()
        assert "circuits: main" in shown(app, "said")
        await pilot.press("f10")
    assert not app.playing


def test_no_real_firm_and_marked_as_invented() -> None:
    text = Path(__file__).resolve().parents[2].joinpath("tui/app/demo.yaml").read_text(encoding="utf-8")
    assert "Everything in it is invented" in text
