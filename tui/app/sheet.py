"""A sheet: labels in a left margin, words beside them, as on a job card. Styled text, never markup."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rich.cells import cell_len
from textual.content import Content

STRONG = "bold"
FAINT = "$text-muted"
WARN = "bold $text-warning"
BAD = "bold $text-error"
GOOD = "bold $text-success"
MARKED = "bold reverse"

MARGIN = 10  # cells of a label, right-aligned; two blanks follow
NARROW = 60  # screens narrower than this have no margin: the label stands before its words
_GAP = 2
_TALL = 12  # lines of choices side by side that a small screen has room for
_RIGHT = 2  # cells left free at the right edge, unless narrow


@dataclass(frozen=True, slots=True)
class Item:
    """One label with its words. `choice`: the place of the choice that this is, counted from 0."""

    label: str
    words: Content
    label_style: str = FAINT
    choice: int | None = None


@dataclass(frozen=True, slots=True)
class Columns:
    """Many short choices side by side; `marked` is the place of the one that Enter would take."""

    words: tuple[str, ...]
    marked: int | None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the screen; `spots` are (from cell, to cell, choice) that a click can hit."""

    content: Content
    spots: tuple[tuple[int, int, int], ...] = ()

    def choice_at(self, x: int) -> int | None:
        return next((choice for start, end, choice in self.spots if start <= x < end), None)


Part = Item | Columns | Line


def item(label: str, words: str, style: str = "", label_style: str = FAINT) -> Item:
    """Words of anybody, in one style."""
    return Item(label, styled(words, style), label_style)


def styled(words: str, style: str = "") -> Content:
    return Content.styled(shown(words), style) if style else Content(shown(words))


@lru_cache(maxsize=512)
def shown(words: str) -> str:
    """Words as a screen can bear them: what would steer a terminal or turn the writing round is shown as �."""
    return words if words.isascii() and words.isprintable() else "".join(map(_bearable, words))


def _bearable(character: str) -> str:
    if character in "\n":
        return character
    if character == "\t":
        return " "
    steers = unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp")
    turns = unicodedata.bidirectional(character) in ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
    return "\N{REPLACEMENT CHARACTER}" if steers or turns else character


def margin(width: int) -> int:
    """Cells before the words."""
    return MARGIN + _GAP if width >= NARROW else 0


def laid_out(parts: Iterable[Part], width: int) -> list[Line]:
    """Every part as lines of at most `width` cells."""
    lines: list[Line] = []
    for part in parts:
        if isinstance(part, Line):
            lines.append(part)
        elif isinstance(part, Columns):
            lines += _columns(part, width)
        else:
            lines += _item(part, width)
    return lines


def _item(part: Item, width: int) -> list[Line]:
    left = margin(width)
    spots = ((0, width, part.choice),) if part.choice is not None else ()
    if not left:
        head = Content.styled(f"{part.label} ", part.label_style) if part.label else Content("")
        return [Line(line, spots) for line in (head + part.words).wrap(max(width, 2))]
    lines = part.words.wrap(max(width - left - _RIGHT, 2)) or [Content("")]
    label = part.label[:MARGIN].rjust(MARGIN) + " " * _GAP
    heads = [Content.styled(label, part.label_style), *[Content(" " * left)] * (len(lines) - 1)]
    return [Line(head + line, spots) for head, line in zip(heads, lines, strict=True)]


def _columns(part: Columns, width: int) -> list[Line]:
    """As few lines as there can be; where they would be too many, the margin gives way to one more column."""
    cells = [cell_len(shown(words)) + 3 for words in part.words]
    left = margin(width)
    down, wide = _widths(cells, width - left)
    if left and down > _TALL:
        down, wide = _widths(cells, width)
        left = min(left, width - sum(wide))
    return [_across(part, range(row, len(cells), down), left, wide) for row in range(down)]


def _widths(cells: Sequence[int], room: int) -> tuple[int, list[int]]:
    """Rows, and the widths of as many columns, filled one after the other, as there is room for; at least one."""
    for down in range(1, len(cells)):
        wide = [max(cells[top : top + down]) for top in range(0, len(cells), down)]
        if sum(wide) <= room:
            return down, wide
    return len(cells), [max(cells, default=1)]


def _across(part: Columns, places: Sequence[int], left: int, wide: Sequence[int]) -> Line:
    pieces: list[Content] = [Content(" " * left)]
    spots: list[tuple[int, int, int]] = []
    for place, size in zip(places, wide, strict=False):
        cell = f" {shown(part.words[place])} "
        pieces += [
            Content.styled(cell, MARKED if place == part.marked else ""),
            Content(" " * (size - cell_len(cell))),
        ]
        spots.append((left, left + size, place))
        left += size
    return Line(Content("").join(pieces), tuple(spots))


def window(lines: list[Line], height: int, top: int, indent: int = 0) -> tuple[list[Line], int]:
    """The lines that fit from `top` on, and the top that was possible; what is left out is said."""
    if len(lines) <= height:
        return lines, 0
    top = max(0, min(top, len(lines) - height + 1))
    kept = lines[top : top + height - 1]
    below = len(lines) - top - len(kept)
    say = f"... {below} more below: PageDown" if below else "--- the end; PageUp for the beginning"
    return [*kept, Line(Content(" " * indent) + Content.styled(say, FAINT))], top


def joined(lines: Iterable[Line]) -> Content:
    return Content("\n").join(line.content for line in lines)
