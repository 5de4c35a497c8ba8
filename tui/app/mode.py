"""What a conversation can be at, whatever it is about, and how a choice is taken."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Protocol

from tui.app.choices import choice_hint
from tui.app.sheet import Part
from tui.app.view import View
from tui.desk.line import Choices, chosen_of
from tui.quantity import Refused, nearest


class Host(Protocol):
    """The conversation, as its modes need it."""

    said: tuple[Part, ...]
    mark: int | None
    height: int

    def say(self, done: str, label: str = "") -> None:
        """What has been done."""

    def begin_aside(self, aside: Mode) -> None:
        """Over what stands there now."""

    def leave_aside(self, mode: Mode) -> None:
        """Back to what stood there before it."""

    def put_aside(self, mode: Mode, other: Mode) -> None:
        """`other` in the place of `mode`."""


class Mode(ABC):
    """One thing the screen can be at."""

    commands = False  # whether a typed command word counts here
    own_words = False  # whether what is typed need be none of the choices
    keeps_mark = False  # whether what is typed goes to the choice that is marked
    marked: int | None = None  # the choice that Enter takes at first
    busy = False  # whether it is still being worked out, so that the screen looks again

    def __init__(self, talk: Host) -> None:
        self.talk = talk

    @property
    def choices(self) -> Choices:
        """What can be chosen."""
        return ()

    def picked(self, line: str) -> str | None:
        """The choice that a line names; None where it names none."""
        return picked(self.choices, line)

    @abstractmethod
    def view(self, width: int) -> View:
        """What is shown now."""

    @abstractmethod
    def enter(self, line: str) -> None:
        """Enter was pressed on this line. Raises Refused: then the line stays."""

    def echo(self, line: str) -> tuple[Part, ...]:
        """What the line would mean, while it is typed."""
        return ()

    def turn(self, by: int) -> bool:
        """Left or right on an empty line. Whether it did anything."""
        return False

    def left(self) -> None:
        """It was left with ESC."""
        self.talk.said = ()

    def back(self) -> bool:
        """F3 in it. Whether it went back to something of its own."""
        return False

    def again(self) -> Mode:
        """The same with what is known now, when what was begun over it is done."""
        return self

    def says(self, place: int) -> tuple[Part, ...]:
        """More about the choice at this place, while it is marked."""
        return ()


def picked(choices: Choices, line: str) -> str | None:
    """The choice that a line names: a digit, its words, or the one it begins."""
    exact = chosen_of(choices, line)
    if exact is not None or not line:
        return exact
    lower = line.lower()
    begun = [choice for choice, say in choices if say.lower().startswith(lower) or choice.lower().startswith(lower)]
    return begun[0] if len(begun) == 1 else None


def choice(choices: Choices, line: str, marked: int | None) -> str:
    """The choice that Enter takes. Raises Refused with the nearest one."""
    if not line and marked is not None:
        return choices[marked][0]
    if not line:
        hint = choice_hint(choices)
        raise Refused("empty", "Nothing is chosen yet.", f"{hint[:1].upper()}{hint[1:]}.")
    found = picked(choices, line)
    if found is not None:
        return found
    near = nearest(line, [say for _, say in choices])
    cure = f"Did you mean {near}?" if near else "Take one of those above."
    raise Refused("not-a-choice", f"{line!r} is none of these.", cure)


def nothing_else(line: str, cure: str) -> None:
    """Raises Refused for words that mean nothing where Enter alone is wanted."""
    if line and line.lower() not in ("ok", "yes", "close", "done", "read"):
        raise Refused("not-understood", f"{line!r} is nothing to do here.", cure)
