"""The talk between a person and a visit, without a screen: what stands there, what a key or a line does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from tui.app import keys
from tui.app.look import below
from tui.app.modes import Asked, Found, Mode, Unrecorded
from tui.app.sheet import Line, Part, item
from tui.app.view import View, refused, told
from tui.app.waits import Waits
from tui.desk.line import cleaned
from tui.desk.saying import words
from tui.quantity import Refused
from tui.walk.kinds import OFFER

if TYPE_CHECKING:
    from tui.desk.session import Visit
    from tui.tree.model import Cause
    from tui.walk import Walk
    from tui.walk.prompt import Prompt

MEND = ("ambiguous", "no-unit", "no-value")  # what was typed needs only a little more
SHORT = 60  # characters; what is longer is never typed over by one key
REST = 0.3  # seconds between two Enters on an empty line: a key held down must not read cautions


@dataclass(frozen=True, slots=True)
class _Under:
    """What stood there when a command began an aside over it, with what was typed so far."""

    aside: Mode | None
    opened: str
    line: str
    prompt: Prompt | None


class Talk:
    """One person at one visit. Every method leaves the next thing to show in `view` and `said`."""

    def __init__(self, visit: Visit, notices: Iterable[str] = (), key_map: Mapping[str, str] | None = None) -> None:
        self.visit = visit
        self.said: tuple[Part, ...] = ()
        self.notices: tuple[Part, ...] = tuple(item("note", notice) for notice in notices)
        self.aside: Mode | None = None
        self.mark: int | None = None
        self.left = False
        self.waits = Waits(visit.clock.mono)
        self.findings_seen = 0 if visit.walk.prompt is None else len(visit.walk.findings)
        self.mistyped = False
        self.theme = ""
        self.keypad = False
        self.height = 24
        self._line = ""
        self._left_over = ""
        self._opened = ""
        self._under: list[_Under] = []
        self._trouble: Unrecorded | None = None
        self._key_map = dict(key_map or {})
        self._last_enter = float("-inf")
        self.waits.begin(visit.walk.prompt)

    # ---- looking

    @property
    def walk(self) -> Walk:
        return self.visit.walk

    @property
    def causes(self) -> Mapping[str, Cause]:
        return self.walk.library.catalogue.causes

    @cached_property
    def names(self) -> frozenset[str]:
        """The readings that a person can give."""
        return frozenset(each.id for each in self.walk.library.catalogue.readings.values() if each.ask)

    @property
    def mode(self) -> Mode:
        """What the screen is at."""
        if self._trouble is not None:
            return self._trouble
        if self.aside is not None:
            return self.aside
        prompt = self.walk.prompt
        if prompt is None:
            from tui.app.ending import AtEnd

            return AtEnd(self)
        if prompt.kind != OFFER and self.findings_seen < len(self.walk.findings):
            return Found(self)
        return Asked(self, prompt)

    def view(self, width: int) -> View:
        return self.mode.view(width)

    @property
    def ready(self) -> bool:
        return False

    @property
    def over(self) -> bool:
        """Left, or closed with everything on the disk."""
        return self.left or (self.walk.closed and self._trouble is None)

    @property
    def in_aside(self) -> bool:
        return self.aside is not None

    @property
    def ticking(self) -> bool:
        return self.waits.any or self.mode.busy

    def title(self) -> tuple[str, str]:
        """Unit, circuit and refrigerant; the tree."""
        prompt = self.walk.prompt
        unit = self.walk.events[0]["unit"] or "lowside"
        circuit = prompt.circuit if prompt is not None else self._last_found()
        named = "" if circuit == "main" else circuit
        left = "  ".join(part for part in (unit, named, _refrigerant(self.walk, circuit)) if part)
        return left, words(prompt.tree) if prompt is not None else ""

    def _last_found(self) -> str:
        """The circuit of the last finding."""
        return self.walk.findings[-1].circuit if self.walk.findings else ""

    def below(self, width: int, height: int, *, alone: bool = True) -> list[Line]:
        return below(self.walk, width, height, alone=alone)

    def side(self, width: int, height: int) -> list[Line]:
        from tui.app.panel import panel

        return panel(self.walk, width, height)

    def commands(self, width: int) -> list[tuple[str, keys.Command]]:
        if self._trouble is not None:
            leave = keys.BY_ACTION["leave"]
            return [(self.key_of(leave), leave)]
        return keys.in_the_bottom_line(self.walk, width, self.key_of)

    def key_of(self, command: keys.Command) -> str:
        return self._key_map.get(command.action, command.key)

    # ---- typing

    def typing(self, text: str) -> None:
        """The line has changed: it is said back, nothing else."""
        self._line = text
        line = cleaned(text)
        mode = self.mode
        found = mode.picked(line) if line else None
        if found is not None or not mode.keeps_mark:
            self.mark = next((place for place, (each, _) in enumerate(mode.choices) if each == found), None)
        command = keys.command_of(line) if mode.commands and found is None else None
        self.said = told(command[0].help, command[0].words.lower()) if command is not None else mode.echo(line)

    def left_over(self) -> str:
        """What the emptied line holds again: what stood in it before an aside that has been left."""
        line, self._left_over = self._left_over, ""
        said = self.said
        if line:
            self.typing(line)
        self._line, self.said = line, said or self.said
        return line

    def move(self, by: int) -> bool:
        """Up or down among the choices. Whether the line is to be emptied, for it names another."""
        mode, count = self.mode, len(self.mode.choices)
        line = cleaned(self._line)
        own = mode.own_words and not mode.keeps_mark and line and mode.picked(line) is None
        if not count or own:
            return False
        self.mark = (0 if by > 0 else count - 1) if self.mark is None else (self.mark + by) % count
        if line and not mode.keeps_mark:
            self._line = ""
        more = mode.says(self.mark)
        self.said = more if more or line else self.said
        return bool(line) and not mode.keeps_mark

    def turn(self, by: int) -> bool:
        """Left or right on an empty line. Whether it did anything."""
        return self.mode.turn(by)

    def click(self, place: int) -> bool:
        """A choice was clicked: taken at once. Whether the line is to be emptied."""
        self.mark = place
        return self._take("")

    def enter(self, text: str) -> bool:
        """Enter. Whether the line is to be emptied (it was understood)."""
        now = self.visit.clock.mono()
        rested, self._last_enter = now - self._last_enter >= REST, now
        self._line = text
        line = cleaned(text)
        return self._take(line) if line or rested else False

    def press(self, action: str) -> bool:
        """A key, by its command's action. Whether the line is to be emptied."""
        return self._refusing(lambda: self._do(keys.BY_ACTION[action], ""))

    def escape(self) -> None:
        """Leave what a key began; never back in the walk."""
        if self.aside is not None:
            self._back_under()
            self.said = ()

    def tick(self) -> bool:
        """A second has gone by. Whether a wait has just come to its end."""
        rung = self.waits.ring()
        prompt = self.walk.prompt
        here = prompt.circuit if prompt is not None else ""
        for circuit in rung:
            if circuit != here:
                self.said = told(f"{circuit}: its wait is over.", "rings")
        return bool(rung)

    # ---- what modes do

    def act(self, intent: Callable[[Walk], object]) -> None:
        """Does it, and sees to it that it is on the disk; what the disk refuses stands in the way of the rest."""
        self.said = ()
        self.notices = ()
        try:
            self.visit.act(intent)
        except Refused as problem:
            if not self.visit.unrecorded:
                raise
            self._trouble = Unrecorded(self, problem)
        self._moved()

    def record(self) -> None:
        """Tries the disk again; a line typed meanwhile stays for the question."""
        self._left_over = self._line
        try:
            self.visit.record()
        except Refused as problem:
            self._trouble = Unrecorded(self, problem)
            self.said = told("Tried again: no.")
            return
        self._trouble = None
        self.said = told("It is on the disk now.")

    def say(self, done: str, label: str = "") -> None:
        """What has been done; nothing while it is not on the disk."""
        self.said = told(done, label) if self._trouble is None else ()

    def say_given(self) -> None:
        """The reading just given, as it was taken."""
        given = self.walk.given()
        if given:
            self.say(f"{words(given[-1].reading)}: {given[-1].shown}", "recorded")

    def begin_aside(self, aside: Mode) -> None:
        """Over what stands there now, to which it goes back."""
        self._under.append(_Under(self.aside, self._opened, "", self.walk.prompt))
        self.aside, self._opened = aside, ""

    def leave_aside(self, mode: Mode) -> None:
        if self.aside is mode:
            self._back_under()

    def use(self, text: str) -> None:
        """A value worked out beside the walk goes into the line of the question; Enter is still the person's."""
        self.aside, self._opened = None, ""
        self._under.clear()
        self._left_over = text

    def waited(self, reason: str | None) -> None:
        """The wait is over, or cut short for that reason."""
        prompt = self.walk.prompt
        assert prompt is not None
        seconds = round(self.waits.waited(prompt), 3)
        self.act(lambda walk: walk.waited(seconds, reason))
        self.waits.end(prompt)
        self._moved()

    # ---- inside

    def _moved(self) -> None:
        self.findings_seen = min(self.findings_seen, len(self.walk.findings))
        self.waits.begin(self.walk.prompt)

    def _take(self, line: str) -> bool:
        mode = self.mode
        found = keys.command_of(line) if mode.commands and mode.picked(line) is None else None
        if found is not None:
            self._line = ""
            return self._refusing(lambda: self._do(*found))
        return self._refusing(lambda: self.mode.enter(line), line)

    def _refusing(self, act: Callable[[], None], line: str = "") -> bool:
        before = self.said
        self.mistyped = False
        try:
            act()
        except Refused as problem:
            self.said = refused(problem)
            self.mistyped = 0 < len(line) <= SHORT and problem.code not in MEND
            return False
        if self.said is before:
            self.said = ()
        self.mark = self.mode.marked
        return True

    def _do(self, command: keys.Command, rest: str) -> None:
        if command.action == "leave":
            self.left = True
            return
        if self._trouble is not None:
            raise Refused("unrecorded", "First what was done has to be on the disk.", "Enter tries again; F10 leaves.")
        if not command.allowed(self.walk):
            raise Refused("not-now", f"{command.words}: not at this step.", "F1 says what this step wants.")
        if command.action == "keypad":
            self.keypad = not self.keypad
            return
        if command.action == "undo" and self.aside is not None and self._opened != "undo":
            self.escape()
            return
        if command.action == "undo" and self.aside is not None:
            self.aside.enter("")
            return
        self._aside(command.action, rest)

    def _aside(self, action: str, rest: str) -> None:
        """What a command asks or shows first; its key again leaves a page."""
        from tui.app.asides import ASIDES, Page

        again = self.aside is not None and self._opened == action
        aside = ASIDES[action](self)
        self.said = ()
        if again and isinstance(aside, Page):
            self._back_under()
            return
        if again:
            self._left_over = self._line
            return
        if not isinstance(self.aside, Page):
            self._under.append(_Under(self.aside, self._opened, self._line, self.walk.prompt))
        self.aside, self._opened = aside, action
        if rest:
            aside.enter(rest)

    def _back_under(self) -> None:
        """To what the aside was begun over, with the line as it was, while the question is still the same."""
        self.aside, self._opened, self.mark = None, "", None
        while self._under:
            under = self._under.pop()
            if under.prompt == self.walk.prompt:
                self.aside, self._opened, self._left_over = under.aside, under.opened, under.line
                return


def _refrigerant(walk: Walk, name: str) -> str:
    """Of this circuit; empty while it is not known."""
    circuit = walk.machine.circuits.get(name)
    found = circuit.facts.values.get("refrigerant") if circuit is not None else None
    return found if isinstance(found, str) else ""
