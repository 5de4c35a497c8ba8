"""A ready-made example for what no example reaches: one that comes near, with as few answers changed as will do."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from tui.proof.cover import Uncovered
from tui.proof.examples import UNREVIEWED, Example, Outcome, run_example
from tui.proof.forks import forks
from tui.proof.scratch import made_up, texts_for
from tui.tree.check.names import every_step, in_decide, in_test
from tui.tree.library import Library
from tui.tree.model import Ask, Decide, Reading, Step, Table
from tui.walk.answers import Answers, Given

BASES = 12  # examples that are tried as a beginning
TRIES = 1500  # walks for one gap; each takes about 10 ms
POOL = 10  # values that other examples give a reading
REGION = "region"
REGIONS = ("US", "EU", "UK", "other")
_NUMBER = re.compile(r"(-?\d+(?:\.\d+)?)( .+)\Z")
_CHANGES: tuple[Callable[[float], float], ...] = (
    lambda n: n * 1.1,
    lambda n: n * 0.9,
    lambda n: n * 1.3,
    lambda n: n * 0.7,
    lambda n: n * 2,
    lambda n: n * 0.4,
    lambda n: n + 4,
    lambda n: n - 4,
    lambda n: n + 12,
    lambda n: n - 12,
    lambda n: n + 30,
)


@dataclass(frozen=True, slots=True)
class _Change:
    """One reading of a circuit (empty: of the site) gets another answer; None: it could not be had."""

    circuit: str
    reading: str
    text: str | None


class Maker:
    """Makes examples from those that are there."""

    def __init__(self, library: Library, outcomes: Sequence[Outcome]) -> None:
        self.library = library
        self.outcomes = [outcome for outcome in outcomes if not outcome.refused]
        self._names = {outcome.example.name for outcome in outcomes}
        self._pool = _pool(self.outcomes)

    def make(self, gap: Uncovered) -> Example | None:
        """An example that takes the row, or comes by the step; None where none was found within `TRIES` walks."""
        left = iter(range(TRIES))
        bases = self._bases(gap)
        if not bases:
            bases = made_up(self.library, gap.tree, self._pool)
            self.outcomes += bases
        own = [base.example.answers for base in bases if not base.example.name]
        for answers in (*own, *self._with_row_given(gap, bases)):
            if next(left, None) is not None and (found := self._holds(gap, answers)):
                return found
        for base in bases:
            for change in self._changes(base.example.answers, gap):
                if next(left, None) is None:
                    return None
                if found := self._holds(gap, _changed(base.example.answers, [change])):
                    return found
        return self._by_two(gap, bases, left)

    def _by_two(self, gap: Uncovered, bases: Sequence[Outcome], left: Iterator[int]) -> Example | None:
        """Two answers changed at once, of those that the row is decided by."""
        for base in bases[:2]:
            changes = list(islice(self._changes(base.example.answers, gap), 60))
            for n, first in enumerate(changes):
                for second in changes[n + 1 :]:
                    if first.reading == second.reading and first.circuit == second.circuit:
                        continue
                    if next(left, None) is None:
                        return None
                    if found := self._holds(gap, _changed(base.example.answers, [first, second])):
                        return found
        return None

    def _bases(self, gap: Uncovered) -> list[Outcome]:
        """Examples that come by a step which leads there; else by the nearest above; the shortest first."""
        above = [step.name for step in self._steps(gap)]
        above = above[: above.index(gap.step) + 1][::-1]
        for steps in (self._leading(gap), *([step] for step in above)):
            found = [o for o in self.outcomes if any((gap.tree, step) in o.reached for step in steps)]
            if found:
                return sorted(found, key=lambda outcome: (not outcome.example.name, outcome.steps))[:BASES]
        return []

    def _steps(self, gap: Uncovered) -> list[Step]:
        return list(every_step(self.library.trees[gap.tree].steps))

    def _leading(self, gap: Uncovered) -> list[str]:
        """The step itself for one of its rows; else the steps with a way to it."""
        if gap.row:
            return [gap.step]
        ways = [fork.step for fork in forks(self.library.trees[gap.tree]) if fork.to == gap.step]
        others = ("couldnt", "then", "unsettled")
        jumps = [s.name for s in self._steps(gap) if gap.step in (getattr(s, key, None) for key in others)]
        return [*ways, *jumps]

    def _with_row_given(self, gap: Uncovered, bases: Sequence[Outcome]) -> Iterator[Answers]:
        """Each base with the words of the row, as far as its columns are asked."""
        table = self._table(gap)
        row = next((row for row in table.rows if row.source == gap.row), None) if table is not None else None
        if table is None or row is None:
            return
        for base in bases:
            for circuit in base.example.answers.circuits:
                changes = [
                    _Change(circuit, column, None if cell == {"unknown"} else min(cell - {"unknown"}))
                    for column, cell in zip(table.columns, row.cells, strict=True)
                    if cell is not None and self._asked(column)
                ]
                if changes:
                    yield _changed(base.example.answers, changes)

    def _step(self, gap: Uncovered) -> Step:
        return next(step for step in self._steps(gap) if step.name == gap.step)

    def _table(self, gap: Uncovered) -> Table | None:
        step = self._step(gap)
        return step.table if isinstance(step, Decide) else None

    def _asked(self, name: str) -> bool:
        reading = self.library.catalogue.readings.get(name)
        return reading is not None and (reading.ask is not None or reading.beforehand)

    def _changes(self, answers: Answers, gap: Uncovered) -> Iterator[_Change]:
        """Single changes, those of readings that the gap is decided by first."""
        near = self._near(gap)
        if REGION in near and (found := self.library.catalogue.readings.get(REGION)) is not None:
            yield from (_Change("", REGION, word) for word in (*found.answers, *REGIONS))
        for circuit, given in answers.circuits.items():
            names = sorted({*given, *self._pool, *near}, key=lambda name: name not in near)
            for name in names:
                reading = self.library.catalogue.readings.get(name)
                if reading is not None and self._asked(name):
                    yield from (_Change(circuit, name, text) for text in self._texts(reading, given.get(name)))

    def _near(self, gap: Uncovered) -> set[str]:
        """The names that the row, or whether the step's turn comes, is decided by."""
        leading = {gap.step, *self._leading(gap)}
        steps = [step for step in self._steps(gap) if step.name in leading]
        uses = [use.name for step in steps for use in in_test(step.only_when)]
        uses += [use.name for step in steps if isinstance(step, Decide) for use in in_decide(step)]
        asked = [reading for step in steps if isinstance(step, Ask) for reading in step.readings]
        return {*uses, *asked, *re.split(r"[^a-z0-9-]+", gap.row)}

    def _texts(self, reading: Reading, given: Given | None) -> Iterable[str | None]:
        now = given.texts[-1] if given is not None else ""
        texts: list[str | None] = []
        texts += [text for text in texts_for(reading, self._pool) if text != now]
        texts += list(_numbers(now))
        return dict.fromkeys([*texts, *([None] if given is not None and not reading.must else [])])

    def _holds(self, gap: Uncovered, answers: Answers) -> Example | None:
        """An example of these answers, if it closes the gap."""
        trial = Example(self._name(gap), answers.spot, UNREVIEWED, answers, ())
        came = run_example(self.library, trial)
        closes = (gap.tree, gap.step, gap.row) in came.ways if gap.row else (gap.tree, gap.step) in came.reached
        return replace(trial, expected=came.got) if closes and came.got and not came.refused else None

    def _name(self, gap: Uncovered) -> str:
        base = f"{gap.tree}-{gap.step}"
        number = next(n for n in range(1, 10_000) if f"{base}-{n}" not in self._names)
        return f"{base}-{number}"

    def keep(self, example: Example) -> Outcome:
        """Counts it among those that are there; what it comes by."""
        self._names.add(example.name)
        outcome = run_example(self.library, example)
        self.outcomes.append(outcome)
        return outcome


