"""Every screen worth a look, as a person comes to it; the visit is invented."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from pathlib import Path

from textual.pilot import Pilot

from tests.app.typist import Typist, app_of, begun, bundled, known_of
from tests.record.helpers import HandClock
from tui.app.front import Begun, Front
from tui.app.home import Home
from tui.app.screen import LowsideApp
from tui.quantity import Refused
from tui.walk import Prompt

Scene = Callable[[Pilot[None], Typist], Awaitable[None]]


def at(step: str) -> Callable[[Prompt], bool]:
    return lambda prompt: step in (prompt.step, prompt.kind) or any(each.id == step for each in prompt.readings[:1])


async def to(pilot: Pilot[None], typist: Typist, step: str) -> None:
    await typist.walk(pilot, at(step))
    if pilot.app.talk.walk.prompt is None:  # type: ignore[attr-defined]
        raise SystemExit(f"The walk never came to {step}: take another step for this picture.")


async def _choices(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "frost-pattern")
    await pilot.press("2")


async def _echo(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press(*"8.2")


async def _caution(pilot: Pilot[None], typist: Typist) -> None:
    await typist.walk(pilot, lambda prompt: len(prompt.cautions) > 2)


async def _wait(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "settle")
    clock = pilot.app.talk.visit.clock  # type: ignore[attr-defined]
    clock.seconds += 111
    await pilot.pause(0.6)


async def _table(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "adding-allowed")


async def _refused(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press(*"8.2", "space", *"oz", "enter")


async def _close_call(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "close-call")


async def _finding(pilot: Pilot[None], typist: Typist) -> None:
    await typist.walk(pilot)


async def _help(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f1")


async def _correct(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "adding-allowed")
    await pilot.press("f4", *"suction", "enter", *"16", "enter")


async def _details(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "settle")
    await pilot.press("f5")


async def _board(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f8", *"8.2")


async def _menu(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f12", "down", "down")


async def _back(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "adding-allowed")
    await pilot.press("f3")


async def _keypad(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f19", *"8.2")


async def _test(pilot: Pilot[None], typist: Typist) -> None:
    await _picture(pilot, typist, "weighed test")


async def _ladder(pilot: Pilot[None], typist: Typist) -> None:
    await _picture(pilot, typist, "temperatures")


async def _picture(pilot: Pilot[None], typist: Typist, words: str) -> None:
    rounds = 0

    def at_the_second_round(prompt: Prompt) -> bool:
        nonlocal rounds
        rounds += prompt.step == "add-a-little"
        return rounds > 1

    await typist.walk(pilot, at_the_second_round)
    await pilot.press("f7", *(letter if letter != " " else "space" for letter in words), "enter")


async def _working(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "adding-allowed")
    await pilot.press("f6", *"superheat", "space", *"level", "enter")


async def _sums(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f9", "3", "enter", *"12", "enter", *"35")


async def _map(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "adding-allowed")
    await pilot.press(*"map", "enter")


async def _couldnt(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f2")


async def _own(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press(*"own", "enter")


async def _note(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press("f11", *"hose", "space", *"leaks")


async def _overrule(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "close-call")
    await pilot.press(*"overrule", "enter")


async def _cut_short(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "settle")
    await pilot.press(*"skip", "enter")


async def _colours(pilot: Pilot[None], typist: Typist) -> None:
    await to(pilot, typist, "suction")
    await pilot.press(*"colours", "enter")


async def _leaving(pilot: Pilot[None], typist: Typist) -> None:
    await typist.walk(pilot)
    await pilot.press("enter")


async def _settings(pilot: Pilot[None], typist: Typist) -> None:
    await pilot.press(*"settings", "enter")


async def _nothing(pilot: Pilot[None], typist: Typist) -> None:
    await pilot.pause()


CLOSE = {"suction": "13.3 psig"}  # evaporating within the gauge's error of where low begins
SCENES: dict[str, tuple[Scene, dict[str, str]]] = {
    "first": (_nothing, {}),
    "choices": (_choices, {}),
    "echo": (_echo, {}),
    "refused": (_refused, {}),
    "caution": (_caution, {}),
    "wait": (_wait, {}),
    "table": (_table, {}),
    "close-call": (_close_call, CLOSE),
    "correct": (_correct, {}),
    "help": (_help, {}),
    "details": (_details, {}),
    "finding": (_finding, {}),
    "board": (_board, {}),
    "menu": (_menu, {}),
    "back": (_back, {}),
    "keypad": (_keypad, {}),
    "test": (_test, {}),
    "ladder": (_ladder, {}),
    "working": (_working, {}),
    "sums": (_sums, {}),
    "map": (_map, {}),
    "couldnt": (_couldnt, {}),
    "own-finding": (_own, {}),
    "note": (_note, {}),
    "overrule": (_overrule, CLOSE),
    "cut-short": (_cut_short, {}),
    "colours": (_colours, {}),
    "leaving": (_leaving, {}),
    "home": (_nothing, {}),
    "first-run": (_nothing, {}),
    "settings": (_settings, {}),
}
AT_HOME = ("home", "first-run", "settings")


def app_for(name: str, folder: Path, theme: str = "") -> tuple[LowsideApp, Typist]:
    """An app at its first question, and the person who goes on to that scene. folder: an empty one."""
    typist = Typist({**known_of("leak"), **SCENES[name][1]})
    if name in AT_HOME:
        home = Home(_front(folder, known=name != "first-run"))
        home.look()
        return LowsideApp(home, theme), typist
    return app_of(begun(bundled(), clock=HandClock()), theme), typist


def _front(folder: Path, *, known: bool) -> Front:
    """A home with one visit cut off, of a fixed day."""
    sessions = folder / "sessions"
    sessions.mkdir()
    if known:
        (folder / "settings.yaml").write_text("altitude: 300 ft\nregion: US\n", encoding="utf-8")
        visit = begun(bundled(), "call", path=sessions / "2026-11-25T0930-K-12-0a1b.jsonl", clock=HandClock())
        visit.act(lambda walk: walk.answer({"circuits": "1"}))
        visit.leave()

    def none(*_: object) -> Begun:
        raise Refused("not-here", "No visit is begun in a picture.", "")

    return Front(sessions, folder / "settings.yaml", lambda: "2026-11-25", none, none)


async def play(name: str, pilot: Pilot[None], typist: Typist) -> None:
    """Goes to the scene."""
    await SCENES[name][0](pilot, typist)
    await pilot.pause()
