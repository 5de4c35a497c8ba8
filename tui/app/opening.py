"""While the trees are still being read: the one question that needs none of them can be answered already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.app import keys
from tui.app.sheet import STRONG, Line, Part, item
from tui.app.view import View, refused, told
from tui.desk.line import LONGEST_TAG, cleaned
from tui.quantity import Refused

if TYPE_CHECKING:
    from collections.abc import Callable

    from tui.app.conversation import Conversation

READING = "Reading the trees ..."


class Opening:
    """A Conversation before there is a visit. `unit` is the unit's tag once it was given with Enter.

    The walk begins when it is `ready`: what was answered here is on the disk before anything else is asked.
    """

    def __init__(self, unit: str = "") -> None:
        """With a `unit` there is nothing to ask."""
        self.said: tuple[Part, ...] = ()
        self.mark: int | None = None
        self.mistyped = False
        self.theme = ""
        self.keypad = False
        self.height = 24
        self.after: Callable[[], Conversation] | None = None
        self.unit = unit
        self.ready = bool(unit)
        self.over = False
        self.in_aside = False
        self.ticking = False

    def view(self, width: int) -> View:
        if self.ready:
            return View((item("", READING, STRONG),))
        parts = (
            item("", "Which unit is it?", STRONG),
            item("why", "Its tag goes into the record and into the name of the file."),
        )
        return View(parts, (), "tag", "such as K-12; Enter alone: none")

    def cannot(self, problem: Refused) -> bool:
        return False

    def title(self) -> tuple[str, str]:
        return "lowside", ""

    def below(self, width: int, height: int, *, alone: bool) -> list[Line]:
        return []

    def side(self, width: int, height: int) -> list[Line]:
        return []

    def commands(self, width: int) -> list[tuple[str, keys.Command]]:
        return []

    def typing(self, text: str) -> None:
        line = cleaned(text)
        self.said = told(line, "unit") if line and not self.ready else ()

    def enter(self, text: str) -> bool:
        line = cleaned(text)
        if self.ready:
            return False
        self.mistyped = len(line) > LONGEST_TAG
        if self.mistyped:
            cure = "Shorten it; the rest can go into a note."
            self.said = refused(Refused("too-long", f"A tag has at most {LONGEST_TAG} letters.", cure))
            return False
        self.unit = line
        self.ready = True
        self.said = told(line or "none", "unit")
        return True

    def press(self, action: str) -> bool:
        if action == "leave":
            self.over = True
        elif action == "keypad":
            self.keypad = not self.keypad
        else:
            self.said = told("One moment: the visit has not begun yet.")
        return False

    def left_over(self) -> str:
        return ""

    def click(self, place: int) -> bool:
        return False

    def move(self, by: int) -> bool:
        return False

    def turn(self, by: int) -> bool:
        return False

    def escape(self) -> None:
        """There is nothing to leave yet."""

    def tick(self) -> bool:
        return False
