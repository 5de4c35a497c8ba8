"""A call that plays itself on the real screen: invented, kept nowhere, stopped by any key, taken over at will."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import events

from tui.app.entry import Entry
from tui.app.modes import Asked
from tui.app.screen import LowsideApp
from tui.app.sheet import item
from tui.app.talk import Talk
from tui.app.view import told
from tui.desk.session import Visit
from tui.walk import Walk
from tui.walk.kinds import ASK, CLOSE_CALL, OFFER, WAIT

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk.prompt import Prompt

SCRIPT = Path(__file__).with_name("demo.yaml")
#: pace -> (seconds between letters, seconds before Enter, seconds to read a new screen)
PACES = {"slow": (0.09, 1.5, 4.0), "normal": (0.05, 0.8, 2.2), "quick": (0.01, 0.15, 0.4)}
STOPPED = "Stopped. Enter: play on. t: take over from here. F10: leave."


@dataclass(frozen=True, slots=True)
class Script:
    """See the file. `answers`: reading to what is typed, one a time asked, the last again and again."""

    site: Mapping[str, Any]
    unit: str
    slip: tuple[str, str]
    answers: Mapping[str, list[str]]
    says: Mapping[str, str]

    @classmethod
    def read(cls, path: Path = SCRIPT) -> Script:
        import yaml

        found = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        answers = {name: value if isinstance(value, list) else [value] for name, value in found["answers"].items()}
        slip = found["slip"]
        return cls(found["site"], found["unit"], (slip["reading"], slip["typed"]), answers, found["says"])


class DemoClock:
    """The wall clock; seconds can be skipped, so that nobody has to sit through a wait."""

    def __init__(self) -> None:
        self.skipped = 0.0

    def now(self) -> datetime:
        return datetime.now().astimezone()

    def mono(self) -> float:
        return time.monotonic() + self.skipped


class Player:
    """What is typed next, at whatever the walk asks. It knows the script, and nothing of the screen."""

    def __init__(self, script: Script) -> None:
        self.script = script
        self._left = {name: list(values) for name, values in script.answers.items()}
        self._queued: list[str] = []
        self._slipped = False

    def line(self, prompt: Prompt | None) -> str:
        """A whole line; empty for Enter alone."""
        if self._queued:
            return self._queued.pop(0)
        if prompt is None or prompt.kind in (OFFER,):
            return "no" if prompt is not None else ""
        if prompt.kind == WAIT:
            return ""
        if prompt.kind == CLOSE_CALL:
            return prompt.choices[-1][1]
        return self._reading(prompt.readings[0].id) if prompt.kind == ASK else ""

    def _reading(self, name: str) -> str:
        left = self._left.get(name)
        if left is None:
            return "couldn't nobody knows"
        right = left.pop(0) if len(left) > 1 else left[0]
        if name == self.script.slip[0] and not self._slipped:
            self._slipped = True
            self._queued = ["correct", name.replace("-", " "), right, "yes"]
            return self.script.slip[1]
        return right

    def says(self, prompt: Prompt | None) -> str:
        """What is told of this step, if anything."""
        if prompt is None:
            return ""
        names = [f"{prompt.tree}/{prompt.step}", *(each.id for each in prompt.readings[:1])]
        return next((self.script.says[name] for name in names if name in self.script.says), "")


class DemoTalk(Talk):
    """Marked as invented on every screen."""

    def title(self) -> tuple[str, str]:
        left, right = super().title()
        return f"{left}  DEMO: all of it invented", right


def begin(library: Library, script: Script) -> Walk:
    """The walk of the demo at its first question."""
    return Walk.start(library, "call", site=dict(script.site), unit=script.unit)


class Demo(LowsideApp):
    """Types what the player says; a key of the person stops it."""

    def __init__(self, library: Library, *, pace: str = "normal", theme: str = "", plain: bool | None = None) -> None:
        self.clock = DemoClock()
        self.player = Player(Script.read())
        walk = begin(library, self.player.script)
        super().__init__(DemoTalk(Visit(walk, self.clock)), theme, plain=plain)
        self.playing = True
        self.taken_over = False
        self._letter, self._enter, self._look = PACES[pace]
        self._rest = ""
        self._typing = False

    def on_mount(self) -> None:
        super().on_mount()
        self._tell()
        self.set_timer(self._look, self._next)

    # ---- playing

    @property
    def _talk(self) -> Talk:
        assert isinstance(self.talk, Talk)
        return self.talk

    def _tell(self) -> None:
        say = self.player.says(self._talk.walk.prompt) if isinstance(self._talk.mode, Asked) else ""
        if say:
            self._talk.notices = (item("demo", say),)
        self.paint()

    def _next(self) -> None:
        """The next line begins, or the demo is over."""
        if not self.playing or not self.is_running:
            return
        talk = self._talk
        prompt = talk.walk.prompt
        if prompt is None:
            self.stop("The demo has come to its end. F5 shows how it came there. F10 leaves.")
            return
        if prompt.kind == WAIT and isinstance(talk.mode, Asked):
            self.clock.skipped += max(0.0, talk.waits.left(prompt))
            self.paint()
        self._rest = self.player.line(prompt) if isinstance(talk.mode, Asked) or talk.in_aside else ""
        self._typing = True
        self.set_timer(self._letter, self._type)

    def _type(self) -> None:
        if not self.playing or not self.is_running:
            return
        if self._rest:
            self.query_one(Entry).insert_text_at_cursor(self._rest[0])
            self._rest = self._rest[1:]
            self.set_timer(self._letter, self._type)
        else:
            self.set_timer(self._enter, self._press_enter)

    def _press_enter(self) -> None:
        if not self.playing or not self.is_running:
            return
        self._typing = False
        self.entered(self.query_one(Entry).value)
        if self.is_running:
            self._tell()
            self.set_timer(self._look, self._next)

    # ---- stopped by a person

    def stop(self, say: str = STOPPED) -> None:
        """Nothing is typed any more until it plays on."""
        self.playing = False
        self._talk.said = told(say, "demo")
        self.paint()

    def play_on(self) -> None:
        """From where it stands; half a line is finished."""
        self.playing = True
        self._talk.said = ()
        self.paint()
        self.set_timer(self._letter, self._type if self._typing else self._next)

    def take_over(self) -> None:
        """From here on it is the person's own; still kept nowhere."""
        self.playing, self.taken_over = False, True
        self.query_one(Entry).put("")
        self._talk.typing("")
        self._talk.said = told("It is yours now. Nothing of it is kept.", "demo")
        self.paint()

    async def on_event(self, event: events.Event) -> None:
        """A key is the person's only once the demo is taken over."""
        if isinstance(event, events.Key) and not self.taken_over:
            event.stop()
            event.prevent_default()
            self._key(event.key)
            return
        await super().on_event(event)

    def _key(self, key: str) -> None:
        if key in ("f10", "ctrl+c", "ctrl+q"):
            self.exit()
        elif self.playing:
            self.stop()
        elif self._talk.walk.prompt is None:
            self.taken_over = True
        elif key == "enter":
            self.play_on()
        elif key == "t":
            self.take_over()
        else:
            self.stop()