def _pool(outcomes: Sequence[Outcome]) -> Mapping[str, tuple[str, ...]]:
    """What examples answer to each reading, the most frequent first."""
    counts: dict[str, Counter[str]] = {}
    for outcome in outcomes:
        for given in outcome.example.answers.circuits.values():
            for name, each in given.items():
                counts.setdefault(name, Counter()).update(each.texts)
    return {name: tuple(text for text, _ in found.most_common(POOL)) for name, found in counts.items()}


def _numbers(text: str) -> Iterator[str]:
    """The number changed, its unit kept."""
    found = _NUMBER.match(text)
    if found is not None:
        for change in _CHANGES:
            yield f"{change(float(found[1])):.4g}{found[2]}"


def _changed(answers: Answers, changes: Iterable[_Change]) -> Answers:
    circuits = {name: dict(given) for name, given in answers.circuits.items()}
    site = dict(answers.site)
    for change in changes:
        if not change.circuit and change.text is not None:
            site[change.reading] = Given((change.text,), (answers.spot,), answers.spot, False)
            continue
        given = circuits[change.circuit]
        if change.text is None:
            given.pop(change.reading, None)
            continue
        before = given.get(change.reading)
        texts = (*before.texts[:-1], change.text) if before is not None else (change.text,)
        given[change.reading] = Given(texts, (answers.spot,) * len(texts), answers.spot, len(texts) > 1)
    return replace(answers, circuits=circuits, site=site)
