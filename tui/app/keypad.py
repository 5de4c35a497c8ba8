"""Keys on the screen, for a mouse or a finger: each at least six cells wide."""

from __future__ import annotations

from textual.content import Content
from textual.style import Style

NUMBER, WORDS = "number", "words"
DELETE, CLEAR, ENTER, SPACE = "delete", "clear", "Enter", "space"
WIDE = 6  # cells of a key
_NUMBERS = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "-")
_LETTERS = (tuple("1234567890"), tuple("qwertyuiop"), tuple("asdfghjkl"), (*"zxcvbnm", "-", SPACE))


def rows_of(typing: str, units: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The keys, row by row, for a number in one of these units, or for words."""
    if typing == NUMBER:
        return [_NUMBERS, (*units, SPACE, DELETE, CLEAR, ENTER)]
    return [*_LETTERS, (DELETE, CLEAR, ENTER)]


def drawn(rows: list[tuple[str, ...]], width: int) -> list[Content]:
    """Each row as wide as it needs, or cut where the screen ends; a click on a key is `app.pad('KEY')`."""
    lines = []
    for row in rows:
        size = max(WIDE, min(8, (width - 1) // len(row)))
        pieces = [Content(" ")]
        for key in row:
            style = Style.from_meta({"@click": f"app.pad({key!r})"})
            wide = max(size, len(key) + 3)
            pieces += [Content.styled(key.center(wide - 1), "bold reverse").stylize(style), Content(" ")]
        lines.append(Content("").join(pieces))
    return lines
