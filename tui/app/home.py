"""Home: what was cut off, a new visit, what was done before, settings. It is there before the trees are read."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.app.dialogue import Dialogue
from tui.app.front import PLANNED, New
from tui.app.mode import Mode, choice
from tui.app.sheet import FAINT, STRONG, Line, Part, item
from tui.app.view import View, refused, told
from tui.desk.line import LONGEST_TAG, Choices
from tui.desk.store import NO_TAG, Store, named
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.front import Front
    from tui.app.keys import Command
    from tui.app.talk import Talk
    from tui.desk.session import Visit
    from tui.tree.library import Library

RECENT = 20  # files looked into for one that can be gone on with
#: Each keeps its number, whatever lies there: hands learn them.
WORDS = {
    "resume": "go on with what was cut off",
    "start": "start a visit",
    "unit": "a unit's earlier visits",
    "today": "today's visits",
    "sums": "quick sums",
    "settings": "settings",
    "demo": "watch an invented call",
    "leave": "leave",
    "check": "start a planned visit: no complaint, a check",
}
NONE_OPEN = "no visit is open: start one"  # the numbers of the others stay, and this one is not dead


class Home(Dialogue):
    """`wish` is what the walk to come is of: a new visit, or a session's file. `demo`: left to watch one."""

    def __init__(self, front: Front) -> None:
        super().__init__(time.monotonic)
        self.front = front
        self.store = Store(front.sessions)
        self.wish: New | Path | None = None
        self.left = False
        self.demo = False
        self.visits: list[Visit] = []
        self._modes: list[Mode] = []
        self._page = HomePage(self)
        if not front.settings.exists():
            from tui.app.first_run import FirstRun

            self._modes.append(FirstRun(self))
        self.mark = self.mode.marked

    # ---- what the screen looks at

    @property
    def mode(self) -> Mode:
        if self.ready:
            return Reading(self)
        return self._modes[-1] if self._modes else self._page

    @property
    def ready(self) -> bool:
        return self.wish is not None

    @property
    def over(self) -> bool:
        return self.left

    @property
    def in_aside(self) -> bool:
        return self.ready or bool(self._modes)

    @property
    def ticking(self) -> bool:
        return self.mode.busy

    def view(self, width: int) -> View:
        return self.mode.view(width)

    def title(self) -> tuple[str, str]:
        return "lowside", self.front.today()

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
        if action == "undo" and self.in_aside:
            if self.mode.back():
                self.said = ()
            else:
                self.escape()
            return True
        if action == "sums" and not self.ready:
            return self.refusing(self.sums)
        self.said = told("That key is for a visit.")
        return False

    def escape(self) -> None:
        """Leave what was begun; a walk that still waits for its trees, too."""
        if self.ready:
            self.wish, self.said = None, ()
        elif self._modes:
            mode = self._modes.pop()
            self.said = ()
            try:
                mode.left()
                self._renew()
            except Refused as problem:
                self.said = refused(problem)
        self.mark = self.mode.marked

    def say(self, done: str, label: str = "") -> None:
        self.said = told(done, label)

    def begin_aside(self, aside: Mode) -> None:
        self._modes.append(aside)

    def leave_aside(self, mode: Mode) -> None:
        if mode in self._modes:
            del self._modes[self._modes.index(mode) :]
        self._renew()

    def _renew(self) -> None:
        """What stood there before comes back with what is known now."""
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
        self.begin_aside(quick_sums(self, Surroundings(mine.units, mine.atmosphere, good_to=mine.accuracies), None))

    def watch(self) -> None:
        """The screen goes; whoever made this shows the invented call."""
        self.demo = self.left = True

    def walk(self, wish: New | Path) -> None:
        """The screen goes over to this walk as soon as the trees are read."""
        self._modes.clear()
        self.wish = wish

    def look(self) -> None:
        """What was cut off is looked for; it may take a moment."""
        self._page.look()

    # ---- over to the walk and back

    def begin(self, prepare: Callable[[], Library]) -> Callable[[], Talk]:
        """In a thread, once the screen stands: what was cut off, then the trees. Gives what makes the walk."""
        self.look()
        library = prepare()
        return lambda: self.make(library)

    def make(self, library: Library) -> Talk:
        """The talk that was wished for; when it is over, this stands there again. Raises Refused."""
        from tui.app.talk import Talk

        wish, self.wish = self.wish, None
        assert wish is not None
        if isinstance(wish, Path):
            visit, notices = self.front.resume(library, wish)
        else:
            visit, notices = self.front.start(library, wish.unit, wish.tree)
        self.visits.append(visit)
        talk = Talk(visit, notices, self.front.keys)
        talk.after = lambda: self.back(visit)
        return talk

    def back(self, visit: Visit) -> Home:
        """From a visit that was closed or left."""
        visit.leave()
        self._page.look_again()
        if visit.walk.closed:
            self.said = told("The visit is closed. Its sheet: number 4.")
        else:
            self.said = (*told("The visit stays open; number 1 goes on with it."), *_still_on(visit))
        if visit.unrecorded:
            lost = f"{visit.unrecorded} of its entries could not be written."
            self.said = (*refused(Refused("lost", lost, "Number 1 asks them again.")), *self.said)
        return self

    def cannot(self, problem: Refused) -> bool:
        """What was wished for can't be walked: said here, and something else can be chosen."""
        self.wish = None
        self.said = refused(problem)
        return True


