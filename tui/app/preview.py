"""A tree on the real screen while it is edited: saved, it is read again, and the answers that still fit are kept."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from tui.app.dialogue import Dialogue
from tui.app.keys import BY_ACTION, Command
from tui.app.mode import Mode
from tui.app.screen import LowsideApp
from tui.app.sheet import BAD, FAINT, STRONG, WARN, Line, Part, item
from tui.app.talk import Talk
from tui.app.view import View, told
from tui.desk.session import Visit
from tui.quantity import Refused
from tui.tree.library import BrokenLibrary, Library
from tui.walk.refit import go_on, refit

if TYPE_CHECKING:
    from tui.app.conversation import Conversation
    from tui.record import Clock
    from tui.tree.spot import Problem, Spot
    from tui.walk import Walk
    from tui.walk.world import Event

LONGEST_LINE = 120  # characters of a line that is shown
LOOK = 0.3  # seconds between two looks at the files; they must stand still for one of them
PREVIEW = "PREVIEW: nothing is kept"
AGAIN = "Reading again ..."
Stamps = Mapping[str, tuple[int, int]]


def stamps(folders: Sequence[Path]) -> Stamps:
    """Every YAML file of these folders and their catalogues, with its time of change and size."""
    found = {}
    for folder in folders:
        for path in (*folder.glob("*.yaml"), *folder.glob("catalogue/*.yaml")):
            try:
                state = path.stat()
            except OSError:
                continue  # it went away between the two looks: the next one sees that
            found[str(path)] = (state.st_mtime_ns, state.st_size)
    return found


class PreviewTalk(Talk):
    """A walk of the trees as they are now, kept nowhere; `waiting`: old answers that nothing asks for yet."""

    map_looks = True

    def __init__(self, visit: Visit, waiting: Sequence[Event], key_map: Mapping[str, str]) -> None:
        super().__init__(visit, (), key_map)
        self.waiting = list(waiting)
        self.rereading = False
        self.findings_seen = len(visit.walk.findings) if visit.walk.prompt is not None else 0

    def title(self) -> tuple[str, str]:
        left, right = super().title()
        return f"{left}  {AGAIN if self.rereading else PREVIEW}", right

    def act(self, intent: Callable[[Walk], object]) -> None:
        """An answer more, and those of before that now fit again; once something is taken back, they are forgotten."""
        before = len(self.walk.inputs)
        super().act(intent)
        if self.walk.events[-1]["event"] == "closed" or len(self.walk.inputs) <= before:
            self.waiting = []
        elif self.waiting:
            self.waiting = go_on(self.walk, self.waiting)


def _line_of(spot: Spot) -> str:
    """What stands there; empty where it can't be read or is blank."""
    try:
        lines = Path(spot.path).read_text(encoding="utf-8", errors="replace").split("\n")
    except OSError:
        return ""
    written = lines[spot.line - 1].strip() if spot.line <= len(lines) else ""
    return written if len(written) <= LONGEST_LINE else f"{written[:LONGEST_LINE]} ..."


class Wrong(Mode):
    """What is wrong with the trees, in the place of the step."""

    def __init__(self, talk: BrokenTalk) -> None:
        super().__init__(talk)
        self.problems = talk.problems
        self.rereading = talk.rereading

    def view(self, width: int) -> View:
        errors = [problem for problem in self.problems if problem.severity == "error"]
        more = "" if len(errors) == 1 else f" ({len(errors)} places)"
        say = f"The trees do not hold{more}. Mend and save: the walk goes on by itself."
        parts: list[Part] = [item("", f"Saved. {AGAIN}" if self.rereading else say, STRONG)]
        for problem in errors:
            spot = problem.spot
            parts.append(item("", ""))
            place = f"{Path(spot.path).name}, line {spot.line}, column {spot.column}  ({problem.code})"
            parts.append(item("where", place, FAINT))
            if written := _line_of(spot):
                parts.append(item("written", written))
            parts.append(item("wrong", problem.message, BAD, label_style=BAD))
            if problem.cure:
                parts.append(item("", problem.cure))
        return View(tuple(parts), hint="F10: leave", page=True)

    def enter(self, line: str) -> None:
        raise Refused("not-now", "There is nothing to answer while the trees do not hold.", "Mend them and save.")


