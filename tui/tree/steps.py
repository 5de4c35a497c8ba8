"""One tree: from its file's keys to typed steps, with every name, way and kind looked at."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from hashlib import sha256
from typing import Any

from tui.quantity import Kind
from tui.tree.catalogue import PLACES, Reader
from tui.tree.expression import Parser
from tui.tree.jumps import Jumps
from tui.tree.model import (
    Ask,
    Back,
    CautionStep,
    Decide,
    Do,
    FindingStep,
    Go,
    Judge,
    Line,
    Repeat,
    Step,
    Table,
    Text,
    Tree,
    Wait,
    WorkOut,
)
from tui.tree.outline import Outline, Raw
from tui.tree.readings import check_name
from tui.tree.report import Fields, Report, commas, did_you_mean, shown, text_of
from tui.tree.results import Results
from tui.tree.scope import Scope, Typed
from tui.tree.source import Mapping as Keys
from tui.tree.source import Node, Scalar
from tui.tree.tables import columns_of, table_of
from tui.tree.typing import Typer

HEAD = ("tree", "title", "edition", "of", "unsettled", "steps")
OTHERWISE = "otherwise"
_MEANS_OTHERWISE = ("otherwise", "else", "or else", "other", "others", "default", "anything else", "any", "rest")
CANNOT_TELL = "cannot-tell"
MOST_ROUNDS = 1000
Ref = tuple[str, str]


class TreeReader:
    """Reads one tree. `calls` are the trees it names, each with its place, for the library to look up."""

    def __init__(self, catalogue: Reader, report: Report, path: str, text: str) -> None:
        self.catalogue = catalogue
        self.report = report
        self.path = path
        self.text = text
        self.calls: list[Scalar] = []
        self.refs: set[Ref] = set()

    def read(self, node: Keys) -> Tree | None:
        """The tree; None where it can't be told what it is. Problems are in the report."""
        spot = node.spot
        head = Fields(node, HEAD, "A tree", self.report, spot)
        head.need("tree", "title", "edition", "of", "steps")
        items = head.items("steps")
        name = head.text("tree")
        if name is None or items is None:
            return None
        check_name(name, "A tree", self.report)
        if not items.items:
            self.report.add(
                head.keys["steps"].spot, "empty-text", "This tree has no steps.", "Write one: `- ask: ...`."
            )
            return None
        self._prepare(Outline(items, self.report))
        steps = self._steps(self.outline.steps)
        self.jumps.run_into()
        self.refs |= self.scope.used
        title, edition = head.text("title"), head.text("edition")
        if edition is not None:
            self._whole_number(edition)
        return Tree(
            name=name.text,
            title=title.text if title else "",
            edition=edition.text if edition else "",
            of=head.one_of("of", ("unit", "circuit")) or "circuit",
            steps=steps,
            spot=spot,
            text=self.text,
            digest=sha256(self.text.encode()).hexdigest(),
            unsettled=self._tree_unsettled(head.text("unsettled")),
            named={step.name: step for step in _all(steps)},
            outcomes=tuple(dict.fromkeys(step.outcome for step in _all(steps) if isinstance(step, Back))),
        )

    def _whole_number(self, edition: Scalar) -> None:
        if not edition.broken and not (edition.text.isascii() and edition.text.isdecimal() and int(edition.text[:9])):
            message = f"{shown(edition.text)} is no edition."
            self.report.add(edition.spot, "bad-edition", message, "Write a whole number from 1 up; raise it by one.")

    def _prepare(self, outline: Outline) -> None:
        reader = self.catalogue
        self.outline = outline
        self.jumps = Jumps(outline, self.report, reader.trees)
        self.results = Results(outline, reader.typed)
        loops = any(raw.form == "repeat" and "for each" in raw.fields for raw in outline.all)
        places = reader.place_names if loops else {}
        self.scope = Scope(reader.typed, reader.figures, reader.raw.open, self.results.own, places)
        self.typer = Typer(self.scope, reader.sums, self.report)
        self.parser = Parser(self.report, self.typer)
        self.results.use(self.parser, self.typer)

    def _tree_unsettled(self, node: Scalar | None) -> str | None:
        """The default way of decides must be a step that all of them can jump down to."""
        if node is None:
            return None
        decides = [raw for raw in self.outline.all if raw.form == "decide" and "unsettled" not in raw.fields]
        return node.text if self.jumps.default(decides, node) else None

    # ---- steps

    def _steps(self, raws: list[Raw]) -> tuple[Step, ...]:
        made = (self._step(raw) for raw in raws)
        return tuple(step for step in made if step is not None)

    def _step(self, raw: Raw) -> Step | None:
        return _MAKE[raw.form](self, raw)

    def _common(self, raw: Raw) -> dict[str, Any]:
        fields = raw.fields
        guard = fields.text("only when")
        test = self.parser.test(guard)
        if test is not None:
            self.typer.test(test)
        then = fields.text("then")
        return {
            "name": raw.name,
            "spot": fields.head,
            "path": raw.path,
            "labelled": raw.labelled,
            "why": self._text(raw, "why"),
            "how": self._text(raw, "how"),
            "only_when": test,
            "then": self.jumps.to(raw, then) if then is not None else None,
        }

    def _text(self, raw: Raw, key: str) -> Text | None:
        text = self.parser.text(raw.fields.text(key))
        self.typer.text(text)
        return text

    def _needed_text(self, raw: Raw, key: str) -> Text:
        text = self._text(raw, key)
        return text if text is not None else Text("", (), raw.fields.head)

    def _way(self, raw: Raw, key: str) -> str | None:
        node = raw.fields.text(key)
        return self.jumps.to(raw, node) if node is not None else None

    def _ref(self, section: str, name: Scalar) -> str | None:
        found = self.catalogue.ref(section, name)
        if found is not None:
            self.refs.add((section, found))
        return found

    def _ask(self, raw: Raw) -> Step | None:
        readings = []
        for name in commas(raw.head, self.report):
            found = self._ref("readings", name)
            entry = self.catalogue.made.get(name.text)
            if found is not None and entry is not None and entry.ask is None:
                self.report.add(
                    name.spot,
                    "not-asked-for",
                    f"{shown(name.text)} has no `ask` in the catalogue.",
                    "It is worked out, or set: give it an `ask`, or take it out here.",
                )
            elif found is not None:
                readings.append(found)
        if not readings:
            return None
        question, couldnt = self._text(raw, "question"), self._way(raw, "couldn't")
        return Ask(readings=tuple(readings), question=question, couldnt=couldnt, **self._common(raw))

    def _caution(self, raw: Raw) -> Step | None:
        cautions = tuple(c for name in commas(raw.head, self.report) if (c := self._ref("cautions", name)))
        return CautionStep(cautions=cautions, **self._common(raw)) if cautions else None

    def _do(self, raw: Raw) -> Step | None:
        raw.fields.need("tell", "work")
        work = raw.fields.text("work")
        found = self._ref("work", work) if work is not None else None
        return Do(
            tell=self._needed_text(raw, "tell"),
            work=found or "",
            couldnt=self._way(raw, "couldn't"),
            once=raw.fields.yes("once"),
            **self._common(raw),
        )

    def _wait(self, raw: Raw) -> Step | None:
        raw.fields.need("for", "because")
        because, couldnt = self._needed_text(raw, "because"), self._way(raw, "couldn't")
        duration = self.parser.expression(raw.fields.text("for"))
        if duration is None:
            return None
        kind = self.typer.of(duration).kind
        if kind not in (None, Kind.TIME_SPAN):
            self.report.add(
                duration.spot,
                "wrong-kind",
                f"A wait takes a time span; this is {kind.named}.",
                "Write `10 min`, or the name of a figure that is a time span.",
            )
        common, cut = self._common(raw), self._way(raw, "cut short")
        once = raw.fields.yes("once")
        return Wait(duration=duration, because=because, couldnt=couldnt, cut_short=cut, once=once, **common)

    def _work_out(self, raw: Raw) -> Step | None:
        raw.fields.need("as")
        common = self._common(raw)
        expression, typed = self.results.worked_out(raw)
        self._result(raw, typed)
        if expression is None or typed.kind is None:
            return None
        return WorkOut(result=raw.head.text, expression=expression, kind=typed.kind, answers=typed.answers, **common)

    def _judge(self, raw: Raw) -> Step | None:
        common = self._common(raw)
        judged = self.results.judged(raw)
        self._result(raw, Typed(Kind.CHOICE, self.results.sides(raw)))
        if judged is None:
            return None
        return Judge(result=raw.head.text, sides=self.results.sides(raw), **judged, **common)

    def _result(self, raw: Raw, typed: Typed) -> None:
        """A result must fit what the catalogue and the tree's other steps say of its name."""
        self.results.agree(raw, typed)
        if self.results.fit(raw, typed, self.catalogue.made, self.catalogue.figures):
            self.refs.add(("readings", raw.head.text))

    def _decide(self, raw: Raw) -> Step | None:
        fields = raw.fields
        unsettled = self._way(raw, "unsettled")
        both = "first of" in fields and ("by" in fields or "rows" in fields)
        if both or not ("first of" in fields or "by" in fields or "rows" in fields):
            self.report.add(
                fields.head,
                "missing-key",
                f"A decide needs either `by` with `rows`, or `first of`{', not both' if both else ''}.",
                "Take one of the two out." if both else "Write one of the two.",
            )
        table, lines = self._table(raw), self._lines(raw, "first of")
        if table is None and not lines:
            return None
        return Decide(
            table=table,
            lines=lines,
            unsettled=unsettled,
            must_be_settled=fields.yes("must be settled"),
            overrule=fields.yes("overrule", True),
            **self._common(raw),
        )

    def _table(self, raw: Raw) -> Table | None:
        fields = raw.fields
        if "by" not in fields and "rows" not in fields:
            return None
        fields.need("by", "rows")
        rows = fields.mapping("rows")
        entries = rows.entries if rows is not None else []
        ways = [self._row_way(raw, key, node) for key, node in entries]
        columns = columns_of(fields.list("by"), self.typer, fields.head)
        if columns is None or rows is None:
            return None
        return table_of(entries, columns, self.parser, fields.keys["rows"].spot, ways)

    def _row_way(self, raw: Raw, key: Scalar, node: Node) -> str:
        return self.jumps.to(raw, text_of(node, f"The row {shown(key.text)}", key, self.report))

    def _lines(self, raw: Raw, key: str) -> tuple[Line, ...]:
        """Tests in order; ``otherwise`` last."""
        below = raw.fields.mapping(key)
        if below is None:
            return ()
        lines = []
        for number, (test, node) in enumerate(below.entries, 1):
            to = self._row_way(raw, test, node)
            if test.text == OTHERWISE:
                lines.append(Line(test.text, None, to, test.spot))
                if number < len(below.entries):
                    self.report.add(
                        test.spot,
                        "otherwise-last",
                        "Lines below `otherwise` are never looked at.",
                        "Move it to the end.",
                    )
            elif number == len(below.entries) and test.text.lower().rstrip(".") in _MEANS_OTHERWISE:
                self.report.add(test.spot, "otherwise-last", "The last line must be `otherwise`.", "Write `otherwise`.")
                return ()
            elif (line := self._line(test, test, to)) is not None:
                lines.append(line)
        if not any(key.text == OTHERWISE for key, _ in below.entries):
            self.report.add(
                raw.fields.keys[key].spot,
                "otherwise-last",
                "The last line must be `otherwise`.",
                "Say where to go when none of the tests holds.",
            )
        return tuple(lines)

    def _line(self, key: Scalar, test: Scalar, to: str) -> Line | None:
        found = self.parser.test(test)
        if found is None:
            return None
        self.typer.test(found)
        return Line(key.text, found, to, key.spot)

    # ---- rounds

    def _repeat(self, raw: Raw) -> Step | None:
        fields = raw.fields
        fields.need("each round")
        most, places = self._most(raw), self._places(raw)
        out = "afterwards" if "for each" in fields else "when rounds run out"
        other = "when rounds run out" if "for each" in fields else "afterwards"
        if ("at most" in fields) == ("for each" in fields):
            self.report.add(
                fields.head,
                "missing-key",
                "A repeat needs either `at most`, or `for each`.",
                "Write `at most: 12 rounds`, or `for each: place in LIST`.",
            )
        if other in fields:
            self.report.add(
                fields.keys[other].spot, "unknown-key", f"This repeat has no {shown(other)}.", f"Write {shown(out)}."
            )
        fields.need(out)
        stops = self._stops(raw)
        steps = self._steps(raw.steps)
        if not steps:
            return None
        return Repeat(
            steps=steps, most=most, places=places, stops=stops, out=self._way(raw, out) or "", **self._common(raw)
        )

    def _most(self, raw: Raw) -> int | None:
        found = raw.fields.text("at most")
        if found is None:
            return None
        number, _, word = found.text.partition(" ")
        if (
            number.isdecimal()
            and number.isascii()
            and word in ("rounds", "round")
            and 0 < int(number[:9]) <= MOST_ROUNDS
        ):
            return int(number)
        self.report.add(
            found.spot,
            "bad-number",
            f"{shown(found.text)} is no number of rounds.",
            f"Write `12 rounds`, at most {MOST_ROUNDS}.",
        )
        return None

    def _places(self, raw: Raw) -> str | None:
        found = raw.fields.text("for each")
        if found is None:
            return None
        start, _, name = found.text.partition(" in ")
        lists = self.catalogue.lists
        if start != "place" or not name:
            self.report.add(
                found.spot,
                "wrong-word",
                f"{shown(found.text)} is nothing to go through.",
                "Write `place in` and the name of a list.",
            )
        elif name in lists:
            self.refs.add(PLACES)
            return name
        elif "places" not in self.catalogue.raw.open:
            self.report.add(
                found.at(len(start) + 4),
                "unknown-name",
                f"There is no list of places {shown(name)}.",
                did_you_mean(name, lists, "Add it to catalogue/places.yaml."),
            )
        return None

    def _stops(self, raw: Raw) -> tuple[Line, ...]:
        stops = []
        for text, key in raw.fields.keys.items():
            node = raw.fields.node(text)
            if not text.startswith("when ") or text == "when rounds run out" or node is None:
                continue
            to = self._row_way(raw, key, node)
            if (line := self._line(key, key.part(5), to)) is not None:
                stops.append(line)
        return tuple(stops)

    # ---- other trees, ends

    def _go(self, raw: Raw) -> Step | None:
        self.calls.append(raw.head)
        each = raw.fields.one_of("for each", ("circuit",))
        below = raw.fields.mapping("comes back")
        ways = {key.text: self._row_way(raw, key, node) for key, node in (below.entries if below else ())}
        return Go(tree=raw.head.text, each_circuit=each is not None, comes_back=ways, **self._common(raw))

    def _back(self, raw: Raw) -> Step | None:
        return Back(outcome=raw.head.text, **self._common(raw))

    def _finding(self, raw: Raw) -> Step | None:
        fields = raw.fields
        fields.need("seen")
        cause = fields.text("cause")
        could = tuple(c for name in fields.list("could be") if (c := self._ref("causes", name)))
        if ("cause" in fields) == ("could be" in fields):
            self.report.add(
                fields.head,
                "missing-key",
                "A finding needs either `cause`, or `could be`.",
                "Write what it is, or what it could be.",
            )
        if "could be" in fields:
            fields.need("told apart by")
        if "go on" in fields and "offer" in fields:
            self.report.add(
                fields.keys["offer"].spot,
                "unknown-key",
                "A finding with `go on` has no `offer`: it goes on by itself.",
                "Take one of the two out.",
            )
        if "still true" in fields:
            fields.need("offer")
        found = None
        if cause is not None:
            found = CANNOT_TELL if cause.text == CANNOT_TELL else self._ref("causes", cause)
        ways = {key: self._tree(raw, key) for key in ("go on", "offer")}
        leaving = tuple(t for name in fields.list("leaving") if (t := self._ref("left-on", name)))
        return FindingStep(
            cause=found,
            could_be=could,
            told_apart=self._text(raw, "told apart by"),
            seen=self._needed_text(raw, "seen"),
            next=self._needed_text(raw, "next"),
            customer=self._text(raw, "customer"),
            go_on=ways["go on"],
            offer=ways["offer"],
            still_true=fields.yes("still true"),
            leaving=leaving,
            **self._common(raw),
        )

    def _tree(self, raw: Raw, key: str) -> str | None:
        found = raw.fields.text(key)
        if found is None:
            return None
        self.calls.append(found)
        return found.text


_MAKE: Mapping[str, Callable[[TreeReader, Raw], Step | None]] = {
    "ask": TreeReader._ask,
    "caution": TreeReader._caution,
    "do": TreeReader._do,
    "wait": TreeReader._wait,
    "work out": TreeReader._work_out,
    "judge": TreeReader._judge,
    "decide": TreeReader._decide,
    "repeat": TreeReader._repeat,
    "go": TreeReader._go,
    "back": TreeReader._back,
    "finding": TreeReader._finding,
}


def _all(steps: tuple[Step, ...]) -> list[Step]:
    found: list[Step] = []
    for step in steps:
        found.append(step)
        if isinstance(step, Repeat):
            found += _all(step.steps)
    return found
