"""Rows and lines of a decision as a person reads them: what the trail says, and what is too close to call."""

from __future__ import annotations

from collections.abc import Iterable

from tui.tree.model import UNKNOWN, Decide, Row, Step, Table
from tui.walk.kinds import spoken
from tui.walk.wording import OTHERWISE, plain, said

_VERDICTS = {"low", "on", "high", UNKNOWN}


def taken(step: Step | None, rows: Iterable[str]) -> str:
    """``superheat level is low; head level is as wanted or not known``: the rows or lines that held."""
    return " - or ".join(dict.fromkeys(row_words(step, row) for row in rows))


def row_words(step: Step | None, row: str) -> str:
    """One row of a table by its columns, one line of tests with its names spoken."""
    table = step.table if isinstance(step, Decide) else None
    found = next((each for each in table.rows if each.source == row), None) if table is not None else None
    if table is not None and found is not None:
        return _cells(table, found) or "in any case"
    return "in every other case" if row == OTHERWISE else plain(said(row))


def _cells(table: Table, row: Row) -> str:
    columns = zip(table.columns, table.domains, row.cells, strict=True)
    return "; ".join(
        plain(f"{spoken(column)} is {' or '.join(_word(word, domain) for word in _in_order(cells, domain))}")
        for column, domain, cells in columns
        if cells is not None
    )


def verdict_word(word: str) -> str:
    """A verdict as a person says it: ``low``, ``as wanted``, ``high``."""
    return "as wanted" if word == "on" else word


def _in_order(cells: frozenset[str], domain: tuple[str, ...]) -> list[str]:
    """As the column has them, what is not known last."""
    order = {word: place for place, word in enumerate(domain)}
    return sorted(cells, key=lambda word: (word == UNKNOWN, order.get(word, 0), word))


def _word(word: str, domain: tuple[str, ...]) -> str:
    if word == UNKNOWN:
        return "not known"
    return "as wanted" if word == "on" and _VERDICTS.issuperset(domain) else word
