"""The board: every reading of this circuit at once, typed in any order, several in one line."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tui.app.modes import TalkMode, record, said_back, unit_keys
from tui.app.sheet import STRONG, Part, item
from tui.app.view import View
from tui.desk.everyday import SEVERAL, reading_called, unknown
from tui.desk.line import Choices
from tui.desk.saying import words
from tui.desk.several import Named, looked_at, named_in
from tui.quantity import Kind, Refused

if TYPE_CHECKING:
    from tui.app.talk import Talk
    from tui.walk.prompt import AskFor, BoardRow

NAME = 22  # cells of a reading's name
MOST = 40  # rows on one board
_NAME_AND_FIGURE = re.compile(r"[A-Za-z][A-Za-z /-]*[\s=:]+[-+.]?\d")


class Board(TalkMode):
    """A value goes to the reading that is marked; a reading's name before it goes anywhere."""

    own_words = True
    keeps_mark = True

    def __init__(self, talk: Talk) -> None:
        super().__init__(talk)
        self.rows = _fitting(sorted(talk.walk.board(), key=lambda row: (not row.asked, bool(row.shown))))
        if not self.rows:
            raise Refused("not-now", "There is no circuit to read yet.", "Answer this question first.")
        self.marked = self._next_empty(0)

    @property
    def choices(self) -> Choices:
        return tuple((row.reading.id, f"{words(row.reading.id)[:NAME]:<{NAME}}{row.shown or '·'}") for row in self.rows)

    def picked(self, line: str) -> str | None:
        """A reading by its name alone; the rest is a value."""
        return reading_called("-".join(line.lower().split()), [row.reading.id for row in self.rows])

    def view(self, width: int) -> View:
        row = self.rows[self._at()]
        parts = (
            item("board", f"Any reading, in any order. Several: {SEVERAL[self.talk.walk.units]}", STRONG),
            item("", f"{row.reading.words}  Enter alone: back to the question."),
        )
        label = row.reading.unit or "value"
        return View(parts, self.choices, label, self._hint(row), numbered=False, units=unit_keys(row.reading))

    def _hint(self, row: BoardRow) -> str:
        if row.reading.choices:
            return " / ".join(say for _, say in row.reading.choices)
        return "arrows: another reading"

    def _at(self) -> int:
        mark = self.talk.mark
        return mark if mark is not None and mark < len(self.rows) else self.marked or 0

    def says(self, place: int) -> tuple[Part, ...]:
        how = self.rows[place].reading.how
        return (item("how", how),) if how else ()

    # ---- typing

    def echo(self, line: str) -> tuple[Part, ...]:
        return () if not line or self.picked(line) else said_back(self._named(line))

    def _named(self, line: str) -> list[Named]:
        """The readings that the line names; without a name the one that is marked, also of what begins with ``=``."""
        walk, row = self.talk.walk, self.rows[self._at()].reading
        if line.startswith("="):
            return [looked_at(walk, line, row.id, line[1:].strip())]
        named = named_in(walk, line, self.talk.names)
        if named:
            return named
        own = looked_at(walk, line, row.id, line)
        meant = own.problem is None and row.kind is not Kind.TEXT
        return [own if meant or not _NAME_AND_FIGURE.match(line) else Named(line, problem=self._unknown(line, row))]

    def _unknown(self, line: str, row: AskFor) -> Refused:
        """A name that none knows is never filed as the value of another."""
        problem = unknown(line, self.talk.names)
        own = f" If it is the {words(row.id)}: = {line}" if row.kind is Kind.TEXT else ""
        return Refused(problem.code, problem.message, f"{problem.cure}{own}")

    def enter(self, line: str) -> None:
        if not line:
            self.talk.leave_aside(self)
            return
        named = self.picked(line)
        if named is not None:
            self.marked = next(place for place, row in enumerate(self.rows) if row.reading.id == named)
            return
        at, said = self._at(), self._named(line)
        record(self.talk, said)
        self._look_again()
        self.marked = self._next_empty(at + (len(said) == 1))

    def _look_again(self) -> None:
        """The same rows in the same order, with what they are now; what came by its name stands behind them."""
        now = {row.reading.id: row for row in self.talk.walk.board()}
        rows = [now.pop(row.reading.id, row) for row in self.rows]
        self.rows = _fitting([*rows, *(row for row in now.values() if row.shown)])

    def _next_empty(self, start: int) -> int:
        """The first reading not had, from there on and round again; else where it stands."""
        places = [*range(start, len(self.rows)), *range(min(start, len(self.rows)))]
        return next((place for place in places if not self.rows[place].shown), min(start, len(self.rows) - 1))


def _fitting(rows: list[BoardRow]) -> list[BoardRow]:
    """MOST of them: what is still to be had gives way to what is had, from the end."""
    empty = [place for place, row in enumerate(rows) if not row.shown]
    over = max(0, len(rows) - MOST)
    gone = set(empty[len(empty) - over :]) if over else set()
    return [row for place, row in enumerate(rows) if place not in gone][:MOST]
