"""Two tables compared by every combination of their words, and the combinations that part them as few rows."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from tui.tree.model import UNKNOWN, Table
from tui.tree.tables import ANY

LEFT_OPEN = "unsettled"  # where unknown words lead to more than one place
MOST_COMBINATIONS = 250_000
_MOST_IN_EVERY_ORDER = 2_000  # combinations that are joined in every order of the columns, to find the fewest rows
_MOST_ORDERS = 24

Words = tuple[str, ...]
Cells = tuple[frozenset[str], ...]


@dataclass(frozen=True, slots=True)
class Parted:
    """A block of combinations with one destination then and one now.

    `cells[i]` are the words of column i. `old` or `new` is None where the table did not have such words.
    unnamed: no row names them; they come from what is not known, tried with every word.
    """

    cells: Cells
    old: str | None
    new: str | None
    unnamed: bool = False

    @property
    def combinations(self) -> int:
        return math.prod(map(len, self.cells))


@dataclass(frozen=True, slots=True)
class Comparison:
    """`columns` of both tables with the words each can have, `unknown` the last of them."""

    columns: tuple[str, ...]
    domains: tuple[Words, ...]
    parted: tuple[Parted, ...]

    def row(self, cells: Cells) -> str:
        """Cells as a row of the table would have them: ``low, any, on or high``."""
        return ", ".join(
            ANY if len(cell) == len(domain) else " or ".join(in_order(cell, domain))
            for cell, domain in zip(cells, self.domains, strict=True)
        )


def in_order(cell: frozenset[str], domain: Words) -> list[str]:
    return [word for word in domain if word in cell]


@dataclass(frozen=True, slots=True)
class _Side:
    """A table over the columns of both. Each word is the bits of the rows it fits, or None: it has no such word.

    strict: rows that name the word, or any. tried: for unknown where no row names it, rows of every word.
    """

    table: Table
    strict: tuple[dict[str, int | None], ...]
    tried: tuple[dict[str, int | None], ...]

    @classmethod
    def of(cls, table: Table, columns: Words, domains: Sequence[Words]) -> _Side:
        strict = tuple(_fitting(table, column, domain) for column, domain in zip(columns, domains, strict=True))
        return cls(table, strict, tuple(_with_unknown_tried(table, c, m) for c, m in zip(columns, strict, strict=True)))

    def to(self, rows: int | None, tried: int | None) -> str | None:
        """Where the rows of these bits lead, as the walk takes them."""
        if rows is None or tried is None:
            return None
        places = {row.to for i, row in enumerate(self.table.rows) if (rows or tried) >> i & 1}
        return places.pop() if len(places) == 1 else LEFT_OPEN


def _fitting(table: Table, column: str, domain: Words) -> dict[str, int | None]:
    every = (1 << len(table.rows)) - 1
    if column not in table.columns:
        return dict.fromkeys(domain, every)
    place = table.columns.index(column)
    own = {*table.domains[place], UNKNOWN}
    cells = [row.cells[place] for row in table.rows]
    return {
        word: sum(1 << i for i, cell in enumerate(cells) if cell is None or word in cell) if word in own else None
        for word in domain
    }


def _with_unknown_tried(table: Table, column: str, fitting: dict[str, int | None]) -> dict[str, int | None]:
    if column not in table.columns:
        return fitting
    place = table.columns.index(column)
    if any(UNKNOWN in (row.cells[place] or ()) for row in table.rows):
        return fitting
    rows = 0
    for word in table.domains[place]:
        rows |= fitting[word] or 0
    return {**fitting, UNKNOWN: rows}


def comparable(old: Table, new: Table) -> bool:
    """Whether the combinations of both tables' words are few enough to look at each."""
    return math.prod(map(len, _domains(old, new).values())) <= MOST_COMBINATIONS


def compare(old: Table, new: Table, same: Callable[[str, str], bool]) -> Comparison:
    """Every combination of both tables' words that leads to another place, as blocks; none where not `comparable`.

    same: whether a destination of the old table and one of the new are one place.
    """
    both = _domains(old, new)
    columns, domains = tuple(both), tuple(both.values())
    if not comparable(old, new):
        return Comparison(columns, domains, ())
    groups: dict[tuple[str | None, str | None, bool], list[Words]] = {}
    then, now = (_Side.of(table, columns, domains) for table in (old, new))
    for words, before, after, unnamed in _outcomes(then, now, domains):
        if before != after if None in (before, after) else not same(before or "", after or ""):
            groups.setdefault((before, after, unnamed), []).append(words)
    parted = [
        Parted(cells, before, after, unnamed)
        for (before, after, unnamed), points in groups.items()
        for cells in blocks(points)
    ]
    return Comparison(columns, domains, tuple(sorted(parted, key=lambda part: _place(part, domains))))


def _place(part: Parted, domains: Sequence[Words]) -> tuple[bool, list[int]]:
    """Rows first, in the order of their words."""
    return part.unnamed, [min(d.index(w) for w in cell) for cell, d in zip(part.cells, domains, strict=True)]


def _domains(old: Table, new: Table) -> dict[str, Words]:
    """The words of each column of either table, those of now first, `unknown` last."""
    words: dict[str, dict[str, None]] = {}
    for table in (new, old):
        for column, domain in zip(table.columns, table.domains, strict=True):
            words.setdefault(column, {}).update(dict.fromkeys(domain))
    return {column: (*found, UNKNOWN) for column, found in words.items()}


def _outcomes(
    then: _Side, now: _Side, domains: Sequence[Words]
) -> Iterator[tuple[Words, str | None, str | None, bool]]:
    """Each combination with where it led, where it leads, and whether neither table names it."""
    sides = (then.strict, then.tried, now.strict, now.tried)

    def look(column: int, words: Words, rows: tuple[int | None, ...]) -> Iterator[tuple[Words, tuple[int | None, ...]]]:
        if column == len(domains):
            yield words, rows
            return
        for word in domains[column]:
            left = tuple(_both(r, side[column][word]) for r, side in zip(rows, sides, strict=True))
            yield from look(column + 1, (*words, word), left)

    every = tuple((1 << len(side.table.rows)) - 1 for side in (then, then, now, now))
    for words, (old, old_tried, new, new_tried) in look(0, (), every):
        yield words, then.to(old, old_tried), now.to(new, new_tried), not old and not new


def _both(rows: int | None, more: int | None) -> int | None:
    return None if rows is None or more is None else rows & more


def blocks(points: Iterable[Words]) -> list[Cells]:
    """These combinations, each once, as blocks: few of them, none overlapping."""
    single = [tuple(frozenset((word,)) for word in words) for words in points]
    if not single:
        return []
    columns = range(len(single[0]))
    orders = [tuple(columns)]
    if len(single) <= _MOST_IN_EVERY_ORDER:
        orders = [order for order, _ in zip(permutations(columns), range(_MOST_ORDERS), strict=False)]
    return min((_joined(single, order) for order in orders), key=len)


def _joined(cells: list[Cells], order: Sequence[int]) -> list[Cells]:
    """Blocks that differ in one column only are one, column after column, until no more join."""
    before = len(cells) + 1
    while len(cells) < before:
        before = len(cells)
        for column in order:
            alike: dict[Cells, frozenset[str]] = {}
            for one in cells:
                rest = one[:column] + one[column + 1 :]
                alike[rest] = alike.get(rest, frozenset()) | one[column]
            cells = [(*rest[:column], words, *rest[column:]) for rest, words in alike.items()]
    return cells
