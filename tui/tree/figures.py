"""Figures: the one place a number stands, alone or by a table."""

from __future__ import annotations

from collections.abc import Collection

from tui.quantity import WORDS, Kind, Quantity
from tui.tree.expression import Parser
from tui.tree.model import Figure
from tui.tree.readings import KINDS, check_name, literal
from tui.tree.report import Fields, did_you_mean, shown, text_of
from tui.tree.source import Node, Scalar
from tui.tree.tables import columns_of, table_of
from tui.tree.typing import Typer

OWN = ("kind", "is", "by", "rows", "from")


class Figures:
    """Reads figures; `kind` first for all of them, so that names are known before tables are read."""

    def __init__(self, parser: Parser, typer: Typer) -> None:
        self.parser = parser
        self.typer = typer
        self.report = parser.report

    def kind(self, fields: Fields, key: Scalar, readings: Collection[str]) -> Kind | None:
        """Its kind; None (and told) where it is missing or no kind of number."""
        check_name(key, "A figure", self.report)
        if key.text in readings:
            self.report.add(key.spot, "duplicate-name", f"{shown(key.text)} is a reading too.", "Rename one of them.")
        fields.need("kind")
        found = fields.text("kind")
        if found is None:
            return None
        kind = KINDS.get(found.text)
        if kind is None:
            self.report.add(
                found.spot,
                "unknown-kind",
                f"{shown(found.text)} is no kind.",
                did_you_mean(found.text, KINDS, f"Kinds are: {', '.join(KINDS)}."),
            )
        elif kind in WORDS:
            self.report.add(
                found.spot,
                "wrong-kind",
                f"A figure is a number, not {kind.named}.",
                "Decide words by a table in a tree.",
            )
            return None
        return kind

    def figure(self, name: str, fields: Fields, kind: Kind) -> Figure | None:
        """None where its value or a row is broken."""
        spot = fields.head
        source = fields.words("from") if "from" in fields else ""
        if ("is" in fields) == ("by" in fields):
            self.report.add(
                spot,
                "missing-key",
                f"{fields.what} needs either `is`, or `by` with rows.",
                "Write `is: 5 dF`, or `by: equipment` and its rows.",
            )
            return None
        rows = self._rows(fields)
        if "is" in fields:
            if rows:
                key = rows[0][0]
                self.report.add(
                    key.spot,
                    "unknown-key",
                    f"{fields.what} has no key {shown(key.text)}.",
                    did_you_mean(key.text, OWN, "Rows need `by` instead of `is`."),
                )
            found = fields.text("is")
            value = None if found is None else literal(found, kind, self.report)
            return None if value is None else Figure(name, spot, kind, source, value)
        return self._table(name, fields, kind, source, rows)

    def _rows(self, fields: Fields) -> list[tuple[Scalar, Node]]:
        """Below `rows`, or beside the other keys."""
        beside = [
            (key, node)
            for text, key in fields.keys.items()
            if text not in OWN and (node := fields.node(text)) is not None
        ]
        below = fields.mapping("rows")
        return [*beside, *(below.entries if below is not None else ())]

    def _table(
        self,
        name: str,
        fields: Fields,
        kind: Kind,
        source: str,
        rows: list[tuple[Scalar, Node]],
    ) -> Figure | None:
        columns = columns_of(fields.list("by"), self.typer, fields.keys["by"].spot)
        values: dict[str, Quantity] = {}
        texts: list[str] = []
        broken = False
        for key, node in rows:
            found = text_of(node, f"The row {shown(key.text)}", key, self.report)
            value = None if found is None else literal(found, kind, self.report)
            broken = broken or found is None or value is None
            texts.append(found.text if found is not None else "")
            if found is not None and value is not None:
                values[found.text] = value
        if columns is None:
            return None
        table = table_of(rows, columns, self.parser, fields.keys["by"].spot, texts)
        return None if table is None or broken else Figure(name, fields.head, kind, source, None, table, values)
