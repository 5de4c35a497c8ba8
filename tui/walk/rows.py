"""Rows and lines of a decision as a person reads them: what the trail says, and what is too close to call."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise

from tui.quantity import Value
from tui.tree.model import UNKNOWN, AllOf, AnyOf, Decide, Expression, Is, Line, Repeat, Row, Step, Table, Test
from tui.walk.kinds import spoken
from tui.walk.wording import OTHERWISE, plain, said

_VERDICTS = {"low", "on", "high", UNKNOWN}
NOTHING: Mapping[str, str] = {}


def taken(step: Step | None, rows: Iterable[str], saw: Mapping[str, str] = NOTHING) -> str:
    """``superheat level is low; head level is not known``: the rows or lines that held, with what was given.

    saw: as `seen` gave it when it was decided; where it lacks a name, all that the row takes is said.
    """
    return " - or ".join(dict.fromkeys(row_words(step, row, saw) for row in rows))


def seen(
    step: Step, rows: Iterable[str], word_of: Callable[[str], Value | None], value: Callable[[Expression], Value | None]
) -> dict[str, str]:
    """The words a decision stood on: by column of a table, by its text for each test in a line that held."""
    table = step.table if isinstance(step, Decide) else None
    if table is not None:
        return {column: _given(word_of(column)) for column in table.columns}
    lines = (line for row in rows if (line := _line(step, row)) is not None)
    parts = (part for line in lines for part in _parts(line))
    return {text: _given(value(test.subject)) for text, test in parts if isinstance(test, Is)}


def _given(value: Value | None) -> str:
    return value if isinstance(value, str) else UNKNOWN


def _line(step: Step | None, row: str) -> Line | None:
    lines = step.lines if isinstance(step, Decide) else step.stops if isinstance(step, Repeat) else ()
    return next((line for line in lines if line.source == row and line.test is not None), None)


def _parts(line: Line) -> Iterator[tuple[str, Test]]:
    """Each test of a line with its own text."""
    assert line.test is not None
    tests = line.test.tests if isinstance(line.test, AllOf | AnyOf) else (line.test,)
    starts = [test.spot.column - line.spot.column for test in tests]
    for test, (start, end) in zip(tests, pairwise([*starts, len(line.source)]), strict=True):
        text = line.source[start:end].rstrip()
        yield text.removesuffix(" and").removesuffix(" or") if end < len(line.source) else text, test


def row_words(step: Step | None, row: str, saw: Mapping[str, str] = NOTHING) -> str:
    """One row of a table by its columns, one line of tests with its names spoken."""
    table = step.table if isinstance(step, Decide) else None
    found = next((each for each in table.rows if each.source == row), None) if table is not None else None
    if table is not None and found is not None:
        return _cells(table, found, saw) or "in any case"
    line = _line(step, row)
    if line is not None and saw:
        return plain(_tests(line, saw))
    return "in every other case" if row == OTHERWISE else plain(said(row))


def _tests(line: Line, saw: Mapping[str, str]) -> str:
    """What was given for each test; of several joined by ``or`` those that held."""
    parts = list(_parts(line))
    if isinstance(line.test, AnyOf):
        parts = [(text, test) for text, test in parts if _may_hold(test, saw.get(text))] or parts
    joint = " or " if isinstance(line.test, AnyOf) else " and "
    return said(joint.join(_test(text, test, saw.get(text)) for text, test in parts))


def _may_hold(test: Test, given: str | None) -> bool:
    return not isinstance(test, Is) or given in (None, UNKNOWN) or (given in test.words) != test.negated


def _test(text: str, test: Test, given: str | None) -> str:
    subject, is_, _ = text.partition(" is ")
    if not isinstance(test, Is) or given is None or not is_:
        return text
    return f"{subject} is {_word(given, test.words)}"


def _cells(table: Table, row: Row, saw: Mapping[str, str]) -> str:
    columns = zip(table.columns, table.domains, row.cells, strict=True)
    return "; ".join(
        plain(f"{spoken(column)} is {' or '.join(_word(w, domain) for w in _in_order(cells, domain, saw.get(column)))}")
        for column, domain, cells in columns
        if cells is not None
    )


def verdict_word(word: str) -> str:
    """A verdict as a person says it: ``low``, ``as wanted``, ``high``."""
    return "as wanted" if word == "on" else word


def _in_order(cells: frozenset[str], domain: tuple[str, ...], given: str | None) -> list[str]:
    """What was given, else all that the row takes, as the column has them, what is not known last."""
    if given is not None:
        return [given]
    order = {word: place for place, word in enumerate(domain)}
    return sorted(cells, key=lambda word: (word == UNKNOWN, order.get(word, 0), word))


def _word(word: str, domain: tuple[str, ...]) -> str:
    if word == UNKNOWN:
        return "not known"
    return "as wanted" if word == "on" and _VERDICTS.issuperset(domain) else word
