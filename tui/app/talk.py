"""The talk between a person and a visit, without a screen: what stands there, what a key or a line does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from tui.app import keys
from tui.app.dialogue import Dialogue
from tui.app.look import below
from tui.app.mode import Mode
from tui.app.modes import Asked, Found, Unrecorded
from tui.app.sheet import Line, Part, item
from tui.app.view import View, told
from tui.desk.saying import words
from tui.desk.several import told_of
from tui.quantity import Refused
from tui.walk.kinds import OFFER, UNIT

if TYPE_CHECKING:
    from tui.desk.session import Visit
    from tui.desk.several import Named
    from tui.proof.apart import Unreached
    from tui.tree.model import Cause
    from tui.walk import Walk
    from tui.walk.prompt import Change, Given, Prompt


@dataclass(frozen=True, slots=True)
class _Under:
    """What stood there when a command began an aside over it, with what was typed so far."""

    aside: Mode | None
    opened: str
    line: str
    prompt: Prompt | None


class Talk(Dialogue):
    """One person at one visit. Every method leaves the next thing to show in `view` and `said`.

    `map_looks`: whether the map looks by itself for what no example reaches.
    """

    map_looks = False

    def __init__(self, visit: Visit, notices: Iterable[str] = (), key_map: Mapping[str, str] | None = None) -> None:
        super().__init__(lambda: visit.clock.mono())
        self.visit = visit
        self.notices: tuple[Part, ...] = tuple(item("note", notice) for notice in notices)
        self.aside: Mode | None = None
        self.left = False
        self.waits = visit.waits
        self.findings_seen = 0 if visit.walk.prompt is None else len(visit.walk.findings)
        self._opened = ""
        self._held = ""
        self._under: list[_Under] = []
        self._trouble: Unrecorded | None = None
        self._doubted: tuple[str, str, str | None] | None = None
        self._key_map = dict(key_map or {})
        self.unreached: dict[str, Unreached] = {}  # by tree: what no example reaches, once the map was asked
        self.waits.look(visit.walk)

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
        unit = self.walk.opening["unit"] or "lowside"
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

    def command_of(self, line: str) -> keys.Command | None:
        found = keys.command_of(line)
        return None if found is None else found[0]

    def command(self, line: str) -> None:
        found = keys.command_of(line)
        if found is not None:
            self._do(*found)

    def press(self, action: str) -> bool:
        """A key, by its command's action. Whether the line is to be emptied."""
        return self.refusing(lambda: self._do(keys.BY_ACTION[action], ""))

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

    def record(self, line: str) -> None:
        """Tries the disk again; a line typed meanwhile stays for the question."""
        self._left_over = line
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
            self.say(f"{self.name_of(given[-1])}: {given[-1].shown}", "recorded")

    def sure(self, typed: str, reading: str, value: str, circuit: str | None = None) -> None:
        """Raises Refused, once for a text, where its value can hardly be so; typed again it is believed."""
        asked = (typed, reading, circuit)
        doubts = self.walk.doubts(value, reading, circuit) if asked != self._doubted else ()
        self._doubted = asked if doubts else None
        if doubts:
            raise Refused("doubtful", " ".join(doubts), f"Enter once more if {value} is right; else type what is.")

    def known_of(self, reading: str, text: str) -> tuple[dict[str, Any], ...]:
        """What earlier visits know, where it is the unit's tag that is put right."""
        from tui.desk.before import before

        path = self.visit.path
        if reading != UNIT or path is None:
            return ()
        return before(path.parent, text, self.walk.library, self.visit.clock.now().date(), path).items

    def name_of(self, given: Given | Change) -> str:
        """A reading as it is spoken, with its circuit where there are several."""
        several = len(self.walk.circuits) > 1 and given.circuit
        return f"{given.circuit} {words(given.reading)}" if several else words(given.reading)

    def shown_first(self, reading: str, text: str, circuit: str | None = None) -> bool:
        """Whether that contradicts what was known before this visit: then what it changes stands there first."""
        known = self.walk.contradicted(reading, text, circuit)
        if known is None:
            return False
        from tui.app.correcting import confirm

        self.begin_aside(confirm(self, self.walk.correct(known, text)))
        return True

    def say_told(self, done: Sequence[Named]) -> None:
        """The readings just told by their names, as they were taken."""
        if len(done) == 1:
            self.say_given()
        else:
            self.say(told_of(done), "recorded")

    def keep(self, wrong: Iterable[Named]) -> None:
        """These parts stay in the line, once the rest of it is taken."""
        self._left_over = "; ".join(each.piece for each in wrong)

    def hold_back(self, wrong: Sequence[Named]) -> None:
        """Raises Refused for the first. What came before its circuit was named comes back when that is."""
        problem = next(each.problem for each in wrong if each.problem is not None)
        if problem.code != "which-circuit" or self.walk.circuits:
            raise problem
        self._held = "; ".join(each.piece for each in wrong)
        cure = "First the circuits (one: type 1); then this stands in the line again."
        raise Refused(problem.code, problem.message, cure)

    def begin_aside(self, aside: Mode) -> None:
        """Over what stands there now, to which it goes back."""
        self._under.append(_Under(self.aside, self._opened, "", self.walk.prompt))
        self.aside, self._opened = aside, ""

    def put_aside(self, mode: Mode, other: Mode) -> None:
        """`other` in the place of `mode`."""
        if self.aside is mode:
            self.aside = other

    def leave_aside(self, mode: Mode) -> None:
        if self.aside is mode:
            self._back_under()

    def use(self, text: str) -> None:
        """A value worked out beside the walk goes into the line of the question; Enter is still the person's."""
        self.aside, self._opened = None, ""
        self._under.clear()
        self._left_over = text

    def begin_with(self, text: str) -> None:
        """Stands in the line of what comes next, to be changed."""
        self._left_over = text

    def waited(self, reason: str | None) -> None:
        """The wait is over, or cut short for that reason."""
        prompt = self.walk.prompt
        assert prompt is not None
        seconds = round(self.waits.waited(prompt), 3)
        self.act(lambda walk: walk.waited(seconds, reason))

    # ---- inside

    def _moved(self) -> None:
        if self._held and self.walk.circuits:
            self._left_over, self._held = self._held, ""
        self.findings_seen = min(self.findings_seen, len(self.walk.findings))
        self.waits.look(self.walk)

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
        from tui.app.asides import ASIDES
        from tui.app.forms import Page

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
