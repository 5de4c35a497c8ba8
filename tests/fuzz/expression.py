"""Mutated expressions, tests and texts: parsed, typed and printed; only problems come out, never an exception.

What parses prints to a text that parses to the same again.
Run alone: ``python tests/fuzz/run.py expression --count 200000 --seed 1``.
"""

from __future__ import annotations

import random
import re
from dataclasses import fields, is_dataclass

from tui.quantity import Kind
from tui.trade import SUMS
from tui.tree.expression import Parser
from tui.tree.printing import print_expression, print_test
from tui.tree.report import Report
from tui.tree.scope import Scope, Typed
from tui.tree.source import Scalar
from tui.tree.spot import Spot
from tui.tree.typing import Typer

SEEDS = (
    *("first(scale) - scale - hose-holds(hose-length, hose-bore, suction, refrigerant)", "5 dF", "-20 °F", "7 %"),
    *("smaller(nameplate-charge * 7 %, 200 g)", "(condensing-now - condenser-air) / 2 + 5 dF", "made-on + 30 d"),
    *("dew-temperature(suction, refrigerant)", "first-known(suction, 10 inHg vac)", "-(superheat) * 3", "2026-11-25"),
    *("change(condensing-now)", "count(scale)", "total(scale) / nameplate-charge", "a - -5 dF", "superheat-1 dF"),
    *("suction-level is low and head-level is low or on or unknown", "superheat is not unknown", "x is above"),
    *("safety-class(refrigerant) is A3 or A2L", "gas-alarm is above a quarter of the limit or nothing"),
    *("made-on is before 2010-01-01 or made-on is on or after 2020-01-01", "frost is even and thin and fan is running"),
    *("nameplate-charge is at most 150 g", "net + step is above plate or suction is below 0 psig", "a is b or c is d"),
    *("Net <scale> brought it back, <nameplate-charge / 2> of the plate.", "<", "<first(scale)>", "a <b> c <d", "<>"),
)
_PIECES = (
    *(
        " is ",
        " not ",
        " and ",
        " or ",
        " or after ",
        " above ",
        " at least ",
        "unknown",
        "any",
        "(",
        ")",
        ",",
        "<",
        ">",
    ),
    *(" - ", "-", " + ", "*", "/", "%", " ", "  ", "5", "5.5", "5,5", "1e9", "0", "9" * 30, ".", "°F", " dF", " psig"),
    *("scale", "suction", "refrigerant", "suction-level", "first", "first(", "smaller(", "dew-temperature(", "'", '"'),
    *("é", "\u2212", "\u00a0", "\ud800", "\0", "\n", "\t", "R-134a", "R-1234ze(E)", "2026-02-30", "()", "((", "))"),
)
_NAMES: dict[str, Typed] = {
    **{name: Typed(Kind.MASS) for name in ("scale", "nameplate-charge", "net", "step", "plate")},
    **{name: Typed(Kind.TEMPERATURE) for name in ("condensing-now", "condenser-air")},
    **{name: Typed(Kind.LENGTH) for name in ("hose-length", "hose-bore")},
    "superheat": Typed(Kind.TEMPERATURE_DIFFERENCE),
    "suction": Typed(Kind.GAUGE_PRESSURE),
    "made-on": Typed(Kind.DATE),
    "refrigerant": Typed(Kind.CHOICE, ("R-134a", "R-290", "R-1234ze(E)")),
    "suction-level": Typed(Kind.CHOICE, ("low", "on", "high")),
    "head-level": Typed(Kind.CHOICE, ("low", "on", "high")),
    "fan": Typed(Kind.CHOICE, ("running", "stopped", "fan cycling or fan speed")),
    "frost": Typed(Kind.CHOICE, ("even and thin", "block of ice")),
    "gas-alarm": Typed(Kind.CHOICE, ("nothing", "above a quarter of the limit")),
    "tag": Typed(Kind.TEXT),
    "a": Typed(None),
}


def run(count: int, seed: int) -> int:
    """Try `count` inputs; the number tried."""
    rng = random.Random(seed)
    for number in range(count):
        text = rng.choice(SEEDS)
        for _ in range(rng.choice((1, 1, 2, 3, 6))):
            text = _mutated(rng, text)
        try:
            _try(text)
        except Exception as error:
            error.add_note(f"input {number}: {text!r}")
            raise
    return count


def _mutated(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text) + 1)
    what = rng.randrange(4)
    if what == 0:
        return text[:at] + text[at + rng.randrange(4) :]
    if what == 1:
        other = rng.choice(SEEDS)
        return text[:at] + other[rng.randrange(len(other)) :]
    if what == 2:
        return (text[:at] + rng.choice(_PIECES) * rng.choice((1, 1, 1, 2, 40)) + text[at:])[:3000]
    return text[:at] + rng.choice(_PIECES) + text[at + rng.randrange(6) :]


def _try(text: str) -> None:
    report = Report()
    typer = Typer(Scope(_NAMES, {}), SUMS, report)
    parser = Parser(report, typer)
    scalar = Scalar(text, 3, 5, "fuzz.yaml")
    expression = parser.expression(scalar)
    if expression is not None:
        typer.of(expression)
        _same(expression, Parser(Report()).expression(Scalar(print_expression(expression))), text)
    test = parser.test(scalar)
    if test is not None:
        typer.test(test)
        if not report.problems:
            again = Parser(Report(), Typer(typer.scope, SUMS, Report())).test(Scalar(print_test(test)))
            _same(test, again, text)
    typer.text(parser.text(scalar))
    for problem in report.problems:
        assert problem.code, text
        assert problem.message, text
        assert problem.spot.line == 3, text
        assert 5 <= problem.spot.column <= 5 + len(text), (problem, text)


def _same(one: object, other: object, text: str) -> None:
    if bare(one) != bare(other):
        raise AssertionError(f"{text!r}: {bare(one)} is printed and read as {bare(other)}")


def bare(node: object) -> object:
    """A node without places, its literals without their spelling."""
    if isinstance(node, tuple):
        return tuple(bare(part) for part in node)
    if is_dataclass(node) and not isinstance(node, type):
        return (
            type(node).__name__,
            *(bare(getattr(node, f.name)) for f in fields(node) if not _of_place(node, f.name)),
        )
    return re.sub(r" +", " ", node) if isinstance(node, str) else node


def _of_place(node: object, name: str) -> bool:
    return name in ("spot", "typed", "errors") or isinstance(getattr(node, name), Spot)
