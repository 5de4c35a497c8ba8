"""Tables compared by combination: nothing but what differs, all that differs, and as few blocks as it takes."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from tui.proof.diff.combinations import LEFT_OPEN, Comparison, blocks, compare
from tui.tree.model import UNKNOWN, Row, Table
from tui.tree.spot import Spot
from tui.walk.deciding import by_table

SPOT = Spot("t.yaml", 1, 1)
WORDS = ("low", "on", "high")
NAMES = ("suction-level", "head-level", "superheat-level")
PLACES = ("carry on", "go round", "it-is-blocked", "was-short")


def row(text: str, to: str) -> Row:
    cells = tuple(None if c == "any" else frozenset(c.split(" or ")) for c in text.split(", "))
    return Row(text, cells, to, SPOT)


def table(*rows: tuple[str, str], columns: tuple[str, ...] = NAMES[:2]) -> Table:
    return Table(columns, (WORDS,) * len(columns), tuple(row(*each) for each in rows))


def apart(old: Table, new: Table) -> Comparison:
    return compare(old, new, str.__eq__)


@st.composite
def tables(draw: st.DrawFn, most: int = 3) -> Table:
    """Complete tables of one to three columns: a tree of splits, each leaf a row."""
    columns = NAMES[: draw(st.integers(1, most))]
    with_unknown = draw(st.lists(st.booleans(), min_size=len(columns), max_size=len(columns)))
    rows: list[Row] = []

    def split(column: int, cells: tuple[frozenset[str] | None, ...]) -> None:
        if column == len(columns):
            words = ", ".join("any" if c is None else " or ".join(sorted(c)) for c in cells)
            rows.append(Row(words, cells, draw(st.sampled_from(PLACES)), SPOT))
            return
        every = (*WORDS, UNKNOWN) if with_unknown[column] else WORDS
        groups: dict[int, set[str]] = {}
        for word in every:
            groups.setdefault(draw(st.integers(0, 2)), set()).add(word)
        if len(groups) == 1 and with_unknown[column]:
            split(column + 1, (*cells, None))
            return
        for some in groups.values():
            split(column + 1, (*cells, frozenset(some)))

    split(0, ())
    return Table(columns, (WORDS,) * len(columns), tuple(rows))


def led(of: Table, words: tuple[str, ...]) -> str:
    """Where the walk itself goes."""
    decision = by_table(of, lambda column: (words[of.columns.index(column)], ()))
    return decision.to if decision.to is not None else LEFT_OPEN


def covered(found: Comparison) -> dict[tuple[str, ...], tuple[str | None, str | None]]:
    """Every combination of every block; none may be in two."""
    all_of: dict[tuple[str, ...], tuple[str | None, str | None]] = {}
    for part in found.parted:
        for words in product(*part.cells):
            assert words not in all_of
            all_of[words] = part.old, part.new
    return all_of


@given(tables())
def test_a_table_is_not_apart_from_itself(one: Table) -> None:
    assert apart(one, one).parted == ()
    assert apart(one, replace(one, rows=one.rows[::-1])).parted == (), "order means nothing"


@given(st.data(), tables())
def test_one_row_sent_elsewhere_is_that_rows_combinations(data: st.DataObject, one: Table) -> None:
    sent = data.draw(st.sampled_from(one.rows))
    rows = tuple(replace(each, to="somewhere-else") if each is sent else each for each in one.rows)
    found = apart(one, replace(one, rows=rows))
    named = [part for part in found.parted if not part.unnamed]
    every = (*WORDS, UNKNOWN)
    assert [(part.old, part.new) for part in named] == [(sent.to, "somewhere-else")], "one row, one outcome"
    cells = tuple(frozenset(every) if cell is None else cell for cell in sent.cells)
    assert named[0].cells == cells


@given(st.data())
def test_two_tables_part_exactly_where_the_walk_does(data: st.DataObject) -> None:
    one, other = (data.draw(tables()) for _ in range(2))
    if len(one.columns) != len(other.columns):
        return
    found = apart(one, other)
    expected = {}
    for words in product((*WORDS, UNKNOWN), repeat=len(one.columns)):
        was, now = led(one, words), led(other, words)
        if was != now:
            expected[words] = was, now
    assert covered(found) == expected


@given(st.sets(st.tuples(*(st.sampled_from((*WORDS, UNKNOWN)),) * 3)))
def test_blocks_hold_these_combinations_and_no_other(points: set[tuple[str, ...]]) -> None:
    found = blocks(sorted(points))
    held = [words for cells in found for words in product(*cells)]
    assert len(held) == len(set(held))
    assert set(held) == points
    assert len(found) <= len(points)


def test_a_whole_column_is_any() -> None:
    old = table(("low, any", "go round"), ("on or high, any", "carry on"))
    new = table(("low, any", "was-short"), ("on or high, any", "carry on"))
    found = apart(old, new)
    assert [found.row(part.cells) for part in found.parted if not part.unnamed] == ["low, any"]
    assert [part.combinations for part in found.parted if not part.unnamed] == [4]


def test_what_no_row_names_is_told_apart() -> None:
    """Suction not known led the same way whatever it was; now that hangs on it."""
    old = table(("low", "go round"), ("on or high", "go round"), columns=NAMES[:1])
    new = table(("low", "was-short"), ("on or high", "go round"), columns=NAMES[:1])
    told = [(found.cells, found.old, found.new, found.unnamed) for found in apart(old, new).parted]
    assert told == [
        ((frozenset({"low"}),), "go round", "was-short", False),
        ((frozenset({UNKNOWN}),), "go round", LEFT_OPEN, True),
    ]


def test_a_column_more_splits_what_was_one() -> None:
    old = table(("low", "go round"), ("on or high", "carry on"), columns=NAMES[:1])
    new = table(("low, low or on", "go round"), ("low, high", "was-short"), ("on or high, any", "carry on"))
    found = apart(old, new)
    named = [(found.row(part.cells), part.old, part.new) for part in found.parted if not part.unnamed]
    assert named == [("low, high", "go round", "was-short"), ("low, unknown", "go round", LEFT_OPEN)]


def test_a_word_more_was_no_answer_before() -> None:
    old = Table(("door",), (("open", "shut"),), (row("open", "go round"), row("shut", "carry on")))
    new = Table(
        ("door",), (("open", "shut", "ajar"),), (row("open or ajar", "go round"), row("shut", "carry on"))
    )
    (part,) = apart(old, new).parted
    assert (part.cells, part.old, part.new) == ((frozenset({"ajar"}),), None, "go round")
    (back,) = apart(new, old).parted
    assert (back.cells, back.old, back.new) == ((frozenset({"ajar"}),), "go round", None)
