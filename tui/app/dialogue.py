"""What every conversation does with keys and lines, whatever it is about."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from typing import TYPE_CHECKING

from tui.app.mode import Mode
from tui.app.sheet import Part
from tui.app.view import refused, told
from tui.desk.line import cleaned
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.conversation import Conversation
    from tui.app.keys import Command

MEND = ("ambiguous", "no-unit", "no-value", "bad-name", "same-name")  # what was typed needs only a little more
SHORT = 60  # characters; longer words of a person's own are never typed over by one key
REST = 0.3  # seconds between two Enters on an empty line: a key held down must not read cautions


class Dialogue(ABC):
    """A conversation that is always at one mode. Every method leaves what is to be shown in `said`."""

    def __init__(self, mono: Callable[[], float]) -> None:
        """mono: seconds that never jump."""
        self.said: tuple[Part, ...] = ()
        self.mark: int | None = None
        self.mistyped = False
        self.theme = ""
        self.keypad = False
        self.height = 24
        self.after: Callable[[], Conversation] | None = None
        self._mono = mono
        self._line = ""
        self._left_over = ""
        self._last_enter = float("-inf")

    def cannot(self, problem: Refused) -> bool:
        """What was to follow can't be. Whether this stands on and says so."""
        return False

    @property
    @abstractmethod
    def mode(self) -> Mode:
        """What it is at."""

    def command_of(self, line: str) -> Command | None:
        """The command that a typed line is."""
        return None

    def command(self, line: str) -> None:
        """Does what that command says. Raises Refused."""
        raise NotImplementedError

    def typing(self, text: str) -> None:
        """The line has changed: it is said back, nothing else."""
        self._line = text
        line = cleaned(text)
        mode = self.mode
        found = mode.picked(line) if line else None
        if found is not None or not mode.keeps_mark:
            at = next((place for place, (each, _) in enumerate(mode.choices) if each == found), None)
            self.mark = at if line else mode.marked
        command = self.command_of(line) if mode.commands and found is None else None
        self.said = told(command.help, command.words.lower()) if command is not None else mode.echo(line)

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
        now = self._mono()
        rested, self._last_enter = now - self._last_enter >= REST, now
        self._line = text
        line = cleaned(text)
        return self._take(line) if line or rested else False

    def _take(self, line: str) -> bool:
        mode = self.mode
        stood, self._line = self._line, ""  # what is taken stands under nothing that it begins
        if mode.commands and mode.picked(line) is None and self.command_of(line) is not None:
            return self.refusing(lambda: self.command(line), line)
        taken = self.refusing(lambda: self.mode.enter(line), line)
        self._line = self._line if taken else stood
        return taken

    def refusing(self, act: Callable[[], None], line: str = "") -> bool:
        before = self.said
        self.mistyped = False
        try:
            act()
        except Refused as problem:
            self.said = refused(problem)
            short = len(line) <= SHORT or self.mode.keeps_mark
            self.mistyped = bool(line) and short and problem.code not in MEND
            return False
        if self.said is before:
            self.said = ()
        self.mark = self.mode.marked
        return True
