"""Which row or line of a decide holds, with what unknown and close words leave open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

from tui.tree.model import UNKNOWN, Line, Row, Table, Test
from tui.walk.evaluate import YES, Truth


@dataclass(frozen=True, slots=True)
class Decision:
    """`to` is the destination, or None where unknown words leave more than one.

    `rows` are the sources of the rows or lines that hold. `elsewhere` are the other destinations that
    unknown words and the other verdicts of close words may lead to. `close` names the close columns or
    lines that part them.
    """

    to: str | None
    rows: tuple[str, ...]
    elsewhere: tuple[str, ...] = ()
    close: tuple[str, ...] = ()


WordOf = Callable[[str], tuple[str, tuple[str, ...]]]


def by_table(table: Table, word_of: WordOf) -> Decision:
    """`word_of(column)` gives (word or ``unknown``, the other verdicts if close)."""
    pairs = [word_of(column) for column in table.columns]
    rows = _rows(table, tuple(word for word, _ in pairs))
    targets = list(dict.fromkeys(row.to for row in rows))
    to = targets[0] if len(targets) == 1 else None
    close = tuple(c for c, (_, others) in zip(table.columns, pairs, strict=True) if others)
    elsewhere = dict.fromkeys(target for target in targets if target != to)
    if close:
        for words in product(*((word, *others) for word, others in pairs)):
            elsewhere.update((row.to, None) for row in _rows(table, words) if row.to != to)
    sources = tuple(row.source for row in rows)
    return Decision(to, sources, tuple(elsewhere), close if elsewhere else ())


def _rows(table: Table, words: tuple[str, ...]) -> list[Row]:
    """The row for these words; an unknown that no row names is tried with every value."""
    row = table.row_for(words)
    if row is not None:
        return [row]
    tries = [
        domain if word == UNKNOWN and not _named(table, index) else (word,)
        for index, (word, domain) in enumerate(zip(words, table.domains, strict=True))
    ]
    found = (table.row_for(combination) for combination in product(*tries))
    return list({id(r): r for r in found if r is not None}.values())


def _named(table: Table, index: int) -> bool:
    return any(UNKNOWN in (row.cells[index] or ()) for row in table.rows)


def by_lines(lines: tuple[Line, ...], truth: Callable[[Test], Truth]) -> Decision:
    """The first line whose test holds; an unknown test leaves it and the lines below open."""
    judged = [(line, YES if line.test is None else truth(line.test)) for line in lines]
    likely = _until(judged, lambda found: found.likely is not False, lambda found: found.likely is True)
    targets = list(dict.fromkeys(line.to for line in likely))
    to = targets[0] if len(targets) == 1 else None
    sources = tuple(line.source for line in likely)
    possible = _until(judged, lambda found: True in found.possible, lambda found: False not in found.possible)
    close = tuple(line.source for line, found in judged if found.close and line in possible)
    elsewhere = tuple(dict.fromkeys(line.to for line in possible if line.to != to))
    return Decision(to, sources, elsewhere, close if elsewhere else ())


def _until(
    judged: list[tuple[Line, Truth]], holds: Callable[[Truth], bool], ends: Callable[[Truth], bool]
) -> list[Line]:
    """The lines that may hold, down to the first that surely does."""
    lines = []
    for line, found in judged:
        if holds(found):
            lines.append(line)
        if ends(found):
            break
    return lines
