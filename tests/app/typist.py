"""A person at the screen: knows the readings of one visit, and types what is asked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml
from textual.pilot import Pilot
from textual.widgets import Input, Static

from tests.record.helpers import HandClock
from tui.app.modes import Asked
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.session import Visit
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Prompt, Walk

ANSWERS = Path(__file__).resolve().parents[1] / "answers"
SITE = {"altitude": "300 ft", "today": "2026-11-25"}


def bundled() -> Library:
    """The trees that come with lowside (they are proven elsewhere)."""
    return Library.read(bundled_trees())


def known_of(name: str) -> dict[str, Any]:
    """The readings of the one circuit of an answers file, as they would be typed."""
    read = yaml.load((ANSWERS / f"{name}.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    return dict(next(iter(read["circuits"].values())))


def begun(
    library: Library, tree: str = "both-low", *, path: Path | None = None, clock: Any = None, **start: Any
) -> Visit:
    walk = Walk.start(library, tree, **{"site": SITE, "unit": "K-12", **start})
    return Visit.begin(walk, clock or HandClock(), path)


def app_of(visit: Visit, theme: str = "", notices: tuple[str, ...] = ()) -> LowsideApp:
    return LowsideApp(Talk(visit, notices), theme)


def screen_text(app: LowsideApp) -> str:
    """What stands on the screen, line by line."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)


def shown(app: LowsideApp, where: str) -> str:
    return str(app.query_one(f"#{where}", Static).content)


async def enter(pilot: Pilot[None], text: str = "") -> None:
    """A line typed as if pasted, then Enter."""
    pilot.app.query_one("#entry", Input).value = text
    await pilot.pause()
    await pilot.press("enter")
    await pilot.pause()


def asks(reading: str) -> Callable[[Prompt], bool]:
    """Is this reading asked now?"""
    return lambda prompt: bool(prompt.readings) and prompt.readings[0].id == reading


class Typist:
    """Types the answers of one visit; a list is used one a time asked, its last again and again."""

    def __init__(self, known: dict[str, Any]) -> None:
        self._known = {name: list(value) if isinstance(value, list) else [value] for name, value in known.items()}

    def line(self, prompt: Prompt) -> str:
        """What to type at this prompt; a function key where it cannot be had."""
        if prompt.kind == "ask":
            left = self._known.get(prompt.readings[0].id)
            if left is None:
                return "couldn't no instrument"
            return str(left.pop(0) if len(left) > 1 else left[0])
        if prompt.kind == "wait":
            return "skip it is steady already"
        if prompt.kind == "close-call":
            return prompt.choices[-1][1]
        return "no" if prompt.kind == "offer" else ""

    async def walk(
        self, pilot: Pilot[None], until: Callable[[Prompt], bool] = lambda prompt: False, *, by_keys: bool = False
    ) -> None:
        """Goes on until that prompt, or to the end of the walk.

        by_keys: through the terminal's queue of keys, as a person would; slow, for a pilot waits after each.
        """
        app = pilot.app
        assert isinstance(app, LowsideApp)
        for _ in range(300):
            talk = app.talk
            assert isinstance(talk, Talk)
            prompt = talk.walk.prompt
            if prompt is None or until(prompt):
                await pilot.pause()
                return
            line = self.line(prompt) if isinstance(talk.mode, Asked) else ""
            if by_keys:
                await enter(pilot, line)
            else:
                talk.typing(line)
                app.entered(line)
        raise AssertionError(f"no end in sight:\n{screen_text(app)}")
