"""Home: what was cut off, a new visit, what was done before, settings. It is there before the trees are read."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

from tui.app.dialogue import Dialogue
from tui.app.mode import Mode, choice
from tui.app.sheet import FAINT, STRONG, Line, Part, item
from tui.app.view import View, refused, told
from tui.desk.line import LONGEST_TAG, Choices
from tui.desk.store import Listed, Store, listed
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.front import Front
    from tui.app.keys import Command
    from tui.app.talk import Talk
    from tui.desk.session import Visit
    from tui.tree.library import Library

RECENT = 20  # sessions looked through for one that was cut off
WORDS = {
    "start": "start a visit",
    "unit": "a unit's earlier visits",
    "today": "today's visits",
    "sums": "quick sums",
    "settings": "settings",
    "leave": "leave",
}


class Home(Dialogue):
    """`wish` is what the walk to come is of: a unit's tag, or a session's file."""

    def __init__(self, front: Front) -> None:
        super().__init__(time.monotonic)
        self.front = front
        self.store = Store(front.sessions)
        self.wish: str | Path | None = None
        self.left = False
        self.visits: list[Visit] = []
        self.ticking = False
        self._modes: list[Mode] = []
        self._page = HomePage(self)
        if not front.settings.exists():
            from tui.app.first_run import FirstRun

            self._modes.append(FirstRun(self))

    # ---- what the screen looks at

    @property
    def mode(self) -> Mode:
        return self._modes[-1] if self._modes else self._page

    @property
    def ready(self) -> bool:
        return self.wish is not None

    @property
    def over(self) -> bool:
        return self.left

    @property
    def in_aside(self) -> bool:
        return bool(self._modes)

    def view(self, width: int) -> View:
        if self.ready:
            return View((item("", "Reading the trees ...", STRONG),))
        return self.mode.view(width)

    def title(self) -> tuple[str, str]:
        return "lowside", self.front.today

    def below(self, width: int, height: int, *, alone: bool) -> list[Line]:
        return []

    def side(self, width: int, height: int) -> list[Line]:
        return []

    def commands(self, width: int) -> list[tuple[str, Command]]:
        from tui.app import keys

        found = [keys.BY_ACTION[action] for action in ("sums", "leave")]
        return [(self.front.keys.get(command.action, command.key), command) for command in found]

    def tick(self) -> bool:
        return False

    # ---- what it does

    def press(self, action: str) -> bool:
        if action == "leave":
            self.left = True
            return True
        if action == "keypad":
            self.keypad = not self.keypad
            return True
        if action == "undo" and self._modes:
            self.escape()
            return True
        if action == "sums":
            return self.refusing(self.sums)
        self.said = told("That key is for a visit.")
        return False

    def escape(self) -> None:
        """Leave what was begun."""
        if self._modes:
            self._modes.pop().left()
        self.said, self.mark = (), self.mode.marked

    def say(self, done: str, label: str = "") -> None:
        self.said = told(done, label)

    def begin_aside(self, aside: Mode) -> None:
        self._modes.append(aside)

    def leave_aside(self, mode: Mode) -> None:
        if mode in self._modes:
            del self._modes[self._modes.index(mode) :]
        if self._modes:
            self._modes[-1] = self._modes[-1].again()

    def put_aside(self, mode: Mode, other: Mode) -> None:
        if mode in self._modes:
            self._modes[self._modes.index(mode)] = other

    def sums(self) -> None:
        """Quick sums, in the units and for the altitude of the settings."""
        from tui.app.sums import Surroundings, quick_sums
        from tui.desk.settings import load

        mine = load(self.front.settings)
        self.begin_aside(quick_sums(self, Surroundings(mine.units, mine.atmosphere), None))

    def walk(self, wish: str | Path) -> None:
        """The screen goes over to this walk as soon as the trees are read."""
        self._modes.clear()
        self.wish = wish

    # ---- over to the walk and back

    def make(self, library: Library) -> Talk:
        """The talk that was wished for; when it is over, this stands there again. Raises Refused."""
        from tui.app.talk import Talk

        wish, self.wish = self.wish, None
        assert wish is not None
        if isinstance(wish, Path):
            visit, notices = self.front.resume(library, wish)
        else:
            visit, notices = self.front.start(library, wish)
        self.visits.append(visit)
        talk = Talk(visit, notices, self.front.keys)
        talk.after = lambda: self.back(visit)
        return talk

    def back(self, visit: Visit) -> Home:
        """From a visit that was closed or left."""
        visit.leave()
        self._page.look()
        if visit.walk.closed:
            self.say(f"The visit is closed. Its sheet: number {self._page.number('today')}.")
        else:
            self.say("The visit stays open; number 1 goes on with it.")
        return self

    def cannot(self, problem: Refused) -> bool:
        """What was wished for can't be walked: said here, and something else can be chosen."""
        self.wish = None
        self.said = refused(problem)
        return True


