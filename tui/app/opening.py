"""While the trees are still being read: the one question that needs none of them can be answered already."""

from __future__ import annotations

from tui.app import keys
from tui.app.look import prompt_parts, what_to_press
from tui.app.modes import View, refused, told, understood
from tui.app.sheet import STRONG, Line, Part, item
from tui.desk.typed import cleaned
from tui.quantity import Refused
from tui.walk.altitude import altitude_echo, altitude_prompt

READING = "Reading the trees ..."


class Opening:
    """A Conversation before there is a visit. `answer` is the altitude, once it was given with Enter."""

    def __init__(self, units: str, *, asks_altitude: bool) -> None:
        self.said: tuple[Part, ...] = ()
        self.mark: int | None = None
        self.mistyped = False
        self.answer = ""
        self.over = False
        self.in_aside = False
        self.ticking = False
        self._units = units
        self._prompt = altitude_prompt(units) if asks_altitude else None

    def view(self, width: int) -> View:
        if self._prompt is None or self.answer:
            return View((item("", READING, STRONG),))
        unit = self._prompt.readings[0].unit
        return View(tuple(prompt_parts(self._prompt)), (), unit, what_to_press(self._prompt, False))

    def title(self) -> tuple[str, str]:
        return "lowside", ""

    def below(self, width: int, height: int) -> list[Line]:
        return []

    def commands(self, width: int) -> list[tuple[str, keys.Command]]:
        return []

    def typing(self, text: str) -> None:
        line = cleaned(text)
        self.said = understood(altitude_echo(line, self._units)) if line and self._prompt is not None else ()

    def enter(self, text: str) -> bool:
        line = cleaned(text)
        if self._prompt is None or self.answer or not line:
            return False
        echo = altitude_echo(line, self._units)
        self.mistyped = not echo.ok
        if not echo.ok:
            self.said = refused(Refused("no-altitude", echo.problem, echo.cure))
            return False
        self.answer = line
        self.said = told(echo.words, "taken as")
        return True

    def press(self, action: str) -> bool:
        if action == "leave":
            self.over = True
        else:
            self.said = told("One moment: the trees are still being read.")
        return False

    def left_over(self) -> str:
        return ""

    def click(self, place: int) -> bool:
        return False

    def move(self, by: int) -> bool:
        return False

    def escape(self) -> None:
        """There is nothing to leave yet."""

    def tick(self) -> bool:
        return False
