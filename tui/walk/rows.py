"""Rows and lines of a decision as a person reads them: what the trail says, and what is too close to call."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise

from tui.quantity import Value
from tui.tree.model import UNKNOWN, AllOf, AnyOf, Compare, Decide, Expression, Is, Line, Repeat, Row, Step, Table, Test
from tui.walk.wording import OTHERWISE, said

NOT_KNOWN = "not known: "
KNOWN = "known"  # a figure: only whether there is one is asked in words
FEW = 2  # comparisons that are said where none of them holds
_VERDICTS = {"low", "on", "high", UNKNOWN}
_ENDS = {
    "cut short": "the wait was cut short",
    "rounds run out": "all rounds are used up",
    "afterwards": "all of them have been gone through",
}
_CALL = re.compile(r"([a-z-]+)\(([^()]*)\)")
_SIGN = re.compile(r" [-+*/] ")
_SIGNS = {"-": " minus ", "+": " plus ", "*": " times ", "/": " over "}
NOTHING: Mapping[str, str] = {}


def taken(step: Step | None, rows: Iterable[str], saw: Mapping[str, str] = NOTHING) -> str:
    """``superheat level is low; not known: head level``: what was given for the row or line that held.

    saw: as `seen` gave it when it was decided; where it lacks a name, all that the row takes is said. Several rows hold
    where something is not known.
    """
    held = list(dict.fromkeys(rows))
    if len(held) == 1 or (not saw and _asks_words(step, held)):
        return " - or ".join(row_words(step, row, saw) for row in held)
    to = {each.to for each in _ways(step) if each.source in held}
    return f"{_given_for(step, held, saw)}; {'the same either way' if len(to) == 1 else 'that leaves it open'}"


def seen(
    step: Step, rows: Iterable[str], word_of: Callable[[str], Value | None], value: Callable[[Expression], Value | None]
) -> dict[str, str]:
    """The words a decision stood on: by column of a table, by its text for each test in a line that held.

    Of what held because nothing else did: for each test of the lines above it.
    """
    table = step.table if isinstance(step, Decide) else None
    if table is not None:
        return {column: _given(word_of(column)) for column in table.columns}
    lines = [line for row in rows for line in _lines(step, row)]
    parts = (part for line in lines for part in _parts(line))
    return {text: _given(value(test.subject)) for text, test in parts if isinstance(test, Is)}


def _given(value: Value | None) -> str:
    return UNKNOWN if value is None else value if isinstance(value, str) else KNOWN


def _asks_words(step: Step | None, rows: list[str]) -> bool:
    """Whether they ask for words, and not for comparisons alone."""
    parts = (test for row in rows if row != OTHERWISE for line in _lines(step, row) for _, test in _parts(line))
    return not any(isinstance(each, Line) for each in _ways(step)) or any(isinstance(test, Is) for test in parts)


def _ways(step: Step | None) -> tuple[Line | Row, ...]:
    """The lines or rows of a step."""
    if isinstance(step, Decide):
        return step.lines if step.table is None else tuple(step.table.rows)
    return step.stops if isinstance(step, Repeat) else ()


def _lines(step: Step | None, row: str) -> list[Line]:
    """The line of tests that `row` is; of ``otherwise`` all of them."""
    lines = [way for way in _ways(step) if isinstance(way, Line) and way.test is not None]
    return lines if row == OTHERWISE else [line for line in lines if line.source == row][:1]


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
    if row in _ENDS:
        return _ENDS[row]
    if row == OTHERWISE:
        return (_given_for(step, [row], saw) if saw is not NOTHING else "") or "in every other case"
    line = next(iter(_lines(step, row)), None)
    return said(row) if line is None else _tests(line, saw)


def _tests(line: Line, saw: Mapping[str, str]) -> str:
    """What was given for each test; of several joined by ``or`` those that held."""
    parts = list(_parts(line))
    if isinstance(line.test, AnyOf):
        parts = [(text, test) for text, test in parts if _may_hold(test, saw.get(text))] or parts
    between = " or " if isinstance(line.test, AnyOf) else "; "
    return _joined(((_test(text, test, saw.get(text)), saw.get(text)) for text, test in parts), between)


def _joined(said_of: Iterable[tuple[str, str | None]], between: str = "; ") -> str:
    """What is known first, then in one breath what is not."""
    pairs = list(dict.fromkeys(said_of))
    known = [say for say, given in pairs if given != UNKNOWN]
    missing = [say.removeprefix(NOT_KNOWN) for say, given in pairs if given == UNKNOWN]
    return between.join([*known, *([NOT_KNOWN + ", ".join(dict.fromkeys(missing))] if missing else [])])


def _given_for(step: Step | None, rows: list[str], saw: Mapping[str, str]) -> str:
    """What was given for all that these rows ask; of a comparison nothing but what it compares is known."""
    table = step.table if isinstance(step, Decide) else None
    if table is not None:
        cells = [each.cells for each in table.rows if each.source in rows]
        at = [n for n, column in enumerate(table.columns) if any(each[n] is not None for each in cells)]
        columns = [(table.columns[n], table.domains[n]) for n in at]
        return _joined((_fact(column, (saw[column],), domain), saw[column]) for column, domain in columns)
    alone = rows == [OTHERWISE]
    lines = [line for row in rows if row != OTHERWISE or alone for line in _lines(step, row)]
    parts = [part for line in lines for part in _parts(line)]
    told = [(_test(text, test, saw.get(text)), saw.get(text)) for text, test in parts if isinstance(test, Is)]
    told = [(say, given) for say, given in told if given != KNOWN]
    if told:
        return _joined(told)
    compared = [_compared(line.source) for line in lines if isinstance(line.test, Compare)]
    if alone:
        return f"not so: {'; '.join(compared)}" if 0 < len(compared) <= FEW else ""
    return f"{NOT_KNOWN}whether {' or '.join(compared or [_compared(text) for text, _ in parts])}"


def _may_hold(test: Test, given: str | None) -> bool:
    return not isinstance(test, Is) or given in (None, UNKNOWN) or (given in test.words) != test.negated


def _test(text: str, test: Test, given: str | None) -> str:
    subject, is_, _ = text.partition(" is ")
    if not isinstance(test, Is) or not is_:
        return _compared(text)
    if given is not None:
        return _fact(subject, (given,), test.words)
    if test.negated and test.words == (UNKNOWN,):
        return _fact(subject, (KNOWN,), ())
    return _fact(subject, test.words, test.words, negated=test.negated)


def _fact(name: str, words: Iterable[str], domain: tuple[str, ...], *, negated: bool = False) -> str:
    """``suction level is low or high``; ``fan: running``; ``not known: fan``."""
    words = list(words)
    if words == [UNKNOWN] and not negated:
        return NOT_KNOWN + _named(name)
    if words == [KNOWN]:
        return f"{KNOWN}: {_named(name)}"
    is_ = " is" if _VERDICTS.issuperset((*words, *domain)) else ":"
    which = " or ".join(_word(word, domain) for word in words)
    return f"{_named(name)}{is_}{' not' if negated else ''} {which}"


def _named(subject: str) -> str:
    """``safety class of refrigerant``."""
    return said(_CALL.sub(r"\1 of \2", subject))


def _compared(text: str) -> str:
    """``suction is above head plus 5 psi``: a minus with blanks round it would be read as a dash."""
    return _named(_SIGN.sub(lambda sign: _SIGNS[sign[0].strip()], text))


def _cells(table: Table, row: Row, saw: Mapping[str, str]) -> str:
    columns = zip(table.columns, table.domains, row.cells, strict=True)
    return _joined(
        (_fact(column, _in_order(cells, domain, saw.get(column)), domain), saw.get(column))
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
    if word == "on" and _VERDICTS.issuperset(domain):
        return "as wanted"
    return said(word) if " " not in word else word  # a cause's id, not reach-in cooler
