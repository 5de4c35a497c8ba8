"""Where unknown words leave more than one way, against the walk's own deciding over every combination."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tui.tree.check.unknown import Doubt, Forks, lines_open, may_refuse, unanswered
from tui.tree.model import UNKNOWN, AllOf, AnyOf, Expression, Is, Line, Name, Row, Table, Test
from tui.tree.spot import Spot
from tui.walk.deciding import by_lines, by_table
from tui.walk.evaluate import NO, OPEN, YES, Truth

HERE = Spot("here", 1, 1)
DOMAIN = ("a", "b")
PLACES = ("here", "there")


def table_of(cells: Sequence[tuple[str, ...]], ways: list[str]) -> Table:
    """Rows for single words (``any`` for all)."""
    rows = tuple(
        Row(", ".join(row), tuple(None if c == "any" else frozenset(c.split(" or ")) for c in row), to, HERE)
        for row, to in zip(cells, ways, strict=True)
    )
    width = len(cells[0])
    return Table(tuple(f"c{i}" for i in range(width)), (DOMAIN,) * width, rows)


def openly(table: Table, unknown: int) -> bool:
    """As the walk decides: some combination with unknown columns out of these leads to no one place."""
    words = [(*DOMAIN, UNKNOWN) if unknown >> i & 1 else DOMAIN for i in range(len(table.columns))]
    for combination in product(*words):
        if UNKNOWN in combination and by_table(table, _words(table, combination)).to is None:
            return True
    return False


def _words(table: Table, combination: tuple[str, ...]) -> Callable[[str], tuple[str, tuple[()]]]:
    named = dict(zip(table.columns, combination, strict=True))
    return lambda column: (named[column], ())


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Complete tables of two columns of two words, some with rows for unknown."""
    first = draw(st.sampled_from((DOMAIN, (*DOMAIN, UNKNOWN))))
    second = draw(st.sampled_from((DOMAIN, (*DOMAIN, UNKNOWN))))
    cells = list(product(first, second))
    ways = draw(st.lists(st.sampled_from(PLACES), min_size=len(cells), max_size=len(cells)))
    return table_of(cells, ways)


@given(table=tables(), unknown=st.integers(1, 3))
def test_tables_as_the_walk_decides(table: Table, unknown: int) -> None:
    assert Forks.of(table).open(unknown) == openly(table, unknown)


@pytest.mark.parametrize(
    ("cells", "ways", "expected"),
    [
        ([("a",), ("b",)], ["here", "there"], True),
        ([("a",), ("b",)], ["here", "here"], False),
        ([("a or unknown",), ("b",)], ["here", "there"], False),
        ([("any",)], ["here"], False),
    ],
)
def test_one_column(cells: list[tuple[str, ...]], ways: list[str], expected: bool) -> None:
    assert Forks.of(table_of(cells, ways)).open(1) is expected


names = ("x", "y")
atoms = st.builds(
    lambda name, words, no: Is(Name(name, HERE), tuple(sorted(words)), no, HERE),
    st.sampled_from(names),
    st.sets(st.sampled_from((*DOMAIN, UNKNOWN)), min_size=1, max_size=2),
    st.booleans(),
)
tests = st.one_of(
    atoms,
    st.tuples(atoms, atoms).map(lambda two: AllOf(two, HERE)),
    st.tuples(atoms, atoms).map(lambda two: AnyOf(two, HERE)),
)


def doubt_of(e: Expression) -> Doubt:
    assert isinstance(e, Name)
    return Doubt(1 << names.index(e.name))


def truth(test: Test, world: dict[str, str]) -> Truth:
    if isinstance(test, Is):
        assert isinstance(test.subject, Name)
        word = world[test.subject.name]
        if word == UNKNOWN and UNKNOWN not in test.words:
            return OPEN
        return YES if (word in test.words) != test.negated else NO
    assert isinstance(test, AllOf | AnyOf)
    parts = [truth(part, world) for part in test.tests]
    ends = NO if isinstance(test, AllOf) else YES
    return ends if ends in parts else OPEN if OPEN in parts else (YES if ends is NO else NO)


@given(first=tests, second=tests, ways=st.tuples(*[st.sampled_from(PLACES)] * 3), unknown=st.integers(1, 3))
def test_lines_never_call_open_what_is_not_told(
    first: Test, second: Test, ways: tuple[str, str, str], unknown: int
) -> None:
    """Every case the walk leaves open is told; the other way round words of one name may exclude each other."""
    lines = (
        Line("first", first, ways[0], HERE),
        Line("second", second, ways[1], HERE),
        Line("otherwise", None, ways[2], HERE),
    )
    words = [(*DOMAIN, UNKNOWN) if unknown >> i & 1 else DOMAIN for i in range(2)]
    worlds = [dict(zip(names, combination, strict=True)) for combination in product(*words)]
    assume(any(by_lines(lines, partial(truth, world=world)).to is None for world in worlds))
    assert lines_open(lines, unknown, doubt_of)


def test_lines_that_name_unknown_are_not_open() -> None:
    test = Is(Name("x", HERE), ("a", UNKNOWN), False, HERE)
    lines = (Line("first", test, "here", HERE), Line("otherwise", None, "there", HERE))
    assert not lines_open(lines, 1, doubt_of)
    assert lines_open((Line("first", Is(Name("x", HERE), ("a",), False, HERE), "here", HERE), lines[1]), 1, doubt_of)


def test_first_known_is_unknown_only_when_all_are() -> None:
    doubt = Doubt(groups=((Doubt(1), Doubt(2)),))
    assert not doubt.at(1)
    assert not doubt.at(2)
    assert doubt.at(3)


def test_sums_of_words_alone_always_answer() -> None:
    assert may_refuse("dew-temperature")
    assert not may_refuse("safety-class")
    assert not may_refuse("smaller")


def test_columns_no_row_covers_when_unknown() -> None:
    assert list(unanswered(table_of([("a",), ("b",)], ["here", "there"]))) == ["c0"]
    assert list(unanswered(table_of([("a",), ("b or unknown",)], ["here", "there"]))) == []