class BrokenTalk(Dialogue):
    """Stands there while the trees can't be walked."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(time.monotonic)
        self.problems = problems
        self.rereading = False
        self.left = False

    @property
    def mode(self) -> Mode:
        return Wrong(self)

    @property
    def ready(self) -> bool:
        return False

    @property
    def over(self) -> bool:
        return self.left

    @property
    def in_aside(self) -> bool:
        return False

    @property
    def ticking(self) -> bool:
        return False

    def view(self, width: int) -> View:
        return self.mode.view(width)

    def title(self) -> tuple[str, str]:
        return f"lowside  {AGAIN if self.rereading else PREVIEW}", ""

    def below(self, width: int, height: int, *, alone: bool) -> list[Line]:
        return []

    def side(self, width: int, height: int) -> list[Line]:
        return []

    def commands(self, width: int) -> list[tuple[str, Command]]:
        leave = BY_ACTION["leave"]
        return [(leave.key, leave)]

    def press(self, action: str) -> bool:
        if action == "leave":
            self.left = True
        else:
            self.said = told("Not while the trees do not hold.")
        return False

    def escape(self) -> None:
        """There is nothing to leave."""

    def tick(self) -> bool:
        return False

    def say(self, done: str, label: str = "") -> None:
        self.said = told(done, label)

    def begin_aside(self, aside: Mode) -> None:
        """There is none here."""

    def leave_aside(self, mode: Mode) -> None:
        """There is none here."""

    def put_aside(self, mode: Mode, other: Mode) -> None:
        """There is none here."""


class Preview(LowsideApp):
    """`read` gives the trees as they are now (raises BrokenLibrary), `start` a walk at its first question."""

    def __init__(
        self,
        folders: Sequence[Path],
        read: Callable[[], Library],
        start: Callable[[Library], Walk],
        clock: Clock,
        *,
        theme: str = "",
        keys: Mapping[str, str] | None = None,
        plain: bool | None = None,
    ) -> None:
        self._folders, self._read, self._start, self._clock = folders, read, start, clock
        self._key_map = dict(keys or {})
        self._walk: Walk | None = None
        self._waiting: list[Event] = []
        self._taken = self._seen = stamps(folders)
        self._reading = False
        super().__init__(self._first(), theme, plain=plain)

    def on_mount(self) -> None:
        super().on_mount()
        self.set_interval(LOOK, self._look)

    def _first(self) -> Conversation:
        try:
            library = self._read()
            self._walk = self._start(library)
        except BrokenLibrary as broken:
            return BrokenTalk(broken.problems)
        talk = PreviewTalk(Visit(self._walk, self._clock), (), self._key_map)
        talk.notices = tuple(self._notices("", library))
        return talk

    # ---- a file was saved

    def _look(self) -> None:
        """Reads the trees again once their files have changed and stand still."""
        now = stamps(self._folders)
        still, self._seen = now == self._seen, now
        self._say_so(self._reading or now != self._taken)
        if still and now != self._taken and not self._reading:
            self._taken, self._reading = now, True
            threading.Thread(target=self._read_again, name="reading the trees", daemon=True).start()

    def _say_so(self, again: bool) -> None:
        """What stands there may be of before the save: that is said at once."""
        talk = self.talk
        if isinstance(talk, PreviewTalk | BrokenTalk) and talk.rereading != again:
            talk.rereading = again
            self.paint()

    def _read_again(self) -> None:
        try:
            found: Library | BrokenLibrary = self._read()
        except BrokenLibrary as broken:
            found = broken
        self.call_from_thread(partial(self._put_in, found))

    def _put_in(self, found: Library | BrokenLibrary) -> None:
        self._reading = False
        if isinstance(self.talk, PreviewTalk):
            self._walk, self._waiting = self.talk.walk, self.talk.waiting
            for unreached in self.talk.unreached.values():
                unreached.close()
        talk: Conversation = self._in(found) if isinstance(found, Library) else BrokenTalk(found.problems)
        talk.height = self.talk.height
        self._turn_to(talk)
        self._from = 0
        self.paint()

    def _in(self, library: Library) -> Conversation:
        """The walk in the trees as they are now, at the step where it stood."""
        if self._walk is None:
            walk, kept = self._start(library), 0
            waiting: list[Event] = []
        else:
            had = len(self._walk.inputs) + len(self._waiting)
            try:
                walk, waiting = refit(library, self._walk, self._waiting)
            except Refused:  # the tree it began in is gone
                walk, waiting = self._start(library), []
            kept = had - len(waiting)
        talk = PreviewTalk(Visit(walk, self._clock), waiting, self._key_map)
        at = self._clock.now().strftime("%H:%M:%S")
        left = f"; {len(waiting)} not asked for now" if waiting else ""
        many = "1 answer" if kept == 1 else f"{kept} answers"
        talk.notices = tuple(self._notices(f"Read again at {at}: {many} kept{left}.", library))
        return talk

    def _notices(self, say: str, library: Library) -> list[Part]:
        parts: list[Part] = [item("preview", say)] if say else []
        if library.problems:
            first = library.problems[0]
            where = f"{Path(first.spot.path).name}:{first.spot.line}"
            many = f"{len(library.problems)} warnings, the first: " if len(library.problems) > 1 else ""
            parts.append(item("warning", f"{many}{where}: {first.message}", label_style=WARN))
        return parts
