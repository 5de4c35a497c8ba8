"""Which answers lead elsewhere at a step that stands in both trees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from tui.proof.diff.combinations import LEFT_OPEN, Comparison, Parted, compare, in_order
from tui.proof.diff.content import plain
from tui.proof.diff.pairs import CARRY_ON, Pairs
from tui.tree.check.names import written
from tui.tree.model import UNKNOWN, Ask, Decide, Do, FindingStep, Go, Is, Line, Repeat, Step, Wait
from tui.walk.kinds import spoken
from tui.walk.wording import OTHERWISE, said

UNSETTLED = LEFT_OPEN  # as a tree writes it, too
ROW, LINE, WAY, UNNAMED, ORDER = "row", "line", "way", "not known", "order"


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Answers that lead elsewhere. `step` is called as it is now; `old`, `new` are destinations as written.

    kind: ``row`` of a table, ``line`` of tests, any other ``way`` out of the step, ``not known``: combinations
    that no row names, tried with every word, or ``order``: lines that stand in another order. `by`: the columns.
    row: as a tree would write it. words: the same as it is said. None: there was, or is, no such way.
    old_step, new_step: where a destination that is no name leads (``carry on``, ``unsettled``); else empty.
    """

    tree: str
    step: str
    kind: str
    row: str
    words: str
    old: str | None
    new: str | None
    by: tuple[str, ...] = ()
    combinations: int = 1
    old_step: str = ""
    new_step: str = ""


def elsewhere(pairs: Pairs, old: Step, new: Step) -> Iterator[Elsewhere]:
    """All that differs in where this step leads."""
    if type(old) is not type(new):
        return
    here = _Here(pairs, old, new)
    if isinstance(old, Decide) and isinstance(new, Decide):
        yield from here.decided(old, new)
    elif isinstance(old, Repeat) and isinstance(new, Repeat):
        yield from here.lines(old.stops, new.stops)
    for way, words, then, now in _named_ways(pairs, old, new):
        yield here.one(WAY, way, words, then, now)


@dataclass(frozen=True, slots=True)
class _Here:
    pairs: Pairs
    old: Step
    new: Step

    def one(self, kind: str, row: str, words: str, old: str | None, new: str | None) -> Elsewhere:
        steps = self._led(0, self.old, old), self._led(1, self.new, new)
        return Elsewhere(self.pairs.new.name, self.new.name, kind, row, words, old, new, (), 1, *steps)

    def _led(self, side: int, step: Step, to: str | None) -> str:
        """The step that a destination which is no name leads to."""
        if to == LEFT_OPEN and isinstance(step, Decide):
            return step.unsettled or (self.pairs.old, self.pairs.new)[side].unsettled or ""
        meant = self.pairs.meant(side, step, to or "")
        return meant if meant != to and to else ""

    def same(self, old: str, new: str) -> bool:
        return self.pairs.same((self.old, self.new), old, new)

    # ---- tables

    def decided(self, old: Decide, new: Decide) -> Iterator[Elsewhere]:
        if old.table is not None and new.table is not None:
            if plain(old.table) == plain(new.table):
                return  # as it nearly always is
            yield from self._rows(old, new, compare(old.table, new.table, self.same))
        elif old.table is None and new.table is None:
            yield from self.lines(old.lines, new.lines)

    def _rows(self, old: Decide, new: Decide, found: Comparison) -> Iterator[Elsewhere]:
        for part in found.parted:
            if not self._never(part, old, new):
                yield self._block(found, part)

    def _never(self, part: Parted, old: Decide, new: Decide) -> bool:
        """The proofs have shown that what has no way for an open question does not come to one."""
        trees = (self.pairs.old, self.pairs.new)
        return any(
            to == LEFT_OPEN and not (decide.unsettled or tree.unsettled)
            for to, decide, tree in zip((part.old, part.new), (old, new), trees, strict=True)
        )

    def _block(self, found: Comparison, part: Parted) -> Elsewhere:
        words = ", ".join(
            f"{spoken(column)} {_either(in_order(cell, domain))}"
            for column, domain, cell in zip(found.columns, found.domains, part.cells, strict=True)
            if len(cell) < len(domain)
        )
        kind = UNNAMED if part.unnamed else ROW
        row = found.row(part.cells)
        one = self.one(kind, row, words or "in any case", part.old, part.new)
        return replace(one, by=found.columns, combinations=part.combinations)

    # ---- lines of tests

    def lines(self, old: Sequence[Line], new: Sequence[Line]) -> Iterator[Elsewhere]:
        """Lines by their tests; another order only where it can matter."""
        then, now = ({plain(line.test): line for line in lines} for lines in (old, new))
        for test, line in {**then, **now}.items():
            before, after = then.get(test), now.get(test)
            if before is None or after is None or not self.same(before.to, after.to):
                yield self.one(LINE, *_of_line(line), before.to if before else None, after.to if after else None)
        both = [test for test in then if test in now]
        place = {test: number for number, test in enumerate(now)}
        for first, second in combinations(both, 2):
            above, under = now[first], now[second]
            if place[first] > place[second] and above.to != under.to and not _apart(above, under):
                words = f"{_of_line(under)[1]} now stands above {_of_line(above)[1]}"
                yield self.one(ORDER, _of_line(under)[0], words, above.to, under.to)


