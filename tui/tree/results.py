"""A tree's own results: what each `work out` and `judge` gives, typed when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from tui.quantity import Kind, difference_of
from tui.tree.expression import Parser
from tui.tree.model import Expression, Literal, Reading
from tui.tree.outline import Outline, Raw
from tui.tree.readings import check_name, literal_meant
from tui.tree.report import shown
from tui.tree.scope import BROKEN, Typed, words
from tui.tree.typing import Typer

SIDES = ("low", "on", "high")
MOST_AHEAD = 4  # results that hang on each other against the order of the page


class Results:
    """Results by name; `own` gives each its type. One that hangs on itself is BROKEN, told once."""

    def __init__(self, outline: Outline, catalogue: Mapping[str, Typed]) -> None:
        self._raws: dict[str, list[Raw]] = {}
        for raw in outline.all:
            if raw.form in ("work out", "judge") and raw.head.text not in catalogue:
                self._raws.setdefault(raw.head.text, []).append(raw)
        self._worked: dict[int, tuple[Expression | None, Typed]] = {}
        self._typing: set[str] = set()
        self._known: dict[str, Typed] = {}
        self.own: Mapping[str, Callable[[], Typed]] = {name: self._finder(name) for name in self._raws}

    def use(self, parser: Parser, typer: Typer) -> None:
        """The parser and typer of this tree, made with `own` in their scope."""
        self.parser = parser
        self.typer = typer

    def _finder(self, name: str) -> Callable[[], Typed]:
        return lambda: self._type(name)

    def _type(self, name: str) -> Typed:
        """Of several steps that give the same result, the first says its kind; its words are those of all."""
        known = self._known.get(name)
        if known is not None:
            return known
        if name in self._typing:
            self.typer.report.add(
                self._raws[name][0].head.spot,
                "in-a-ring",
                f"{shown(name)} is worked out from itself.",
                "Use `last(...)` of a reading, or another name.",
            )
            return BROKEN
        if len(self._typing) >= MOST_AHEAD:
            self.typer.report.add(
                self._raws[name][0].head.spot,
                "too-deep",
                f"{shown(name)} stands at the end of over {MOST_AHEAD} results, each worked out from one further down.",
                "Work out first what others need.",
            )
            return BROKEN
        first, *others = self._raws[name]
        self._typing.add(name)
        found = self._known[name] = self._of(first)
        self._typing.discard(name)
        for raw in others if found.is_words else ():
            found = words(tuple(dict.fromkeys((*found.answers, *self._of(raw).answers))))
        self._known[name] = found
        return found

    def _of(self, raw: Raw) -> Typed:
        """What this one step gives."""
        return Typed(Kind.CHOICE, self.sides(raw)) if raw.form == "judge" else self.worked_out(raw)[1]

    def agree(self, raw: Raw, typed: Typed) -> None:
        """Steps of one tree that give the same result give the same kind; told where they don't."""
        raws = self._raws.get(raw.head.text, [raw])
        if raw is raws[0] or typed.kind is None:
            return
        first = self._type(raw.head.text)
        if first.kind is None or first.kind is typed.kind or (first.is_words and typed.is_words):
            return
        self.typer.report.add(
            raw.head.spot,
            "wrong-kind",
            f"{shown(raw.head.text)} is {typed.kind.named} here, and {first.kind.named} in line {raws[0].head.line}.",
            "Give one of them another name.",
        )

    def fit(self, raw: Raw, typed: Typed, readings: Mapping[str, Reading], figures: Collection[str]) -> bool:
        """Whether the catalogue knows the result; told where it says something else of its name."""
        name, report = raw.head, self.typer.report
        check_name(name, "A result", report)
        if name.text in figures:
            report.add(name.spot, "duplicate-name", f"{shown(name.text)} is a figure too.", "Rename it.")
        entry = readings.get(name.text)
        if entry is None:
            return False
        if entry.set_ or (entry.ask is not None and not entry.worked_out):
            report.add(
                name.spot,
                "duplicate-name",
                f"{shown(entry.id)} is a reading that is asked.",
                "Give the result another name.",
            )
        elif typed.kind is not None:
            self._as_said(raw, typed, entry)
        return True

    def _as_said(self, raw: Raw, typed: Typed, entry: Reading) -> None:
        report, answers, kind = self.typer.report, typed.answers, typed.kind
        if kind is not None and (bool(answers) != bool(entry.answers) or (not answers and kind is not entry.kind)):
            what = f"one of {', '.join(answers)}" if answers else kind.named
            report.add(
                raw.head.spot,
                "wrong-kind",
                f"The catalogue says that {shown(entry.id)} is {entry.kind.named}; here it is {what}.",
                "Make them agree.",
            )
        elif not set(answers) <= set(entry.answers):
            word = next(w for w in answers if w not in entry.answers)
            report.add(
                raw.head.spot,
                "not-an-answer",
                f"{shown(word)} is none of the answers of {shown(entry.id)}.",
                f"In the catalogue they are: {', '.join(entry.answers)}.",
            )

    def worked_out(self, raw: Raw) -> tuple[Expression | None, Typed]:
        """The expression of a `work out` and its type."""
        known = self._worked.get(id(raw))
        if known is None:
            name = raw.head.text
            if name not in self._typing and raw is self._raws.get(name, (None,))[0]:
                self._type(name)  # so that a ring is told where it begins
                return self._worked[id(raw)]
            expression = self.parser.expression(raw.fields.text("as"))
            known = expression, BROKEN if expression is None else self.typer.of(expression)
            self._worked[id(raw)] = known
        return known

    def sides(self, raw: Raw) -> tuple[str, ...]:
        """Which verdicts a judge can give."""
        fields = raw.fields
        if "with" in fields or "band" in fields or ("on from" in fields) == ("on to" in fields):
            return SIDES
        return ("low", "on") if "on from" in fields else ("on", "high")

    def judged(self, raw: Raw) -> dict[str, Any] | None:
        """The expressions of a judge, their kinds looked at; None where one is broken."""
        fields, report = raw.fields, self.typer.report
        fields.need("compare")
        by_target = "with" in fields or "band" in fields
        by_edges = "on from" in fields or "on to" in fields
        if by_target == by_edges:
            report.add(
                fields.head,
                "missing-key",
                "A judge needs either `with` and `band`, or `on from`, `on to`.",
                "Write one of the two.",
            )
            return None
        if by_target:
            fields.need("with", "band")
        found = {
            key: self.parser.expression(fields.text(key)) for key in ("compare", "with", "band", "on from", "on to")
        }
        typed = {key: self.typer.of(e) for key, e in found.items() if e is not None}
        self._kinds(found, typed)
        if any(found[key] is None for key in typed.keys() | {"compare"}) or found["compare"] is None:
            return None
        return {
            "compare": found["compare"],
            "target": found["with"],
            "band": found["band"],
            "on_from": found["on from"],
            "on_to": found["on to"],
        }

    def _kinds(self, found: Mapping[str, Expression | None], typed: Mapping[str, Typed]) -> None:
        report, compare = self.typer.report, found["compare"]
        kind = typed["compare"].kind if compare is not None else None
        if compare is None or kind is None:
            return
        if typed["compare"].is_words or kind is Kind.TEXT:
            report.add(
                compare.spot, "wrong-kind", "A judge compares numbers; this is a word.", "Use `decide` with rows."
            )
            return
        for key in ("with", "on from", "on to"):
            edge = found[key]
            other = typed[key].kind if edge is not None else None
            if edge is not None and other is not None:
                self.typer.same(compare, kind, edge, other)
        band, wanted = found["band"], difference_of(kind)
        other = typed["band"].kind if band is not None else None
        if band is not None and other is not None and other is not wanted:
            meant = literal_meant(band.value.typed, wanted) if isinstance(band, Literal) else ""
            report.add(
                band.spot,
                "wrong-kind",
                f"The band of {kind.named} is {wanted.named}; this is {other.named}.",
                f"Write {meant or wanted.named}.",
            )
