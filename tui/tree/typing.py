"""What kind each expression is, and whether its parts may be put together so.

One cause is told once: what hangs on something broken is BROKEN too, and nothing is told of it.
"""

from __future__ import annotations

from collections.abc import Mapping

from tui.quantity import Kind, difference_of, kind_of, negative_of
from tui.quantity.kinds import refuse_kinds
from tui.tree.expression import CHOOSERS, SERIES
from tui.tree.model import UNKNOWN, Binary, Call, Compare, Expression, Is, Literal, Name, Negative, OfSeries, Test, Text
from tui.tree.printing import print_expression
from tui.tree.report import Report, did_you_mean, listed, shown
from tui.tree.scope import BROKEN, WORD_KINDS, Scope, Signature, Typed, words
from tui.tree.spot import Spot

_ADD = "Ask it, work it out, or add it to the catalogue."
_NO_NUMBER = WORD_KINDS | {Kind.TEXT}
_DATE_WORDS = {"before": "below", "on or after": "at least"}


class Typer:
    """Types expressions and tests in one scope; problems go to `report`."""

    __slots__ = ("report", "scope", "sums")

    def __init__(self, scope: Scope, sums: Mapping[str, Signature], report: Report) -> None:
        self.scope = scope
        self.sums = sums
        self.report = report

    # ---- expressions

    def of(self, e: Expression) -> Typed:
        """The kind and the words of an expression."""
        if isinstance(e, Name):
            return self.name(e.name, e.spot)
        if isinstance(e, Literal):
            return Typed(e.value.kind)
        if isinstance(e, Binary):
            return self._binary(e)
        if isinstance(e, OfSeries):
            return self._series(e)
        if isinstance(e, Negative):
            return self._negative(e)
        return self._chosen(e) if e.function in CHOOSERS else self._call(e)

    def answers(self, subject: Expression) -> tuple[str, ...] | None:
        """The words a subject can be; None where it is a number, a free text or broken."""
        found = self.of(subject)
        return found.answers if found.is_words else None

    def name(self, name: str, spot: Spot) -> Typed:
        """What a name is; an unknown one is told."""
        found = self.scope.find(name)
        if found is not None:
            return found
        message, cure = f"{shown(name)} is no reading, result or figure known here.", self._hint(name)
        empty = self.scope.missing() if cure == _ADD else []
        if empty:
            message = f"{message[:-1]}, and there are no {' and no '.join(empty)} at all."
            cure = f"Put catalogue/{empty[-1]}.yaml back, or write it."
        self.report.add(spot, "unknown-name", message, cure)
        return BROKEN

    def _hint(self, name: str) -> str:
        if name in self.sums or name in CHOOSERS or name in SERIES:
            return f"It is a sum: write `{name}(...)`."
        for i, letter in enumerate(name):
            if letter == "-" and self._known(name[:i]) and self._known(name[i + 1 :]):
                return f"A minus needs blanks: `{name[:i]} - {name[i + 1 :]}`."
        return did_you_mean(name, self.scope.names(), _ADD)

    def _known(self, name: str) -> bool:
        return name.isdigit() or name in self.scope.names()

    def _binary(self, e: Binary) -> Typed:
        left, right = self.of(e.left), self.of(e.right)
        if left.kind is None or right.kind is None:
            return BROKEN
        for side, typed in ((e.left, left), (e.right, right)):
            if typed.kind in _NO_NUMBER:
                self._no_number(side, typed)
                return BROKEN
        kind = kind_of(e.operator, left.kind, right.kind)
        if kind is None:
            refusal = refuse_kinds(e.operator, left.kind, right.kind)
            cure = refusal.cure or self._unitless(e, left.kind, right.kind)
            self.report.add(e.spot, "wrong-kind", f"{shown(print_expression(e))}: {refusal.message}", cure)
            return BROKEN
        return Typed(kind)

    def _unitless(self, e: Binary, left: Kind, right: Kind) -> str:
        for side, kind, other in ((e.left, left, right), (e.right, right, left)):
            if isinstance(side, Literal) and kind is Kind.NUMBER:
                return f"{shown(side.value.typed)} has no unit; write one of {difference_of(other)}."
        return f"{shown(print_expression(e.left))} is {left.named}, {shown(print_expression(e.right))} {right.named}."

    def _no_number(self, e: Expression, typed: Typed) -> None:
        what = "a text" if typed.kind is Kind.TEXT else f"a word ({listed(typed.answers)})"
        self.report.add(
            e.spot,
            "wrong-kind",
            f"{shown(print_expression(e))} is {what}; a number is needed here.",
            "Compare words with `is`.",
        )

    def _negative(self, e: Negative) -> Typed:
        found = self.of(e.operand)
        if found.kind is None:
            return BROKEN
        if found.kind in _NO_NUMBER:
            self._no_number(e.operand, found)
            return BROKEN
        if negative_of(found.kind) is None:
            self.report.add(
                e.spot,
                "wrong-kind",
                f"{found.kind.named.capitalize()} can't be turned round by a minus.",
                "Only differences and plain amounts can.",
            )
            return BROKEN
        return found

    def _series(self, e: OfSeries) -> Typed:
        found = self.name(e.name, e.spot)
        if e.function == "count":
            return BROKEN if found.kind is None else Typed(Kind.NUMBER)
        if found.kind is None or e.function in ("first", "last"):
            return found
        if found.kind in _NO_NUMBER:
            self._no_number(Name(e.name, e.spot), found)
            return BROKEN
        if e.function == "change":
            return Typed(difference_of(found.kind))
        if e.function == "total" and kind_of("+", found.kind, found.kind) is None:
            self.report.add(
                e.spot,
                "wrong-kind",
                f"{found.kind.named.capitalize()} can't be added up: `total` makes no sense of it.",
                "Use first, last, change, count, lowest or highest.",
            )
            return BROKEN
        return found

    def _chosen(self, e: Call) -> Typed:
        typed = [self.of(argument) for argument in e.arguments]
        if len(typed) < 2:
            self.report.add(
                e.spot,
                "bad-expression",
                f"`{e.function}` takes two or more, with commas between.",
                f"Write `{e.function}(a, b)`.",
            )
            return BROKEN
        if any(one.kind is None for one in typed):
            return BROKEN
        first = typed[0]
        for argument, one in zip(e.arguments, typed, strict=True):
            if e.function != "first-known" and one.kind in _NO_NUMBER:
                self._no_number(argument, one)
                return BROKEN
            if one.kind != first.kind and not (one.is_words and first.is_words):
                self._differ(e, argument, first, one)
                return BROKEN
        if not first.is_words:
            return first
        return words(tuple(dict.fromkeys(word for one in typed for word in one.answers)))

    def _differ(self, e: Call, argument: Expression, first: Typed, one: Typed) -> None:
        left, right = first.kind or Kind.TEXT, one.kind or Kind.TEXT
        self.report.add(
            argument.spot,
            "wrong-kind",
            f"`{e.function}` chooses among things of one kind: "
            f"{shown(print_expression(e.arguments[0]))} is {left.named}, "
            f"{shown(print_expression(argument))} {right.named}.",
            "Bring them to one kind.",
        )

    def _call(self, e: Call) -> Typed:
        typed = [self.of(argument) for argument in e.arguments]
        found = self.sums.get(e.function)
        if found is None:
            known = [*self.sums, *CHOOSERS, *SERIES]
            self.report.add(
                e.spot,
                "unknown-name",
                f"There is no sum {shown(e.function)}.",
                did_you_mean(e.function, known, f"Sums are: {listed(sorted(known), 50)}."),
            )
            return BROKEN
        wanted = found.arguments
        if len(wanted) != len(typed):
            takes = ", ".join(kind.value for kind in wanted) or "nothing"
            self.report.add(
                e.spot,
                "bad-expression",
                f"`{e.function}` takes {len(wanted)} ({takes}); here stand {len(typed)}.",
                "Give it these, with commas between.",
            )
            return BROKEN
        for argument, one, kind in zip(e.arguments, typed, wanted, strict=True):
            if one.kind is None or one.kind is kind or (kind in WORD_KINDS and one.kind in WORD_KINDS):
                continue
            self.report.add(
                argument.spot,
                "wrong-kind",
                f"`{e.function}` takes {kind.named} here; {shown(print_expression(argument))} is {one.kind.named}.",
                f"It takes: {', '.join(k.value for k in wanted)}.",
            )
        return Typed(found.result, found.answers)

    # ---- tests and texts

    def test(self, test: Test) -> None:
        """Tell what is wrong with the kinds of a test."""
        if isinstance(test, Compare):
            self._compare(test)
        elif isinstance(test, Is):
            self._is(test)
        else:
            for part in test.tests:
                self.test(part)

    def text(self, text: Text | None) -> None:
        """Tell what is wrong with what a text fills in."""
        if text is not None:
            for part in text.parts:
                if not isinstance(part, str):
                    self.of(part)

    def _compare(self, test: Compare) -> None:
        left, right = self.of(test.left), self.of(test.right)
        if left.kind is None or right.kind is None:
            return
        for side, typed in ((test.left, left), (test.right, right)):
            if typed.kind in _NO_NUMBER:
                self._no_number(side, typed)
                return
        if self.same(test.left, left.kind, test.right, right.kind):
            self._relation(test, left.kind)

    def same(self, left: Expression, left_kind: Kind, right: Expression, right_kind: Kind) -> bool:
        """Tell it where two things of two kinds are to be compared."""
        if left_kind is right_kind:
            return True
        cure = ""
        if {left_kind, right_kind} == {Kind.RATIO, Kind.NUMBER}:
            cure = "A share is written in %: 1 is 100 %."
        elif isinstance(right, Literal) and right_kind is Kind.NUMBER:
            cure = f"{shown(right.value.typed)} has no unit; write one of {left_kind}."
        elif {left_kind, right_kind} == {Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE}:
            cure = "Gauge and absolute differ by the atmosphere; write both as one of them."
        elif left_kind is difference_of(right_kind) or right_kind is difference_of(left_kind):
            cure = (
                "One is a difference: °F and °C are temperatures, dF and dC differences; psig gauge, psi differences."
            )
        self.report.add(
            right.spot,
            "wrong-kind",
            f"{shown(print_expression(left))} is {left_kind.named}, "
            f"{shown(print_expression(right))} {right_kind.named}: they can't be compared.",
            cure,
        )
        return False

    def _relation(self, test: Compare, kind: Kind) -> None:
        of_dates = test.relation in _DATE_WORDS
        if of_dates and kind is not Kind.DATE:
            self.report.add(
                test.spot,
                "wrong-kind",
                f"`is {test.relation}` is for dates; this is {kind.named}.",
                f"Write `is {_DATE_WORDS[test.relation]}`.",
            )
        elif kind is Kind.DATE and not of_dates:
            self.report.add(
                test.spot,
                "wrong-kind",
                f"`is {test.relation}` is not for dates.",
                "Write `is before` or `is on or after`.",
            )

    def _is(self, test: Is) -> None:
        found = self.of(test.subject)
        if found.kind is None or found.is_words or test.words == (UNKNOWN,):
            return
        what = shown(print_expression(test.subject))
        word = next((w for w in test.words if w != UNKNOWN), UNKNOWN)
        if found.kind in _NO_NUMBER:
            message, cure = f"{what} is free text; it can't be compared with {shown(word)}.", "Give it `answers`."
        else:
            message = f"{what} is {found.kind.named}, not a word such as {shown(word)}."
            cure = "Write `is above`, `is below`, `is at least`, `is at most`, or `is unknown`."
            if found.kind is Kind.DATE:
                cure = "Write `is before`, `is on or after`, or `is unknown`."
        self.report.add(test.subject.spot, "wrong-kind", message, cure)
