"""Kinds of expressions and tests, and what is refused when the tree is read, not when it is walked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from tui.quantity import Kind
from tui.tree.expression import Parser
from tui.tree.report import Report
from tui.tree.scope import Scope, Signature, Typed, words
from tui.tree.source import Scalar
from tui.tree.typing import Typer


@dataclass(frozen=True)
class Sum:
    """A stand-in for one of the trade's sums."""

    arguments: tuple[Kind, ...]
    result: Kind
    answers: tuple[str, ...] = ()


SUMS: Mapping[str, Signature] = {
    "dew-temperature": Sum((Kind.GAUGE_PRESSURE, Kind.CHOICE), Kind.TEMPERATURE),
    "safety-class": Sum((Kind.CHOICE,), Kind.CHOICE, ("A1", "A2L", "A3")),
    "now-and-then": Sum((), Kind.NUMBER),
}
READINGS = {
    **dict.fromkeys(("scale", "plate"), Typed(Kind.MASS)),
    **dict.fromkeys(("box", "pipe"), Typed(Kind.TEMPERATURE)),
    "superheat": Typed(Kind.TEMPERATURE_DIFFERENCE),
    "suction": Typed(Kind.GAUGE_PRESSURE),
    "micron": Typed(Kind.ABSOLUTE_PRESSURE),
    "made-on": Typed(Kind.DATE),
    "today": Typed(Kind.DATE),
    "tag": Typed(Kind.TEXT),
    "door": words(("yes", "no")),
    "level": words(("low", "on", "high")),
    "broken": Typed(None),
}
FIGURES = {"share": Typed(Kind.RATIO), "band": Typed(Kind.TEMPERATURE_DIFFERENCE)}


def typer() -> Typer:
    return Typer(Scope(READINGS, FIGURES), SUMS, Report())


def typed(text: str) -> tuple[Typed, list[tuple[int, str, str]]]:
    one = typer()
    expression = Parser(one.report).expression(Scalar(text))
    assert expression is not None
    found = one.of(expression)
    return found, told(one.report)


def told(report: Report) -> list[tuple[int, str, str]]:
    return [(problem.spot.column, problem.code, problem.message) for problem in report.problems]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("box - pipe", Kind.TEMPERATURE_DIFFERENCE),
        ("box - band", Kind.TEMPERATURE),
        ("box + superheat / 3", Kind.TEMPERATURE),
        ("plate * share", Kind.MASS),
        ("plate * 15 %", Kind.MASS),
        ("scale / plate", Kind.RATIO),
        ("scale / (today - made-on)", Kind.LEAK_RATE),
        ("today + 30 d", Kind.DATE),
        ("suction - 5 psig", Kind.PRESSURE_DIFFERENCE),
        ("suction + 5 psi", Kind.GAUGE_PRESSURE),
        ("-superheat * 2", Kind.TEMPERATURE_DIFFERENCE),
        ("change(box)", Kind.TEMPERATURE_DIFFERENCE),
        ("first(box)", Kind.TEMPERATURE),
        ("total(scale)", Kind.MASS),
        ("count(level)", Kind.NUMBER),
        ("larger(box, pipe) - 20 dF", Kind.TEMPERATURE),
        ("dew-temperature(suction, level) - box", Kind.TEMPERATURE_DIFFERENCE),
        ("first-known(level, safety-class(level))", Kind.CHOICE),
        ("now-and-then()", Kind.NUMBER),
    ],
)
def test_kind(text: str, kind: Kind) -> None:
    found, problems = typed(text)
    assert (found.kind, problems) == (kind, [])


def test_words_of_two_things_together() -> None:
    found, _ = typed("first-known(level, safety-class(level))")
    assert found.answers == ("low", "on", "high", "A1", "A2L", "A3")


