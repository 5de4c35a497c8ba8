"""Tables: rows of cells where order means nothing; each combination stands in exactly one row."""

from __future__ import annotations

import math
from collections.abc import Sequence

from tui.tree.expression import Parser, group
from tui.tree.model import UNKNOWN, Row, Table
from tui.tree.report import Report, shown
from tui.tree.source import Node, Scalar
from tui.tree.spot import Spot
from tui.tree.typing import Typer

ANY = "any"
MOST_COLUMNS = 8
MOST_ROWS = 300
MOST_COMBINATIONS = 10_000
_SHOW = 3  # missing combinations named


class Columns:
    """The columns of a table: names, and the words of each (None: broken, not looked at)."""

    __slots__ = ("domains", "names")

    def __init__(self, names: tuple[str, ...], domains: tuple[tuple[str, ...] | None, ...]) -> None:
        self.names = names
        self.domains = domains


def columns_of(names: Sequence[Scalar], typer: Typer, spot: Spot) -> Columns | None:
    """The columns of a `by` line. A column that is no word is told."""
    report = typer.report
    if not names:
        return None
    if len(names) > MOST_COLUMNS:
        report.add(
            spot,
            "bad-table",
            f"A table has at most {MOST_COLUMNS} columns; here stand {len(names)}.",
            "Decide part of it in a step before.",
        )
        return None
    domains: list[tuple[str, ...] | None] = []
    for name in names:
        found = typer.name(name.text, name.spot)
        if found.kind is not None and not found.is_words:
            report.add(
                name.spot,
                "wrong-kind",
                f"{shown(name.text)} is {found.kind.named}; a column needs words.",
                "Judge it against a target first, or use `first of`.",
            )
        domains.append(found.answers if found.is_words else None)
    return Columns(tuple(name.text for name in names), tuple(domains))


def table_of(
    entries: Sequence[tuple[Scalar, Node]],
    columns: Columns,
    parser: Parser,
    where: Spot,
    destinations: Sequence[str],
) -> Table | None:
    """Rows with their destinations; gaps and clashes are told. None where a column or row is broken."""
    report = parser.report
    before = len(report.problems)
    rows: list[Row] = []
    for (key, _), to in zip(entries, destinations, strict=True):
        cells = _cells(key, columns, parser)
        if cells is not None:
            rows.append(Row(key.text, cells, to, key.spot))
    domains = [domain for domain in columns.domains if domain is not None]
    whole = len(rows) == len(entries) and len(domains) == len(columns.domains)
    if not whole or len(report.problems) != before or not _small(len(rows), domains, where, report):
        return None
    table = Table(columns.names, tuple(domains), tuple(rows))
    _clashes(table, report)
    _gaps(table, where, report)
    return table


def _small(rows: int, domains: Sequence[tuple[str, ...]], where: Spot, report: Report) -> bool:
    """Whether a person could ever read it; told where not."""
    combinations = math.prod(len(domain) for domain in domains)
    if rows <= MOST_ROWS and combinations <= MOST_COMBINATIONS:
        return True
    report.add(
        where,
        "bad-table",
        f"This table has {rows} rows for {combinations} combinations; it may have {MOST_ROWS} and {MOST_COMBINATIONS}.",
        "Decide part of it in a step before.",
    )
    return False


def _cells(key: Scalar, columns: Columns, parser: Parser) -> tuple[frozenset[str] | None, ...] | None:
    if key.broken:
        return None
    report = parser.report
    if key.text.lower() in ("otherwise", "else"):
        message = "`otherwise` is no row: in a table every combination is named."
        report.add(key.spot, "bad-table", message, "Write the words that are left, or `any` in a cell.")
        return None
    pieces = key.text.split(",")
    if len(pieces) != len(columns.names):
        report.add(key.spot, "bad-table", *_not_as_many(key.text, len(pieces), columns.names))
        return None
    cells: list[frozenset[str] | None] = []
    start = 0
    for piece, name, domain in zip(pieces, columns.names, columns.domains, strict=True):
        text = piece.strip()
        if text == ANY:
            cells.append(None)
        elif not text:
            report.add(key.at(start), "empty-text", f"The cell of {shown(name)} is empty.", "Write a word, or `any`.")
        else:
            words = _words(key, start, start + len(piece), name, domain, parser)
            cells.append(frozenset(words))
        start += len(piece) + 1
    return tuple(cells)


