"""Cells to draw on: letters put in rows and columns, what does not fit is cut, each run with its style."""

from __future__ import annotations

from itertools import groupby

from textual.content import Content

from tui.app.sheet import Line


class Canvas:
    """`height` rows of `width` cells, all blank."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._letters = [[" "] * width for _ in range(height)]
        self._styles = [[""] * width for _ in range(height)]

    def put(self, row: int, column: int, text: str, style: str = "") -> None:
        """Each letter over what was there; what lies outside is left out."""
        if not 0 <= row < self.height:
            return
        for at, letter in enumerate(text, start=column):
            if 0 <= at < self.width:
                self._letters[row][at] = letter
                self._styles[row][at] = style

    def at(self, row: int, column: int) -> str:
        """The letter there; a blank outside."""
        inside = 0 <= row < self.height and 0 <= column < self.width
        return self._letters[row][column] if inside else " "

    def paste(self, other: Canvas, row: int, column: int) -> None:
        """Another one upon this, blanks too."""
        for place in range(other.height):
            for at in range(other.width):
                self.put(row + place, column + at, other._letters[place][at], other._styles[place][at])

    def lines(self) -> list[Line]:
        return [self._line(row) for row in range(self.height)]

    def _line(self, row: int) -> Line:
        end = len("".join(self._letters[row]).rstrip())
        cells = zip(self._letters[row][:end], self._styles[row][:end], strict=True)
        pieces = []
        for style, run in groupby(cells, key=lambda cell: cell[1]):
            text = "".join(letter for letter, _ in run)
            pieces.append(Content.styled(text, style) if style else Content(text))
        return Line(Content("").join(pieces))