def _of_line(line: Line) -> tuple[str, str]:
    """As written, and as it is said."""
    return line.source, "none of its tests" if line.source == OTHERWISE else said(line.source)


def _apart(one: Line, other: Line) -> bool:
    """Whether both tests can't hold at once, so that their order is no matter."""
    tests = (one.test, other.test)
    if None in tests:
        return False
    first, second = tests
    return (
        isinstance(first, Is)
        and isinstance(second, Is)
        and not (first.negated or second.negated)
        and written(first.subject) == written(second.subject)
        and not {*first.words} & {*second.words}
    )


def _either(words: Sequence[str]) -> str:
    return " or ".join("not known" if word == UNKNOWN else word for word in words)


# ---- ways that have a key of their own

_NONE = ("", None)


def _named_ways(pairs: Pairs, old: Step, new: Step) -> Iterator[tuple[str, str, str | None, str | None]]:
    then, now = _ways(old), _ways(new)
    for way in {**then, **now}:
        words, _ = now.get(way) or then[way]
        before, after = (ways.get(way, _NONE)[1] for ways in (then, now))
        if way == UNSETTLED:  # the tree's own, where the step names none
            before, after = before or pairs.old.unsettled, after or pairs.new.unsettled
        if before == after if isinstance(new, FindingStep) else _one_place(pairs, old, new, before, after):
            continue  # what a finding leads to is a tree
        yield way, words, before, after


def _one_place(pairs: Pairs, old: Step, new: Step, before: str | None, after: str | None) -> bool:
    return before is not None and after is not None and pairs.same((old, new), before, after)


def _ways(step: Step) -> Mapping[str, tuple[str, str]]:
    """Each way out of a step that has a key of its own: how it is said, and where it leads."""
    ways: dict[str, tuple[str, str]] = {}
    if isinstance(step, Ask | Do | Wait) and step.couldnt:
        ways["couldn't"] = ("where it can't be had or done", step.couldnt)
    if isinstance(step, Wait) and step.cut_short:
        ways["cut short"] = ("where it is cut short", step.cut_short)
    if isinstance(step, Decide) and step.unsettled:
        ways[UNSETTLED] = ("where it stays open", step.unsettled)
    if isinstance(step, Repeat):
        key = "afterwards" if step.places else "when rounds run out"
        ways[key] = (key, step.out)
    if isinstance(step, Go):
        for outcome, to in step.comes_back.items():
            ways[f"comes back {outcome}"] = (f"{step.tree} comes back {outcome}", to)
    if isinstance(step, FindingStep):
        ways |= {key: (key, to) for key, to in (("go on", step.go_on), ("offer", step.offer)) if to}
    elif not isinstance(step, Decide | Repeat | Go):
        ways["then"] = ("afterwards", step.then or CARRY_ON)
    return ways