class HomePage(Mode):
    """What can be done, by number."""

    def __init__(self, home: Home) -> None:
        super().__init__(home)
        self.home = home
        self.open: Listed | None = None
        self.more_open = 0
        self.trouble: tuple[Part, ...] = ()
        self.look()

    def look(self) -> None:
        """What was cut off, among the latest."""
        try:
            latest = [listed(path) for path in self.home.store.names()[:RECENT]]
        except Refused as problem:
            latest, self.trouble = [], refused(problem)
        opened = [each for each in latest if not each.closed]
        self.open, self.more_open = (opened[0] if opened else None), max(0, len(opened) - 1)

    @property
    def choices(self) -> Choices:
        first: Choices = ()
        if self.open is not None:
            more = f"; {self.more_open} more in lists 3 and 4" if self.more_open else ""
            first = (("resume", f"go on with {self.open.unit}, begun {when(self.open.began)}{more}"),)
        return (*first, *WORDS.items())

    def number(self, name: str) -> int:
        """The number a choice has now."""
        return 1 + next(place for place, (each, _) in enumerate(self.choices) if each == name)

    def view(self, width: int) -> View:
        parts: list[Part] = [item("", "What now?", STRONG), *self.trouble]
        return View(tuple(parts), self.choices, "", "number or arrows; then Enter")

    def echo(self, line: str) -> tuple[Part, ...]:
        found = self.picked(line)
        return told(dict(self.choices)[found], "taken as") if found is not None else ()

    def enter(self, line: str) -> None:
        one = choice(self.choices, line, self.talk.mark)
        if one == "resume":
            assert self.open is not None
            self.home.walk(self.open.path)
        elif one == "start":
            self.home.begin_aside(Tag(self.home))
        elif one == "leave":
            self.home.left = True
        elif one == "sums":
            self.home.sums()
        elif one == "settings":
            from tui.app.setting import settings_page

            self.home.begin_aside(settings_page(self.home))
        else:
            from tui.app.earlier import earlier

            self.home.begin_aside(earlier(self.home, one))


class Tag(Mode):
    """The unit's tag; then the walk."""

    def __init__(self, home: Home) -> None:
        super().__init__(home)
        self.home = home

    def view(self, width: int) -> View:
        parts = (
            item("", "Which unit is it?", STRONG),
            item("why", "Its tag goes into the record, and brings what earlier visits know of it."),
            item("", "ESC: leave it", FAINT),
        )
        return View(parts, (), "tag", "such as K-12; Enter alone: none")

    def echo(self, line: str) -> tuple[Part, ...]:
        return told(line, "unit") if line else ()

    def enter(self, line: str) -> None:
        if len(line) > LONGEST_TAG:
            cure = "Shorten it; the rest can go into a note."
            raise Refused("too-long", f"A tag has at most {LONGEST_TAG} letters.", cure)
        self.home.walk(line)


def when(began: str) -> str:
    """``2026-11-25T0930`` as ``2026-11-25 09:30``; what is no time stays as it is."""
    day, _, hour = began.partition("T")
    return f"{day} {hour[:2]}:{hour[2:]}" if len(hour) == 4 else began or "once"
