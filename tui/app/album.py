"""The pictures of a walk, one at a time; left and right turn to the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.app.modes import TalkMode
from tui.app.pictures import pictures, waiting
from tui.app.sheet import FAINT, Line, item
from tui.app.view import View
from tui.desk.line import Choices
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.talk import Talk

AROUND = 9  # lines of the screen that are no picture


class Album(TalkMode):
    """A picture fills the page; its number, or the arrows, show another."""

    def __init__(self, talk: Talk) -> None:
        super().__init__(talk)
        self.at = 0
        if not pictures(talk.walk):
            cure = "Take two temperatures, or a pressure and a temperature, first."
            raise Refused("not-now", "There is nothing to draw yet.", cure)

    @property
    def busy(self) -> bool:  # type: ignore[override]
        return waiting()

    def view(self, width: int) -> View:
        found = pictures(self.talk.walk)
        self.at = min(self.at, len(found) - 1)
        names = "  ".join(f"{n} {each.words}" for n, each in enumerate(found, start=1))
        drawn = found[self.at].draw(width, max(6, self.talk.height - AROUND))
        parts: tuple[Line, ...] = tuple(drawn)
        return View((item("", names, FAINT), *parts), hint="number: another picture; Enter: back", page=True)

    @property
    def _choices(self) -> Choices:
        return tuple((each.name, each.words) for each in pictures(self.talk.walk))

    def enter(self, line: str) -> None:
        if not line:
            self.talk.leave_aside(self)
            return
        found = [place for place, (name, say) in enumerate(self._choices) if line.lower() in (name, say.lower())]
        if line.isdigit() and 1 <= int(line) <= len(self._choices):
            found = [int(line) - 1]
        if not found:
            names = ", ".join(say for _, say in self._choices)
            raise Refused("not-a-choice", f"{line!r} is no picture.", f"There are: {names}.")
        self.at = found[0]

    def turn(self, by: int) -> bool:
        """To the next picture, or the one before."""
        self.at = (self.at + by) % len(self._choices)
        return True
