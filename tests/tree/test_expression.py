"""Expressions, tests and texts: what they are read as, printed as, and refused with."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.fuzz.expression import bare
from tui.quantity import Kind, parse_literal
from tui.tree.expression import Parser
from tui.tree.model import AllOf, AnyOf, Binary, Call, Compare, Expression, Is, Literal, Name, Negative, OfSeries
from tui.tree.printing import print_expression, print_test
from tui.tree.report import Report
from tui.tree.source import Scalar
from tui.tree.spot import Spot

HERE = Spot("", 1, 1)
DOMAINS = {
    "fan": ("running", "stopped", "fan cycling or fan speed"),
    "gas": ("nothing", "below a quarter of the limit", "above a quarter of the limit"),
    "frost": ("even and thin", "block of ice"),
    "level": ("low", "on", "high"),
}


class Domains:
    def answers(self, subject: Expression) -> tuple[str, ...] | None:
        return DOMAINS.get(subject.name) if isinstance(subject, Name) else None


def parsed(text: str) -> Expression:
    report = Report()
    found = Parser(report).expression(Scalar(text))
    assert found is not None, report.problems
    return found


def grouped(e: Expression) -> str:
    """With every bracket written."""
    if isinstance(e, Binary):
        return f"({grouped(e.left)} {e.operator} {grouped(e.right)})"
    return print_expression(e)


@pytest.mark.parametrize(
    ("text", "reads"),
    [
        ("a - b - c", "((a - b) - c)"),
        ("a - (b - c)", "(a - (b - c))"),
        ("a + b * c / d", "(a + ((b * c) / d))"),
        ("(a + b)*c", "((a + b) * c)"),
        ("a-b - c-d", "(a-b - c-d)"),
        ("nameplate-charge * 7 %", "(nameplate-charge * 7 %)"),
        ("5 dF + 10 inHg vac", "(5 dF + 10 inHg vac)"),
        ("a - -5 dF", "(a - -5 dF)"),
        ("-20 °F", "-20 °F"),
        ("-a", "-a"),
        ("- 5 dF * 2", "(- 5 dF * 2)"),
        ("- -(a + b)", "--(a + b)"),
        ("first(scale) - last( scale )", "(first(scale) - last(scale))"),
        ("smaller(a, b * 2, larger(c, 3))", "smaller(a, b * 2, larger(c, 3))"),
        ("2026-11-25", "2026-11-25"),
        ("30 minutes", "30 minutes"),
    ],
)
def test_reads_as(text: str, reads: str) -> None:
    assert grouped(parsed(text)) == reads


def test_places_of_parts() -> None:
    found = Parser(Report()).expression(Scalar("first(scale) - 5 g", 7, 11, "t.yaml"))
    assert isinstance(found, Binary)
    assert (found.left.spot, found.spot, found.right.spot) == (
        Spot("t.yaml", 7, 11),
        Spot("t.yaml", 7, 24),
        Spot("t.yaml", 7, 26),
    )


def test_literals() -> None:
    found = parsed("-20 °F")
    assert isinstance(found, Literal)
    assert found.value.kind is Kind.TEMPERATURE
    assert found.value.si == pytest.approx((459.67 - 20) * 5 / 9)  # 0 °F is 459.67 °R, exact by definition


REFUSED = {
    "": (1, "bad-expression", "An expression is missing here."),
    "a -b": (3, "bad-expression", "A minus needs a blank on both sides."),
    "a- b": (2, "bad-expression", "A minus needs a blank on both sides."),
    "a - ": (5, "bad-expression", "The expression ends too early."),
    "(a": (1, "bad-expression", "This bracket is not closed."),
    "a)": (2, "bad-expression", "A closing bracket too many."),
    "a b": (3, "bad-expression", "`b` can't stand here."),
    "first(5 g)": (1, "bad-expression", "`first` takes one name: a reading or a result."),
    "first(a, b)": (1, "bad-expression", "`first` takes one name: a reading or a result."),
    "smaller(a,)": (11, "bad-expression", "Nothing stands behind this comma."),
    "a is above b": (3, "bad-expression", "`is` can't stand in an expression."),
    "5 dFF": (1, "bad-number", "“dFF” is no unit in a tree."),
    "a + 010 g": (5, "bad-number", "“010 g” is no number with a unit."),
    "5,5 g": (1, "bad-number", "“5,5 g” is no number with a unit."),
    "2026-02-30": (1, "bad-number", "February 2026 has no day 30."),
    "-500 °F": (1, "bad-number", "“-500 °F” is below absolute zero."),
    "(" * 30 + "a" + ")" * 30: (25, "bad-expression", "Brackets stand over 24 deep."),
    "a" * 1001 + " + b": (1, "bad-expression", "An expression has at most 1000 letters."),
    "a + " * 40 + "a": (161, "bad-expression", "An expression has at most 40 parts."),
    "a ** b": (4, "bad-expression", "`* b` can't stand here."),
    "é": (1, "bad-expression", "`é` can't stand here."),
}


@pytest.mark.parametrize("text", REFUSED)
def test_refused(text: str) -> None:
    report = Report()
    assert Parser(report).expression(Scalar(text)) is None
    told = [(problem.spot.column, problem.code, problem.message) for problem in report.problems]
    assert told == [REFUSED[text]]
    assert report.problems[0].cure


# ---- tests


def read_test(text: str) -> tuple[object, list[tuple[int, str, str]]]:
    report = Report()
    found = Parser(report, Domains()).test(Scalar(text))
    return found, [(problem.spot.column, problem.code, problem.message) for problem in report.problems]


def test_joined_by_and() -> None:
    found, told = read_test("level is low and fan is stopped or unknown and a is above 5 dF")
    assert told == []
    assert isinstance(found, AllOf)
    assert [print_test(part) for part in found.tests] == [
        "level is low",
        "fan is stopped or unknown",
        "a is above 5 dF",
    ]
    assert [part.spot.column for part in found.tests] == [1, 18, 48]


def test_joined_by_or() -> None:
    found, told = read_test("level is low or on or fan is not stopped or x is unknown")
    assert told == []
    assert isinstance(found, AnyOf)
    words = [(part.words, part.negated) for part in found.tests if isinstance(part, Is)]
    assert words == [(("low", "on"), False), (("stopped",), True), (("unknown",), False)]


def test_answers_that_look_like_the_language() -> None:
    found, told = read_test("gas is above a quarter of the limit")
    assert told == []
    assert isinstance(found, Is)
    assert found.words == ("above a quarter of the limit",)
    found, told = read_test("frost is even and thin and fan is fan cycling or fan speed or running")
    assert told == []
    assert isinstance(found, AllOf)
    assert [part.words for part in found.tests if isinstance(part, Is)] == [
        ("even and thin",),
        ("fan cycling or fan speed", "running"),
    ]


def test_a_date_with_or_in_it() -> None:
    found, told = read_test("made is on or after 2020-01-01 or made is before 2010-01-01")
    assert told == []
    assert isinstance(found, AnyOf)
    assert [part.relation for part in found.tests if isinstance(part, Compare)] == ["on or after", "before"]


def test_words_with_brackets() -> None:
    found, _ = read_test("refrigerant is R-1234ze(E) or R-134a and safety-class(refrigerant) is A3")
    assert isinstance(found, AllOf)
    assert len(found.tests) == 2


TESTS_REFUSED = {
    "level": (1, "bad-expression", "`level` is no test."),
    "level is": (6, "bad-expression", "Nothing stands behind `is`."),
    "level is not": (13, "bad-expression", "No word stands behind `is not`."),
    "level is lwo": (10, "not-an-answer", "`lwo` is none of the answers of `level`."),
    "level is low or lwo": (17, "not-an-answer", "`lwo` is none of the answers of `level`."),
    "level is low or low": (17, "duplicate-word", "`low` stands twice."),
    "level is low or ": (16, "bad-expression", "A word is missing beside `or`."),
    "a is above": (11, "bad-expression", "An expression is missing here."),
    "a is not above b": (6, "bad-expression", "`is not above` is no test."),
    "a is more than b": (6, "bad-expression", "`more than` is not how two things are compared."),
    "a is above b and c is below d or e is x": (31, "bad-expression", "`and` and `or` join tests in one line."),
    "a is above 5 dFF": (12, "bad-number", "“dFF” is no unit in a tree."),
}


@pytest.mark.parametrize("text", TESTS_REFUSED)
def test_tests_refused(text: str) -> None:
    _, told = read_test(text)
    assert told == [TESTS_REFUSED[text]]


# ---- texts


def test_text_with_values() -> None:
    text = Parser(Report()).text(Scalar("Net <first(scale) - scale> of <plate> > half.", 3, 9, "t.yaml"))
    assert text is not None
    kinds = [part if isinstance(part, str) else print_expression(part) for part in text.parts]
    assert kinds == ["Net ", "first(scale) - scale", " of ", "plate", " > half."]


@pytest.mark.parametrize(("text", "column"), [("Net <scale", 5), ("a <>", 4), ("a <b c>", 6), ("a <5 dFF>", 4)])
def test_texts_refused(text: str, column: int) -> None:
    report = Report()
    assert Parser(report).text(Scalar(text)) is None
    assert [problem.spot.column for problem in report.problems] == [column]


def test_a_text_too_long() -> None:
    report = Report()
    assert Parser(report).text(Scalar("a" * 4001)) is None
    assert [problem.message for problem in report.problems] == ["A text has at most 4000 letters."]


# ---- round trip

_NAMES = st.from_regex(r"\A[a-z][a-z0-9]{0,4}(-[a-z0-9]{1,4}){0,2}\Z").filter(
    lambda name: name not in ("is", "and", "or")
)
_LITERALS = st.sampled_from(
    ["5 dF", "-20 °F", "7 %", "3", "-3", "10 inHg vac", "0.5 psi", "2026-11-25", "200 g", "1 in3", "15 µF", "30 min"]
).map(lambda text: Literal(parse_literal(text), HERE))
_SERIES = st.sampled_from(["first", "last", "change", "total", "count", "lowest", "highest"])
_LEAVES = st.one_of(
    _NAMES.map(lambda name: Name(name, HERE)),
    _LITERALS,
    st.builds(lambda function, name: OfSeries(function, name, HERE), _SERIES, _NAMES),
)


def _deeper(inner: st.SearchStrategy[Expression]) -> st.SearchStrategy[Expression]:
    return st.one_of(
        st.builds(lambda o, a, b: Binary(o, a, b, HERE), st.sampled_from("+-*/"), inner, inner),
        st.builds(lambda e: Negative(e, HERE), inner),
        st.builds(
            lambda function, arguments: Call(function, tuple(arguments), HERE),
            st.sampled_from(["smaller", "larger", "first-known", "dew-temperature", "no-such-sum"]),
            st.lists(inner, min_size=0, max_size=3),
        ),
    )


EXPRESSIONS: st.SearchStrategy[Expression] = st.recursive(_LEAVES, _deeper, max_leaves=12)


@given(EXPRESSIONS)
def test_printed_and_read_again(e: Expression) -> None:
    assert bare(parsed(print_expression(e))) == bare(e)


@given(
    st.lists(
        st.one_of(
            st.builds(
                lambda left, relation, right: Compare(left, relation, right, HERE),
                EXPRESSIONS,
                st.sampled_from(["above", "below", "at least", "at most", "before", "on or after"]),
                EXPRESSIONS,
            ),
            st.builds(
                lambda name, words, negated: Is(Name(name, HERE), tuple(words), negated, HERE),
                _NAMES,
                st.lists(
                    st.sampled_from(["low", "block of ice", "even and thin", "R-1234ze(E)", "unknown"]),
                    min_size=1,
                    unique=True,
                ),
                st.booleans(),
            ),
        ),
        min_size=1,
        max_size=3,
    ),
    st.sampled_from([AllOf, AnyOf]),
)
def test_tests_printed_and_read_again(parts: list[Compare | Is], joined: type[AllOf] | type[AnyOf]) -> None:
    test = parts[0] if len(parts) == 1 else joined(tuple(parts), HERE)
    found = Parser(Report()).test(Scalar(print_test(test)))
    assert bare(found) == bare(test)
