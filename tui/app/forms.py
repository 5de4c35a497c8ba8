"""Modes of any conversation: a few words, one of several, a page to read."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tui.app.choices import choice_hint
from tui.app.mode import Host, Mode, choice
from tui.app.sheet import FAINT, STRONG, Part, item
from tui.app.view import View, told
from tui.desk.line import Choices, chosen_of
from tui.quantity import Refused

Then = Callable[[str], None]


class Reason(Mode):
    """A few words: one of those offered, or the person's own. `then` raises Refused if it won't do."""

    own_words = True

    def __init__(
        self, talk: Host, title: str, then: Then, *, offered: tuple[str, ...] = (), label: str = "why"
    ) -> None:
        super().__init__(talk)
        self.title, self.then, self.label = title, then, label
        self.offered: Choices = tuple((each, each) for each in offered)

    @property
    def choices(self) -> Choices:
        return self.offered

    def picked(self, line: str) -> str | None:
        """A digit; a beginning may be the person's own words."""
        return chosen_of(self.offered, line)

    def view(self, width: int) -> View:
        hint = "your own words, or a digit" if self.offered else "your own words, then Enter"
        parts = (item("", self.title, STRONG), item("", "ESC: leave it", FAINT))
        return View(parts, self.offered, self.label, hint)

    def enter(self, line: str) -> None:
        if not line and self.talk.mark is None:
            raise Refused("empty", "Nothing was typed.", "A few words, then Enter; ESC: leave it.")
        self.then(self.picked(line) or line or choice(self.offered, line, self.talk.mark))
        self.talk.leave_aside(self)


class Pick(Mode):
    """One of several."""

    def __init__(
        self, talk: Host, title: tuple[Part, ...], choices: Choices, then: Then, *, marked: int | None = None
    ) -> None:
        """marked: the place of the one that Enter alone takes."""
        super().__init__(talk)
        self.title, self.offered, self.then, self.marked = title, choices, then, marked

    @property
    def choices(self) -> Choices:
        return self.offered

    def view(self, width: int) -> View:
        return View((*self.title, item("", "ESC: leave it", FAINT)), self.choices, "which", choice_hint(self.choices))

    def echo(self, line: str) -> tuple[Part, ...]:
        found = self.picked(line)
        return told(dict(self.choices)[found], "taken as") if found is not None else ()

    def enter(self, line: str) -> None:
        self.then(choice(self.choices, line, self.talk.mark))
        self.talk.leave_aside(self)


class Page(Mode):
    """Something to read; Enter, ESC or its key again leaves it."""

    def __init__(self, talk: Host, name: str, made: Callable[[int], Iterator[Part]]) -> None:
        super().__init__(talk)
        self.name, self.made = name, made

    def view(self, width: int) -> View:
        return View(tuple(self.made(width)), hint="Enter: back", page=True)

    def enter(self, line: str) -> None:
        if line:
            raise Refused("not-now", "This page is only for reading.", "Enter goes back.")
        self.talk.leave_aside(self)
