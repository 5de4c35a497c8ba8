"""Places: where leaks are looked for, told apart by kinds, in lists by equipment."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.quantity import Kind
from tui.tree.model import Places, Table
from tui.tree.readings import answer_words, check_name
from tui.tree.report import Fields, commas, did_you_mean, shown, text_of
from tui.tree.scope import PLACE, Typed, words
from tui.tree.source import Mapping as Keys
from tui.tree.source import Scalar
from tui.tree.tables import columns_of, table_of

if TYPE_CHECKING:
    from tui.tree.catalogue import Entry, Reader

PARTS = ("kinds", "places", "lists")
LIST_KEYS = ("by", "rows")


def read_places(parts: Mapping[str, Entry], reader: Reader) -> tuple[Places, dict[str, Typed], tuple[str, ...]]:
    """The places, the names that a walk over a list of them gives, and the names of all lists."""
    report = reader.report
    below: dict[str, Keys] = {}
    for name, entry in parts.items():
        if name not in PARTS:
            report.add(
                entry.key.spot,
                "unknown-key",
                f"places.yaml has no key {shown(name)}.",
                did_you_mean(name, PARTS, f"Keys are: {', '.join(PARTS)}."),
            )
        elif isinstance(entry.node, Keys):
            below[name] = entry.node
        elif not (isinstance(entry.node, Scalar) and entry.node.broken):
            report.add(
                entry.key.spot,
                "wrong-shape",
                f"Below {shown(name)} stand lines `... : ...`.",
                "Write them one below the other.",
            )
    kinds = _kinds(below.get("kinds"), reader)
    things = _things(below.get("places"), kinds, reader)
    lists = _lists(below.get("lists"), things, reader)
    names: dict[str, Typed] = {PLACE: words(tuple(things))} if things else {}
    names |= {name: words(answers) if answers else Typed(Kind.TEXT) for name, answers in kinds.items()}
    listed = below.get("lists")
    known = tuple(key.text for key, _ in listed.entries) if listed is not None else ()
    return Places(kinds, things, lists), names, known


def _kinds(node: Keys | None, reader: Reader) -> dict[str, tuple[str, ...]]:
    """Place kinds with their words; none for ``text``."""
    kinds: dict[str, tuple[str, ...]] = {}
    for key, value in node.entries if node is not None else ():
        check_name(key, "A kind of places", reader.report)
        if key.text in reader.typed or key.text in reader.figures:
            reader.report.add(
                key.spot, "duplicate-name", f"{shown(key.text)} is a reading or a figure too.", "Rename one of them."
            )
        found = text_of(value, shown(key.text), key, reader.report)
        if found is not None:
            kinds[key.text] = () if found.text == "text" else answer_words(found, reader.report)
    return kinds


def _things(
    node: Keys | None,
    kinds: Mapping[str, tuple[str, ...]],
    reader: Reader,
) -> dict[str, dict[str, str]]:
    things: dict[str, dict[str, str]] = {}
    report = reader.report
    for key, value in node.entries if node is not None else ():
        things[key.text] = said = {}
        if "," in key.text or " or " in key.text:
            report.add(key.spot, "bad-name", f"A place can't be called {shown(key.text)}.", "Leave out `,` and `or`.")
        if not isinstance(value, Keys):
            report.add(key.spot, "wrong-shape", f"{shown(key.text)} has no keys.", f"Give it: {', '.join(kinds)}.")
            continue
        fields = Fields(value, tuple(kinds), f"The place {shown(key.text)}", report, key.spot)
        fields.need(*kinds)
        for kind, answers in kinds.items():
            found = fields.one_of(kind, answers) if answers else fields.words(kind)
            if found:
                said[kind] = found
    return things


def _lists(node: Keys | None, things: Mapping[str, object], reader: Reader) -> dict[str, Table]:
    lists: dict[str, Table] = {}
    report = reader.report
    for key, value in node.entries if node is not None else ():
        if not isinstance(value, Keys):
            report.add(
                key.spot,
                "wrong-shape",
                f"The list {shown(key.text)} has no rows.",
                "Write `by: equipment` and its rows below it.",
            )
            continue
        fields = Fields(value, LIST_KEYS, f"The list {shown(key.text)}", report, key.spot, ("",))
        fields.need("by")
        below = fields.mapping("rows")
        rows = [(k, n) for k, n in value.entries if k.text not in LIST_KEYS]
        rows += below.entries if below is not None else []
        texts = [text_of(n, f"The row {shown(k.text)}", k, report) for k, n in rows]
        for found in texts:
            for place in commas(found, report) if found is not None else ():
                if place.text not in things:
                    report.add(
                        place.spot,
                        "unknown-name",
                        f"There is no place {shown(place.text)}.",
                        did_you_mean(place.text, things, "Add it under `places`."),
                    )
        columns = columns_of(fields.list("by"), reader.typer, key.spot)
        if columns is not None:
            said = [found.text if found is not None else "" for found in texts]
            table = table_of(rows, columns, reader.parser, key.spot, said)
            if table is not None:
                lists[key.text] = table
    return lists
