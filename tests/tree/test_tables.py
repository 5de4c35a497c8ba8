"""Complete and without clash: told against every combination tried one by one."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from tui.tree.expression import Parser
from tui.tree.model import UNKNOWN, Table
from tui.tree.report import Report
from tui.tree.scope import Scope, words
from tui.tree.source import Scalar
from tui.tree.spot import Spot
from tui.tree.tables import Columns, columns_of, gaps, table_of
from tui.tree.typing import Typer

DOMAINS = (("low", "on", "high"), ("yes", "no"), ("cap tube", "TXV", "fan cycling or fan speed"))
NAMES = ("level", "door", "feed")
SPOT = Spot("t.yaml", 1, 1)


def read(rows: list[str], columns: int = 3) -> tuple[Table | None, Report]:
    report = Report()
    typer = Typer(Scope({n: words(d) for n, d in zip(NAMES, DOMAINS, strict=True)}, {}), {}, report)
    keys = [Scalar(row, number, 5, "t.yaml") for number, row in enumerate(rows, 10)]
    entries = [(key, Scalar("x")) for key in keys]
    found = table_of(
        entries, Columns(NAMES[:columns], DOMAINS[:columns]), Parser(report, typer), SPOT, ["x"] * len(rows)
    )
    return found, report


def told(rows: list[str], columns: int = 3) -> list[tuple[int, int, str, str]]:
    _, report = read(rows, columns)
    return [(p.spot.line, p.spot.column, p.code, p.message) for p in report.problems]


def test_complete() -> None:
    assert told(["low or on, any", "high or unknown, yes", "high, no"], 2) == []


def test_an_answer_with_or_in_it() -> None:
    table, report = read(["any, any, cap tube or fan cycling or fan speed", "any, any, TXV or unknown"])
    assert report.problems == []
    assert table is not None
    assert table.rows[0].cells == (None, None, frozenset({"cap tube", "fan cycling or fan speed"}))


def test_a_gap_is_named() -> None:
    assert told(["low, any", "on, yes"], 2) == [(1, 1, "gap", "No row holds for `on, no`; `high, any`.")]
    assert told(["low, yes, TXV"]) == [
        (
            1,
            1,
            "gap",
            "No row holds for `low, yes, cap tube`; `low, yes, fan cycling or fan speed`; `low, no, any` and more.",
        )
    ]


def test_a_clash_names_both_rows() -> None:
    assert told(["low or on, any", "on or high, yes", "high, no"], 2) == [
        (11, 5, "clash", "The rows `low or on, any` (line 10) and `on or high, yes` both hold for `on, yes`.")
    ]
    assert told(["any, any", "unknown, yes"], 2) == [
        (11, 5, "clash", "The rows `any, any` (line 10) and `unknown, yes` both hold for `unknown, yes`.")
    ]


def test_cells_refused() -> None:
    assert told(["lwo, any", "on, any", "high, any"], 2) == [
        (10, 5, "not-an-answer", "`lwo` is none of the answers of `level`.")
    ]
    assert told(["low, any, any"], 2)[0][2:] == (
        "bad-table",
        "This row has 3 cells, the table 2 columns (level, door).",
    )
    assert told(["low, "], 2)[0][:3] == (10, 9, "empty-text")
    assert told(["low or any, yes"], 2)[0] == (10, 12, "bad-table", "`any` stands alone in a cell.")
    assert told(["low or low, yes"], 2)[0] == (10, 12, "duplicate-word", "`low` stands twice in this cell.")


def test_what_nobody_can_read() -> None:
    letters = tuple("abcdefghijk")
    report = Report()
    typer = Typer(Scope({}, {}), {}, report)
    columns = Columns(tuple("wxyz"), (letters,) * 4)
    assert table_of([(Scalar("any, any, any, any"), Scalar("x"))], columns, Parser(report, typer), SPOT, ["x"]) is None
    assert [p.message for p in report.problems] == [
        "This table has 1 rows for 14641 combinations; it may have 300 and 10000."
    ]


def test_a_row_that_is_broken_makes_no_gap() -> None:
    report = Report()
    typer = Typer(Scope({}, {}), {}, report)
    rows = [(Scalar("yes"), Scalar("x")), (Scalar("no", broken=True), Scalar("x"))]
    assert table_of(rows, Columns(("door",), (("yes", "no"),)), Parser(report, typer), SPOT, ["x", "x"]) is None
    assert report.problems == []


def test_columns_refused() -> None:
    report = Report()
    typer = Typer(Scope({"level": words(("low", "on"))}, {}), {}, report)
    assert columns_of([Scalar("a", 1, n) for n in range(1, 10)], typer, SPOT) is None
    assert [p.message for p in report.problems] == ["A table has at most 8 columns; here stand 9."]


_CELLS = [
    st.one_of(st.just("any"), st.lists(st.sampled_from([*domain, UNKNOWN]), min_size=1, unique=True).map(" or ".join))
    for domain in DOMAINS
]


@given(st.lists(st.tuples(*_CELLS).map(", ".join), min_size=1, max_size=6))
def test_as_if_every_combination_were_tried(rows: list[str]) -> None:
    found, report = read(rows)
    assert found is not None
    known = list(product(*DOMAINS))
    every = list(product(*((*domain, UNKNOWN) for domain in DOMAINS)))

    def holding(combination: tuple[str, ...]) -> list[int]:
        return [
            number
            for number, row in enumerate(found.rows)
            if all(cell is None or word in cell for cell, word in zip(row.cells, combination, strict=True))
        ]

    codes = {problem.code for problem in report.problems}
    missing = [combination for combination in known if not holding(combination)]
    assert ("gap" in codes) == bool(missing)
    assert ("clash" in codes) == any(len(holding(combination)) > 1 for combination in every)
    named = gaps(found, 1000)
    spread = {
        combination
        for words_ in named
        for combination in product(*((d if w == "any" else (w,)) for w, d in zip(words_, DOMAINS, strict=True)))
    }
    assert spread == set(missing)
