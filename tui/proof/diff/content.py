"""What a step or an entry says, without where it stands: to tell whether two are alike, and in what they differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, get_args

from tui.quantity import Kind, Quantity, show
from tui.tree.check.names import written
from tui.tree.model import AllOf, Compare, Expression, Is, Line, Step, Table, Test, Text
from tui.tree.printing import print_expression, print_test

#: Where something stands, what it is called, what is compared by itself, and what follows from the rest.
_NOT_SAID = frozenset({"id", "name", "path", "labelled", "spot", "steps", "sides"})
_DERIVED = {"WorkOut": frozenset({"kind", "answers"}), "Reading": frozenset({"low", "high"})}
_KEYS = {
    "couldnt": "couldn't",
    "could_be": "could be",
    "told_apart": "told apart by",
    "readings": "ask",
    "cautions": "caution",
    "duration": "for",
    "expression": "as",
    "result": "work out or judge",
    "target": "with",
    "most": "at most",
    "places": "for each place in",
    "tree": "go",
    "outcome": "back",
    "each_circuit": "for each circuit",
    "range_text": "range",
    "instrument": "with",
    "settle": "must be settled",
}
_NOT_ITS_OWN = frozenset({"result", "couldnt", "cut_short", "then", "unsettled", "out"})  # its name, and where it leads
_EXPRESSION, _TEST = get_args(Expression), get_args(Test)


def said(thing: Any) -> dict[str, Any]:
    """The fields of a step or an entry that a person writes, by their names in the model."""
    left_out = _NOT_SAID | _DERIVED.get(type(thing).__name__, frozenset())
    return {field.name: getattr(thing, field.name) for field in fields(thing) if field.name not in left_out}


def key_of(field: str) -> str:
    """A field as a file writes it: ``only_when`` is ``only when``."""
    return _KEYS.get(field, field.rstrip("_").replace("_", " "))


def printed(value: Any) -> str:
    """A value as a file would write it; empty where there is none."""
    if value is None or value == () or value == {}:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Text):
        return value.source
    if isinstance(value, Quantity):
        return value.typed or show(value)
    if isinstance(value, Kind):
        return value.named
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {printed(each)}" for key, each in value.items())
    if isinstance(value, tuple):
        return ", ".join(" or ".join(each) if isinstance(each, tuple) else printed(each) for each in value)
    if isinstance(value, _TEST):
        return print_test(value)
    return print_expression(value) if isinstance(value, _EXPRESSION) else str(value)


def plain(value: Any) -> Any:
    """Without places; rows of a table without their order. Two that say the same are equal."""
    if isinstance(value, Quantity):
        return value.kind, value.si
    if isinstance(value, Text):
        return value.source
    if isinstance(value, _TEST):
        return _plain_test(value)
    if isinstance(value, _EXPRESSION):
        return written(value)
    if isinstance(value, Line):
        return plain(value.test), value.to
    if isinstance(value, Table):
        return value.columns, frozenset((row.cells, row.to) for row in value.rows)
    if is_dataclass(value):
        return type(value).__name__, tuple((key, plain(each)) for key, each in said(value).items())
    if isinstance(value, Mapping):
        return tuple(sorted((key, plain(each)) for key, each in value.items()))
    return tuple(map(plain, value)) if isinstance(value, tuple) else value


def _plain_test(test: Test) -> Any:
    if isinstance(test, Compare):
        return written(test.left), test.relation, written(test.right)
    if isinstance(test, Is):
        return written(test.subject), test.negated, frozenset(test.words)
    return type(test) is AllOf, tuple(map(_plain_test, test.tests))


def pieces(step: Step) -> frozenset[Any]:
    """A step in pieces, each reading, row, line and text one, whatever it leads to: what two steps have in common."""
    return frozenset(_pieces(step))


def _pieces(step: Step) -> Iterator[Any]:
    for key, value in said(step).items():
        if key in _NOT_ITS_OWN or value in (None, False, ""):
            continue
        if isinstance(value, Table):
            yield key, value.columns
            yield from ((key, row.cells) for row in value.rows)
        elif isinstance(value, tuple):
            yield from ((key, plain(each.test if isinstance(each, Line) else each)) for each in value)
        elif isinstance(value, Mapping):
            yield from ((key, each) for each in value)
        else:
            yield key, plain(value)


def alike(old: Step, new: Step) -> float:
    """From 0, nothing in common, to 1, the same but for name and place. Steps of two kinds have nothing in common."""
    if type(old) is not type(new):
        return 0.0
    mine, other = pieces(old), pieces(new)
    return len(mine & other) / len(mine | other) if mine | other else 1.0