REFUSED = {
    "box + pipe": (5, "wrong-kind", "`box + pipe`: A temperature can't be added to a temperature."),
    "suction * 2": (9, "wrong-kind", "`suction * 2`: A gauge pressure can't be multiplied by a number."),
    "suction - micron": (
        9,
        "wrong-kind",
        "`suction - micron`: An absolute pressure can't be subtracted from a gauge pressure.",
    ),
    "superheat + 5": (11, "wrong-kind", "`superheat + 5`: A number can't be added to a temperature difference."),
    "level + 5 dF": (1, "wrong-kind", "`level` is a word (low, on, high); a number is needed here."),
    "tag + 5 dF": (1, "wrong-kind", "`tag` is a text; a number is needed here."),
    "-box": (1, "wrong-kind", "A temperature can't be turned round by a minus."),
    "total(box)": (1, "wrong-kind", "A temperature can't be added up: `total` makes no sense of it."),
    "change(level)": (1, "wrong-kind", "`level` is a word (low, on, high); a number is needed here."),
    "sacle - plate": (1, "unknown-name", "`sacle` is no reading, result or figure known here."),
    "scale-plate": (1, "unknown-name", "`scale-plate` is no reading, result or figure known here."),
    "safety-class": (1, "unknown-name", "`safety-class` is no reading, result or figure known here."),
    "dew-temp(suction, level)": (1, "unknown-name", "There is no sum `dew-temp`."),
    "dew-temperature(suction)": (
        1,
        "bad-expression",
        "`dew-temperature` takes 2 (gauge pressure, choice); here stand 1.",
    ),
    "dew-temperature(box, level)": (
        17,
        "wrong-kind",
        "`dew-temperature` takes a gauge pressure here; `box` is a temperature.",
    ),
    "smaller(scale)": (1, "bad-expression", "`smaller` takes two or more, with commas between."),
    "smaller(scale, box)": (
        16,
        "wrong-kind",
        "`smaller` chooses among things of one kind: `scale` is a mass, `box` a temperature.",
    ),
    "larger(level, level)": (8, "wrong-kind", "`level` is a word (low, on, high); a number is needed here."),
    "first-known(level, box)": (
        20,
        "wrong-kind",
        "`first-known` chooses among things of one kind: `level` is a choice, `box` a temperature.",
    ),
}


@pytest.mark.parametrize("text", REFUSED)
def test_refused(text: str) -> None:
    found, problems = typed(text)
    assert problems == [REFUSED[text]]
    assert found.kind is None or text == "dew-temperature(box, level)"  # a sum's kind is known all the same


@pytest.mark.parametrize(
    ("text", "cure"),
    [
        ("sacle", "Did you mean `scale`?"),
        ("scale-plate", "A minus needs blanks: `scale - plate`."),
        ("scale-5", "A minus needs blanks: `scale - 5`."),
        ("safety-class", "It is a sum: write `safety-class(...)`."),
        ("dew-temperatur(suction, level)", "Did you mean `dew-temperature`?"),
    ],
)
def test_cures(text: str, cure: str) -> None:
    one = typer()
    expression = Parser(one.report).expression(Scalar(text))
    assert expression is not None
    one.of(expression)
    assert [problem.cure for problem in one.report.problems] == [cure]


@pytest.mark.parametrize(
    "text", ["broken + box", "broken * level", "smaller(broken, level)", "-broken", "first(broken)"]
)
def test_nothing_is_told_of_what_hangs_on_something_broken(text: str) -> None:
    assert typed(text)[1] == []


TESTS = {
    "superheat is above 5 dF and level is low": [],
    "made-on is before 2010-01-01": [],
    "superheat is unknown": [],
    "tag is not unknown": [],
    "broken is above 3 or broken is low": [],
    "superheat is above 5": [
        (20, "wrong-kind", "`superheat` is a temperature difference, `5` a number: they can't be compared.")
    ],
    "box is above 5 dF": [
        (14, "wrong-kind", "`box` is a temperature, `5 dF` a temperature difference: they can't be compared.")
    ],
    "suction is above micron": [
        (18, "wrong-kind", "`suction` is a gauge pressure, `micron` an absolute pressure: they can't be compared.")
    ],
    "scale / plate is above 1": [
        (24, "wrong-kind", "`scale / plate` is a ratio, `1` a number: they can't be compared.")
    ],
    "made-on is above 2010-01-01": [(1, "wrong-kind", "`is above` is not for dates.")],
    "box is before pipe": [(1, "wrong-kind", "`is before` is for dates; this is a temperature.")],
    "superheat is high": [(1, "wrong-kind", "`superheat` is a temperature difference, not a word such as `high`.")],
    "tag is K-12": [(1, "wrong-kind", "`tag` is free text; it can't be compared with `K-12`.")],
    "door is maybe": [(9, "not-an-answer", "`maybe` is none of the answers of `door`.")],
    "safety-class(level) is A4": [(24, "not-an-answer", "`A4` is none of the answers of `safety-class(level)`.")],
    "levle is low": [(1, "unknown-name", "`levle` is no reading, result or figure known here.")],
}


@pytest.mark.parametrize("text", TESTS)
def test_tests(text: str) -> None:
    one = typer()
    found = Parser(one.report, one).test(Scalar(text))
    if found is not None:
        one.test(found)
    assert told(one.report) == TESTS[text]


def test_where_the_catalogue_could_not_be_read_an_unknown_name_is_told_by_nobody() -> None:
    one = Typer(Scope(READINGS, FIGURES, {"readings"}), SUMS, Report())
    expression = Parser(one.report).expression(Scalar("no-such-name + 5 dF"))
    assert expression is not None
    assert one.of(expression) == Typed(None)
    assert one.report.problems == []
