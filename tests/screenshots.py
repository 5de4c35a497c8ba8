"""Pictures of the real screen into a folder: ``python tests/screenshots.py [FOLDER]`` (SVG; usual: screenshots)."""

from __future__ import annotations

import asyncio
import re
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from textual.pilot import Pilot

from tests.app.typist import Typist, app_of, begun, bundled, known_of
from tests.record.helpers import HandClock
from tui.app.themes import THEMES
from tui.walk import Prompt

SIZE = (80, 24)
_FONTS = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)  # from a far host: any monospaced font will do
Scene = Callable[[Pilot[None], Typist], Awaitable[None]]


def _at(step: str) -> Callable[[Prompt], bool]:
    return lambda prompt: step in (prompt.step, prompt.kind) or any(each.id == step for each in prompt.readings[:1])


async def _to(pilot: Pilot[None], typist: Typist, step: str) -> None:
    await typist.walk(pilot, _at(step))
    if pilot.app.talk.walk.prompt is None:  # type: ignore[attr-defined]
        raise SystemExit(f"The walk never came to {step}: take another step for this picture.")


async def _choices(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "frost-pattern")
    await pilot.press("2")


async def _echo(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "suction")
    await pilot.press(*"8.2")


async def _caution(pilot: Pilot[None], typist: Typist) -> None:
    await typist.walk(pilot, lambda prompt: len(prompt.cautions) > 2)


async def _wait(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "settle")
    clock = pilot.app.talk.visit.clock  # type: ignore[attr-defined]
    clock.seconds += 111
    await pilot.pause(0.6)


async def _table(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "adding-allowed")


async def _refused(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "suction")
    await pilot.press(*"8.2", "space", *"oz", "enter")


async def _close_call(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "close-call")


async def _finding(pilot: Pilot[None], typist: Typist) -> None:
    await typist.walk(pilot)


async def _help(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "suction")
    await pilot.press("f1")


async def _correct(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "adding-allowed")
    await pilot.press("f4", *"suction", "enter", *"16", "enter")


async def _details(pilot: Pilot[None], typist: Typist) -> None:
    await _to(pilot, typist, "settle")
    await pilot.press("f5")


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
}


async def _picture(folder: Path, name: str, theme: str) -> None:
    scene, instead = SCENES[name]
    app = app_of(begun(bundled(), clock=HandClock()), theme)
    async with app.run_test(size=SIZE) as pilot:
        await scene(pilot, Typist({**known_of("leak"), **instead}))
        await pilot.pause()
        drawn = _FONTS.sub("", app.export_screenshot(title="lowside"))
        (folder / f"{name}-{theme}.svg").write_text(drawn, encoding="utf-8")


def main(arguments: list[str]) -> int:
    """Every scene in every theme."""
    folder = Path(arguments[0]) if arguments else Path(__file__).resolve().parents[1] / "screenshots"
    folder.mkdir(parents=True, exist_ok=True)
    for name in SCENES:
        for theme in THEMES:
            asyncio.run(_picture(folder, name, theme.name))
    print(f"{len(SCENES) * len(THEMES)} pictures in {folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
