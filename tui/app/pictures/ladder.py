"""The temperature ladder: air, lines, evaporating and condensing on one scale, with the differences between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content

from tui.app.sheet import FAINT, STRONG, Line
from tui.quantity import Kind, Quantity, Value, show, usual_unit

if TYPE_CHECKING:
    from tui.walk import Walk

#: (name of the value, words on the ladder)
MEASURED = (
    ("discharge-line", "discharge line"),
    ("condensing-now", "condensing"),
    ("condenser-outlet", "condenser outlet"),
    ("condenser-air", "condenser air"),
    ("box-now", "box air"),
    ("compressor-inlet", "compressor inlet"),
    ("evaporator-outlet", "evaporator outlet"),
    ("supply-air", "supply air"),
    ("evaporating-now", "evaporating"),
)
WANTED = (
    ("condensing-wanted", "condensing"),
    ("box-wanted", "box"),
    ("evaporating-wanted", "evaporating"),
    ("evaporating-wanted-now", "evaporating, box as it is"),
)
#: (words, upper value, lower value, what it is judged as, column)
DIFFERENCES = (
    ("split", "condensing-now", "condenser-air", "condensing-now", 0),
    ("subcooling", "condensing-now", "condenser-outlet", "subcooling", 1),
    ("TD", "box-now", "evaporating-now", "evaporating-now", 0),
    ("superheat", "evaporator-outlet", "evaporating-now", "superheat", 1),
)
LEFT, BRACKET, RIGHT = 30, 23, 20  # cells
SIGNS = {"low": "▼", "high": "▲", "on": "="}


@dataclass(frozen=True, slots=True)
class Rung:
    """A temperature in kelvin, with its words and how it is shown."""

    name: str
    words: str
    kelvin: float
    shown: str


def rungs_of(walk: Walk, names: tuple[tuple[str, str], ...]) -> list[Rung]:
    """Those that are known, the hottest first."""
    values = _values(walk)
    found = []
    for name, words in names:
        value = values.get(name)
        if isinstance(value, Quantity) and value.kind is Kind.TEMPERATURE:
            found.append(Rung(name, words, value.si, show(value, usual_unit(value, walk.units))))
    return sorted(found, key=lambda rung: -rung.kelvin)


def _values(walk: Walk) -> dict[str, Value]:
    """What is known; the air in the box by whichever thermometer told it."""
    values = walk.values()
    air = next((values[name] for name in ("box-now", "box-air", "return-air") if name in values), None)
    return values if air is None else values | {"box-now": air}


def rows_of(rungs: list[Rung], hottest: float, coldest: float, height: int) -> dict[str, int]:
    """The row of each, hotter never below colder, each in a row of its own as long as there are enough."""
    span = max(hottest - coldest, 1e-9)
    wanted = [round((hottest - rung.kelvin) / span * (height - 1)) for rung in rungs]
    last = -1
    for place, row in enumerate(wanted):
        wanted[place] = last = max(row, last + 1)
    below = height
    for place in range(len(wanted) - 1, -1, -1):
        wanted[place] = below = min(wanted[place], below - 1)
    return {rung.name: max(0, row) for rung, row in zip(rungs, wanted, strict=True)}


def ladder_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """At most so many lines of so many cells; empty where fewer than two temperatures are known."""
    measured = rungs_of(walk, MEASURED)
    if len(measured) < 2 or height < 4 or width < LEFT:
        return []
    measured = measured[: height - 1]
    wanted = rungs_of(walk, WANTED)[: height - 1] if width >= LEFT + 2 * BRACKET + RIGHT else []
    everything = [*measured, *wanted]
    hottest, coldest = max(r.kelvin for r in everything), min(r.kelvin for r in everything)
    rows = rows_of(measured, hottest, coldest, height - 1)
    grid = [[" "] * width for _ in range(height - 1)]
    for rung in measured:
        _put(grid[rows[rung.name]], 1, f"{rung.shown:>8} ● {rung.words}")
    brackets = max(0, min(2, (width - LEFT) // BRACKET))
    for words, upper, lower, judged, column in DIFFERENCES:
        if upper in rows and lower in rows and column < brackets:
            text = _difference(walk, words, upper, lower, judged)
            _bracket(grid, (rows[upper], rows[lower]), LEFT + column * BRACKET, text)
    if wanted:
        at = rows_of(wanted, hottest, coldest, height - 1)
        for rung in wanted:
            _put(grid[at[rung.name]], LEFT + 2 * BRACKET, f"○ {rung.shown} {rung.words}"[: width - LEFT - 2 * BRACKET])
    head = " measured".ljust(LEFT + 2 * BRACKET) + "wanted" if wanted else " the ladder of temperatures"
    return [Line(Content.styled(head[:width], STRONG if not wanted else FAINT)), *map(_line, grid)]


def _line(row: list[str]) -> Line:
    return Line(Content("".join(row).rstrip()))


def _put(row: list[str], start: int, text: str) -> None:
    for place, letter in enumerate(text, start=start):
        if 0 <= place < len(row):
            row[place] = letter


def _bracket(grid: list[list[str]], rows: tuple[int, int], start: int, text: str) -> None:
    """From one row to the other, with its words beside the middle."""
    top, bottom = min(rows), max(rows)
    for row in range(top, bottom + 1):
        sign = "┐" if row == top else "┘" if row == bottom else "│"
        _put(grid[row], start, "─" if top == bottom else sign)
    _put(grid[(top + bottom) // 2], start + 2, text[: BRACKET - 3])


def _difference(walk: Walk, words: str, upper: str, lower: str, judged: str) -> str:
    """``TD 34 dF ▲``: the sign as in the table."""
    values = _values(walk)
    hot, cold = values[upper], values[lower]
    assert isinstance(hot, Quantity)
    assert isinstance(cold, Quantity)
    gap = values.get(words) if isinstance(values.get(words), Quantity) else hot - cold
    assert isinstance(gap, Quantity)
    row = next((row for row in walk.table() if row.name == judged.replace("-", " ")), None)
    sign = SIGNS.get(row.says, "") if row is not None and judged != "evaporating-now" else ""
    return f"{words} {show(gap, usual_unit(gap, walk.units))} {sign}".rstrip()
