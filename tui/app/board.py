"""The board: every reading of this circuit at once, typed in any order, several in one line."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tui.app.modes import TalkMode, understood, unit_keys
from tui.app.sheet import STRONG, WARN, Part, item
from tui.app.view import View, told
from tui.desk.line import Choices, chosen_of
from tui.desk.saying import words
from tui.desk.typed import begins_with_reading, needed
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.talk import Talk
    from tui.walk.prompt import BoardRow

NAME = 22  # cells of a reading's name
MOST = 40  # rows on one board
_BETWEEN = re.compile(r"[;,]\s+|;|,(?=\s*[A-Za-z])")


class Board(TalkMode):
    """A value goes to the reading that is marked; a reading's name before it goes anywhere."""

    own_words = True
    keeps_mark = True

    def __init__(self, talk: Talk) -> None:
        super().__init__(talk)
        self.rows = sorted(talk.walk.board(), key=lambda row: (not row.asked, bool(row.shown)))[:MOST]
        if not self.rows:
            raise Refused("not-now", "There is no circuit to read yet.", "Answer this question first.")
        self.marked = self._next_empty(0)

    @property
    def choices(self) -> Choices:
        return tuple((row.reading.id, f"{words(row.reading.id)[:NAME]:<{NAME}}{row.shown or '·'}") for row in self.rows)

    def picked(self, line: str) -> str | None:
        """A reading by its name alone; the rest is a value."""
        name = "-".join(line.lower().split())
        return name if any(row.reading.id == name for row in self.rows) else None

    def view(self, width: int) -> View:
        row = self.rows[self._at()]
        parts = (
            item("board", "Any reading, in any order. Several: suction 12, head 180", STRONG),
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
        if not line or self.picked(line):
            return ()
        said: list[Part] = []
        for piece in self._pieces(line):
            try:
                reading, text = self._read(piece)
            except Refused as problem:
                said.append(item("not yet", f"{problem.message} {problem.cure}", label_style=WARN))
                continue
            said += understood(self.talk.walk.try_answer(text, reading), words(reading))
        return tuple(said)

    def _pieces(self, line: str) -> list[str]:
        """Several readings only where each is named: 12,5 is one value."""
        pieces = [piece.strip() for piece in _BETWEEN.split(line) if piece.strip()]
        named = [piece for piece in pieces if begins_with_reading(piece, self.talk.names)]
        return pieces if len(pieces) > 1 and named else [line]

    def _read(self, piece: str) -> tuple[str, str]:
        """(reading, value) of what was typed. Raises Refused for a value that is none of the choices."""
        found = begins_with_reading(piece, self.talk.names)
        if found is None:
            row = self.rows[self._at()]
            found = row.reading.id, needed(piece)
        return found[0], self._choice(*found)

    def _choice(self, reading: str, text: str) -> str:
        row = next((row for row in self.rows if row.reading.id == reading), None)
        if row is None or not row.reading.choices:
            return text
        exact = chosen_of(row.reading.choices, text)
        begun = [choice for choice, say in row.reading.choices if say.lower().startswith(text.lower())]
        return exact or (begun[0] if len(begun) == 1 else text)

    def enter(self, line: str) -> None:
        if not line:
            self.talk.leave_aside(self)
            return
        named = self.picked(line)
        if named is not None:
            self.marked = next(place for place, row in enumerate(self.rows) if row.reading.id == named)
            return
        at = self._at()
        given = self._all(line)
        if not given:
            return
        self._look_again()
        self.marked = self._next_empty(at + (len(given) == 1))
        self.talk.said = told("; ".join(given), "recorded")

    def _look_again(self) -> None:
        """The same rows in the same order, with what they are now; what came by its name stands behind them."""
        now = {row.reading.id: row for row in self.talk.walk.board()}
        self.rows = [now.pop(row.reading.id, row) for row in self.rows]
        self.rows += [row for row in now.values() if row.shown][: MOST - len(self.rows)]

    def _all(self, line: str) -> list[str]:
        """Each is looked at before any counts, so that a slip in one leaves none half done."""
        walk = self.talk.walk
        read = [self._read(piece) for piece in self._pieces(line)]
        for reading, text in read:
            echo = walk.try_answer(text, reading)
            if not echo.ok:
                raise Refused("not-understood", f"{words(reading)}: {echo.problem}", echo.cure)
        if len(read) == 1 and self.talk.shown_first(*read[0]):
            return []
        for reading, text in read:
            if walk.contradicted(reading, text) is not None:
                raise Refused("known", f"{words(reading)}: it was known otherwise before this visit.", "Type it alone.")
        for reading, text in read:
            self._tell(reading, text)
        return [f"{words(reading)} {text}" for reading, text in read]

    def _tell(self, reading: str, text: str) -> None:
        prompt = self.talk.walk.prompt
        asked = prompt is not None and any(each.id == reading for each in prompt.readings)
        if asked:
            self.talk.act(lambda walk: walk.answer({reading: text}))
        else:
            self.talk.act(lambda walk: walk.tell(reading, text))

    def _next_empty(self, start: int) -> int:
        """The first reading not had, from there on and round again; else where it stands."""
        places = [*range(start, len(self.rows)), *range(min(start, len(self.rows)))]
        return next((place for place in places if not self.rows[place].shown), min(start, len(self.rows) - 1))