def _still_on(visit: Visit) -> tuple[Part, ...]:
    """What is on or open at the unit, and how it is cleared."""
    catalogue = visit.walk.library.catalogue
    return tuple(
        item("STILL ON", f"{thing}{f' ({circuit})' if circuit else ''}. {catalogue.left_on[thing].tell}", STRONG)
        for circuit, thing in visit.walk.left_on
    )


class HomePage(Mode):
    """What can be done, by number. What was cut off is looked for meanwhile."""

    def __init__(self, home: Home) -> None:
        super().__init__(home)
        self.home = home
        self.open: list[Path] = []
        self.resuming = WORDS["resume"]
        self.trouble: tuple[Part, ...] = ()
        self.trees: tuple[str, ...] = ()
        self._looked = False  # whether what was cut off is known
        self._shown = False  # whether it has been shown

    @property
    def busy(self) -> bool:  # type: ignore[override]
        return not self._shown

    def look_again(self) -> None:
        """In a thread of its own: there may be hundreds of files."""
        import threading

        self._looked = self._shown = False
        self.open, self.resuming = [], WORDS["resume"]
        threading.Thread(target=self.look, name="what was cut off", daemon=True).start()

    def look(self) -> None:
        """What was cut off, by first and last lines; the latest that can be gone on with, in words."""
        from tui.review.brief import brief

        self.trees = self.home.front.laid_over()
        try:
            paths = [each.path for each in self.home.store.unfinished()]
        except Refused as problem:
            paths, self.trouble = [], refused(problem)
        latest = None
        for place, path in enumerate(paths[:RECENT]):
            latest = brief(path)
            if latest.open:
                paths = paths[place:]
                break
        if latest is None or not latest.open:
            self.open, self.resuming = [], NONE_OPEN
        else:
            many = f"one of {len(paths)}, the latest: " if len(paths) > 1 else ""
            stopped = f"{latest.unit or unit_of(paths[0])}, begun {when(named(paths[0])[0])}, stopped {latest.stopped}"
            self.open, self.resuming = paths, f"go on with {many}{stopped}"
        self._looked = True

    @property
    def choices(self) -> Choices:
        return tuple((WORDS | {"resume": self.resuming}).items())

    def view(self, width: int) -> View:
        self._shown = self._looked
        parts: list[Part] = [item("", "What now?", STRONG), *self.trouble]
        parts += [item("trees", each, FAINT) for each in self.trees]
        return View(tuple(parts), self.choices, "", "number or arrows; then Enter")

    def echo(self, line: str) -> tuple[Part, ...]:
        found = self.picked(line)
        return told(dict(self.choices)[found], "taken as") if found is not None else ()

    def enter(self, line: str) -> None:
        one = choice(self.choices, line, self.talk.mark)
        if one == "leave":
            self.home.left = True
        elif one in ("start", "check"):
            self.home.begin_aside(Tag(self.home, PLANNED if one == "check" else ""))
        elif one == "settings":
            from tui.app.setting import settings_page

            self.home.begin_aside(settings_page(self.home))
        elif one in ("unit", "today"):
            from tui.app.earlier import earlier

            self.home.begin_aside(earlier(self.home, one))
        else:
            {"resume": self.resume, "sums": self.home.sums, "demo": self.home.watch}[one]()

    def resume(self) -> None:
        """The one that is open; of several, a list; where there is none, a new one."""
        if not self._looked:
            self.look()
        if not self.open:
            self.home.begin_aside(Tag(self.home))
            return
        if len(self.open) == 1:
            self.home.walk(self.open[0])
            return
        from tui.app.earlier import Open

        self.home.begin_aside(Open(self.home, "Which visit goes on? The latest first.", self.open))


class Reading(Mode):
    """A walk is wished for and its trees are still being read. What is typed meanwhile stays for it."""

    def view(self, width: int) -> View:
        parts = (item("", "Reading the trees ...", STRONG), item("", "ESC: leave it", FAINT))
        return View(parts)

    def enter(self, line: str) -> None:
        raise Refused("not-now", "One moment: the trees are still being read.", "It stays in the line.")


class Tag(Mode):
    """The unit's tag; then the walk, in the usual tree or in the one given."""

    def __init__(self, home: Home, tree: str = "") -> None:
        super().__init__(home)
        self.home, self.tree = home, tree

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
        self.home.walk(New(line, self.tree))


def when(began: str) -> str:
    """``2026-11-25T0930`` as ``2026-11-25 09:30``; what is no time stays as it is."""
    day, _, hour = began.partition("T")
    return f"{day} {hour[:2]}:{hour[2:]}" if len(hour) == 4 else began or "once"


def unit_of(path: Path) -> str:
    """The unit as a session's name has it."""
    unit = named(path)[1]
    return "no tag" if unit == NO_TAG else unit
