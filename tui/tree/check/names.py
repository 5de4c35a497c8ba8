"""Which names an expression, a test or a text needs, and what each name comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.model import (
    AllOf,
    AnyOf,
    Ask,
    Binary,
    Call,
    Catalogue,
    CautionStep,
    Compare,
    Decide,
    Do,
    Expression,
    Figure,
    FindingStep,
    Is,
    Judge,
    Literal,
    Name,
    Negative,
    OfSeries,
    Repeat,
    Step,
    Test,
    Text,
    Tree,
    Wait,
    WorkOut,
)
from tui.tree.spot import Spot

FIRST = "first"
PLACE = "place"


@dataclass(frozen=True, slots=True)
class Use:
    """One name needed in one place. `first` only: the first of its series, which never goes stale.

    `by` is the figure or list that needs it, where the text does not name it itself.
    """

    name: str
    spot: Spot
    first: bool = False
    by: str = ""


def in_expression(e: Expression | None) -> Iterator[Use]:
    """Every name in it, as written."""
    if isinstance(e, Name):
        yield Use(e.name, e.spot)
    elif isinstance(e, OfSeries):
        yield Use(e.name, e.spot, first=e.function == FIRST)
    elif isinstance(e, Binary):
        yield from in_expression(e.left)
        yield from in_expression(e.right)
    elif isinstance(e, Negative):
        yield from in_expression(e.operand)
    elif isinstance(e, Call):
        for argument in e.arguments:
            yield from in_expression(argument)


def in_test(test: Test | None) -> Iterator[Use]:
    """Every name in it, as written."""
    if isinstance(test, Compare):
        yield from in_expression(test.left)
        yield from in_expression(test.right)
    elif isinstance(test, Is):
        yield from in_expression(test.subject)
    elif isinstance(test, AllOf | AnyOf):
        for part in test.tests:
            yield from in_test(part)


def in_text(text: Text | None) -> Iterator[Use]:
    """Every name in its ``<...>`` parts."""
    if text is not None:
        for part in text.parts:
            if not isinstance(part, str):
                yield from in_expression(part)


def in_result(step: WorkOut | Judge) -> Iterator[Use]:
    """What a worked-out or judged name is made from."""
    if isinstance(step, WorkOut):
        yield from in_expression(step.expression)
        return
    for part in (step.compare, step.target, step.band, step.on_from, step.on_to):
        yield from in_expression(part)


def in_decide(step: Decide) -> Iterator[Use]:
    """The columns of its table, or every name of its tests."""
    if step.table is not None:
        for column in step.table.columns:
            yield Use(column, step.spot)
    for line in step.lines:
        yield from in_test(line.test)


def step_uses(step: Step, catalogue: Catalogue) -> Iterator[Use]:
    """Every name a step needs before it is done; for a repeat, before its first round."""
    yield from in_test(step.only_when)
    yield from in_text(step.why)
    yield from in_text(step.how)
    if isinstance(step, Ask):
        yield from in_text(step.question)
    elif isinstance(step, CautionStep):
        for caution in step.cautions:
            if caution in catalogue.cautions:
                for use in in_test(catalogue.cautions[caution].when):
                    yield Use(use.name, step.spot, use.first, by=caution)
    elif isinstance(step, Do):
        yield from in_text(step.tell)
    elif isinstance(step, Wait):
        yield from in_expression(step.duration)
        yield from in_text(step.because)
    elif isinstance(step, Repeat):
        places = catalogue.places.lists.get(step.places or "")
        for column in places.columns if places is not None else ():
            yield Use(column, step.spot, by=step.places or "")
    else:
        yield from _result_uses(step)


def _result_uses(step: Step) -> Iterator[Use]:
    if isinstance(step, WorkOut | Judge):
        yield from in_result(step)
    elif isinstance(step, Decide):
        yield from in_decide(step)
    elif isinstance(step, FindingStep):
        for text in (step.seen, step.next, step.told_apart, step.customer):
            yield from in_text(text)


def every_step(steps: Iterable[Step]) -> Iterator[Step]:
    """Steps in file order, those inside a repeat after it."""
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from every_step(step.steps)


def written(e: Expression) -> str:
    """An expression as one text without places, so that two alike can be told."""
    if isinstance(e, Literal):
        return f"{e.value.kind}:{e.value.si!r}"
    if isinstance(e, Name):
        return e.name
    if isinstance(e, OfSeries):
        return f"{e.function}({e.name})"
    if isinstance(e, Binary):
        return f"({written(e.left)} {e.operator} {written(e.right)})"
    if isinstance(e, Negative):
        return f"(-{written(e.operand)})"
    return f"{e.function}({', '.join(written(a) for a in e.arguments)})"


@dataclass(slots=True)
class Names:
    """Every name of a library as one bit.

    Readings and shared results are one name everywhere; a tree's own results and its places are
    kept under ``tree/name``.
    """

    catalogue: Catalogue
    bit: dict[str, int] = field(default_factory=dict)

    @classmethod
    def of(cls, trees: Mapping[str, Tree], catalogue: Catalogue) -> Names:
        """Number the names that these trees give or that the catalogue holds."""
        made = cls(catalogue)
        for reading in catalogue.readings:
            made._add(reading)
        for tree in trees.values():
            for step in every_step(tree.steps):
                if isinstance(step, WorkOut | Judge):
                    made._add(made.key(tree.name, step.result))
                elif isinstance(step, Repeat) and step.places is not None:
                    for name in (PLACE, *catalogue.places.kinds):
                        made._add(f"{tree.name}/{name}")
        return made

    def _add(self, key: str) -> None:
        self.bit.setdefault(key, len(self.bit))

    def key(self, tree: str, name: str) -> str:
        """The name's own key as seen from a tree."""
        return name if name in self.catalogue.readings else f"{tree}/{name}"

    def find(self, tree: str, name: str) -> int | None:
        """Its bit; None for a figure, an answer word or a name nobody gives."""
        bit = self.bit.get(name) if name in self.catalogue.readings else None
        return bit if bit is not None else self.bit.get(f"{tree}/{name}")

    def spread(self, tree: str, uses: Iterable[Use]) -> Iterator[tuple[int, Use]]:
        """Uses as bits; a figure with columns needs its columns instead."""
        for use in uses:
            bit = self.find(tree, use.name)
            if bit is not None:
                yield bit, use
            elif use.name in self.catalogue.figures:
                yield from self._of_figure(tree, self.catalogue.figures[use.name], use)

    def _of_figure(self, tree: str, figure: Figure, use: Use) -> Iterator[tuple[int, Use]]:
        for column in figure.table.columns if figure.table is not None else ():
            bit = self.find(tree, column)
            if bit is not None:
                yield bit, Use(column, use.spot, by=use.name)

    def mask(self, tree: str, uses: Iterable[Use]) -> int:
        """All bits of these uses together."""
        mask = 0
        for bit, _ in self.spread(tree, uses):
            mask |= 1 << bit
        return mask

    def words(self, mask: int) -> list[str]:
        """The names of a mask, as a tree writes them."""
        return [key.rpartition("/")[2] for key, bit in self.bit.items() if mask >> bit & 1]


def derived_from(trees: Mapping[str, Tree], names: Names) -> list[int]:
    """For each name's bit: the mask of all that is worked out or judged from it, itself among them.

    What takes only the first of a series does not hang on what comes later.
    """
    direct = [0] * len(names.bit)
    for tree in trees.values():
        for step in every_step(tree.steps):
            if isinstance(step, WorkOut | Judge):
                result = 1 << names.bit[names.key(tree.name, step.result)]
                for bit, use in names.spread(tree.name, in_result(step)):
                    if not use.first:
                        direct[bit] |= result
    return [_closed(bit, direct) for bit in range(len(direct))]


def _closed(bit: int, direct: list[int]) -> int:
    """A bit with all that hangs on it, step by step."""
    mask = todo = 1 << bit
    while todo:
        low = todo & -todo
        todo ^= low
        new = direct[low.bit_length() - 1] & ~mask
        mask |= new
        todo |= new
    return mask


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits set."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