def _not_as_many(row: str, cells: int, names: Sequence[str]) -> tuple[str, str]:
    message = f"This row has {counted(cells, 'cell')}, the table {counted(len(names), 'column')} ({', '.join(names)})."
    return message, "Write one cell for each column, with commas between."


def counted(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def _words(
    key: Scalar,
    start: int,
    end: int,
    name: str,
    domain: tuple[str, ...] | None,
    parser: Parser,
) -> tuple[str, ...]:
    words: list[str] = []
    for at, word in group(key.text[start:end], domain):
        spot = key.at(start + at)
        if not word:
            parser.report.add(spot, "empty-text", "A word is missing beside `or`.", "Write it, or take the `or` out.")
        elif word in words:
            parser.report.add(spot, "duplicate-word", f"{shown(word)} stands twice in this cell.", "Take one out.")
        elif word == ANY:
            parser.report.add(spot, "bad-table", "`any` stands alone in a cell.", "Write `any`, or the words.")
        elif domain is not None and word != UNKNOWN and word not in domain:
            parser.not_an_answer(spot, word, domain, name)
        words.append(word)
    return tuple(words)


def _masks(table: Table) -> list[tuple[int, ...]]:
    """Each cell as bits of its domain; the bit above them is `unknown`."""
    bits = [{word: 1 << i for i, word in enumerate((*domain, UNKNOWN))} for domain in table.domains]
    return [
        tuple(
            (1 << len(bit)) - 1 if cell is None else sum(bit[word] for word in cell)
            for cell, bit in zip(row.cells, bits, strict=True)
        )
        for row in table.rows
    ]


def _clashes(table: Table, report: Report) -> None:
    masks = _masks(table)
    for i, (row, mine) in enumerate(zip(table.rows, masks, strict=True)):
        for j in range(i):
            shared = [a & b for a, b in zip(masks[j], mine, strict=True)]
            if all(shared):
                other = table.rows[j]
                words = ", ".join(_word(domain, bits) for domain, bits in zip(table.domains, shared, strict=True))
                report.add(
                    row.spot,
                    "clash",
                    f"The rows {shown(other.source)} (line {other.spot.line}) and "
                    f"{shown(row.source)} both hold for {shown(words)}.",
                    "Each combination stands in one row: take it out of one of them.",
                )
                break


def _word(domain: tuple[str, ...], bits: int) -> str:
    """The first word of these bits."""
    for i, word in enumerate(domain):
        if bits >> i & 1:
            return word
    return UNKNOWN


def _gaps(table: Table, where: Spot, report: Report) -> None:
    missing = list(gaps(table, _SHOW + 1))
    if not missing:
        return
    named = "; ".join(f"`{', '.join(words)}`" for words in missing[:_SHOW])
    more = " and more" if len(missing) > _SHOW else ""
    report.add(
        where,
        "gap",
        f"No row holds for {named}{more}.",
        f"{'Columns are' if len(table.columns) > 1 else 'The column is'} {', '.join(table.columns)}: "
        "add rows until every combination stands in one.",
    )


def gaps(table: Table, most: int) -> list[tuple[str, ...]]:
    """Combinations of known words that no row holds for, `any` where the rest does not matter."""
    masks = _masks(table)
    found: list[tuple[str, ...]] = []

    def look(column: int, rows: list[tuple[int, ...]], words: tuple[str, ...]) -> None:
        if not rows:
            found.append(words + (ANY,) * (len(table.domains) - column))
            return
        if column == len(table.domains):
            return
        met: set[tuple[int, ...]] = set()
        for i, word in enumerate(table.domains[column]):
            matching = [n for n, row in enumerate(rows) if row[column] >> i & 1]
            if tuple(matching) not in met and len(found) < most:
                before = len(found)
                look(column + 1, [rows[n] for n in matching], (*words, word))
                if len(found) == before:
                    met.add(tuple(matching))

    look(0, masks, ())
    return found
