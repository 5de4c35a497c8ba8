"""Where something may be unknown, and whether a decide then still knows where to go."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import product

from tui.quantity import Kind
from tui.trade import SUMS
from tui.tree.check.names import Names, bits
from tui.tree.model import (
    UNKNOWN,
    AllOf,
    Binary,
    Call,
    Compare,
    Expression,
    Figure,
    Is,
    Line,
    Literal,
    Name,
    Negative,
    OfSeries,
    Table,
    Test,
)

MOST_NAMES = 6  # so many unknown names are tried in every combination; more only all at once


@dataclass(frozen=True, slots=True)
class Doubt:
    """When an expression is unknown: `always` it may be, one of `names` is, or all of a group are."""

    names: int = 0
    always: bool = False
    groups: tuple[tuple[Doubt, ...], ...] = ()

    def at(self, unknown: int) -> bool:
        """Whether it may be unknown where the names of `unknown` may be."""
        if self.always or self.names & unknown:
            return True
        return any(all(part.at(unknown) for part in group) for group in self.groups)

    def all_names(self) -> int:
        """Every name its being known hangs on."""
        mask = self.names
        for group in self.groups:
            for part in group:
                mask |= part.all_names()
        return mask


SURE = Doubt()


def together(doubts: list[Doubt]) -> Doubt:
    """Unknown as soon as one of these is."""
    names = 0
    groups: tuple[tuple[Doubt, ...], ...] = ()
    for doubt in doubts:
        names |= doubt.names
        groups += doubt.groups
    return Doubt(names, any(doubt.always for doubt in doubts), groups)


@dataclass(slots=True)
class Doubts:
    """Doubts of the expressions of one library."""

    names: Names
    _figures: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def of(self, tree: str, e: Expression | None) -> Doubt:
        """When this expression, in this tree, is unknown."""
        if isinstance(e, Name):
            return self.of_name(tree, e.name)
        if isinstance(e, OfSeries):
            return self.of_name(tree, e.name)
        if isinstance(e, Binary):
            parts = [self.of(tree, e.left), self.of(tree, e.right)]
            if e.operator == "/" and not self._surely_not_zero(e.right):
                parts.append(Doubt(always=True))
            return together(parts)
        if isinstance(e, Negative):
            return self.of(tree, e.operand)
        return self._of_call(tree, e) if isinstance(e, Call) else SURE

    def _surely_not_zero(self, e: Expression) -> bool:
        if isinstance(e, Literal):
            return e.value.si != 0
        return isinstance(e, Name) and (
            e.name in self.names.catalogue.figures or self._above_zero(e.name)
        )

    def _above_zero(self, name: str) -> bool:
        reading = self.names.catalogue.readings.get(name)
        return reading is not None and reading.low is not None and reading.low > 0

    def of_name(self, tree: str, name: str) -> Doubt:
        bit = self.names.find(tree, name)
        if bit is not None:
            return Doubt(1 << bit)
        figure = self.names.catalogue.figures.get(name)
        return SURE if figure is None else self._of_figure(tree, figure)

    def _of_figure(self, tree: str, figure: Figure) -> Doubt:
        if figure.table is None:
            return SURE
        if figure.id not in self._figures:
            self._figures[figure.id] = tuple(unanswered(figure.table))
        mask = 0
        for column in self._figures[figure.id]:
            bit = self.names.find(tree, column)
            mask |= 0 if bit is None else 1 << bit
        return Doubt(mask)

    def _of_call(self, tree: str, e: Call) -> Doubt:
        parts = [self.of(tree, argument) for argument in e.arguments]
        if e.function == "first-known":
            return Doubt(groups=(tuple(parts),))
        if may_refuse(e.function):
            parts.append(Doubt(always=True))
        return together(parts)


def may_refuse(function: str) -> bool:
    """Whether a sum can say that it has no answer: any but those that only turn words into words."""
    found = SUMS.get(function)
    if found is None:
        return False
    kinds = (*found.arguments, found.result)
    return any(kind not in (Kind.CHOICE, Kind.YES_NO, Kind.TEXT) for kind in kinds)


def unanswered(table: Table) -> Iterator[str]:
    """Columns whose being unknown no row covers, whatever the others are."""
    for index, column in enumerate(table.columns):
        if not all(_covers(table, index, words) for words in _others(table, index)):
            yield column


def _others(table: Table, index: int) -> Iterator[tuple[str, ...]]:
    domains = [(UNKNOWN,) if i == index else d for i, d in enumerate(table.domains)]
    return product(*domains)


def _covers(table: Table, index: int, words: tuple[str, ...]) -> bool:
    return table.row_for(words) is not None


# ---- tables


@dataclass(slots=True)
class Forks:
    """One decide's table as masks of rows, to see where unknown columns leave more than one way."""

    table: Table
    masks: list[dict[str, int]] = field(default_factory=list)  # column -> word -> rows
    known: list[int] = field(default_factory=list)  # column -> rows with a known word
    named: list[bool] = field(default_factory=list)
    memo: dict[int, bool] = field(default_factory=dict)

    @classmethod
    def of(cls, table: Table) -> Forks:
        made = cls(table)
        for index, domain in enumerate(table.domains):
            by_word = {word: _rows_with(table, index, word) for word in (*domain, UNKNOWN)}
            made.masks.append(by_word)
            every = 0
            for word in domain:
                every |= by_word[word]
            made.known.append(every)
            made.named.append(any(UNKNOWN in (row.cells[index] or ()) for row in table.rows))
        return made

    def open(self, unknown: int) -> bool:
        """Whether, where the columns of `unknown` (a mask of columns) may be unknown, some
        combination leads to no row or to more than one place."""
        if unknown not in self.memo:
            self.memo[unknown] = any(self._open(part) for part in parts_of(unknown))
        return self.memo[unknown]

    def _open(self, unknown: int) -> bool:
        literal = wide = (1 << len(self.table.rows)) - 1
        choices: list[list[int]] = []
        for index, by_word in enumerate(self.masks):
            if unknown >> index & 1:
                literal &= by_word[UNKNOWN]
                wide &= by_word[UNKNOWN] if self.named[index] else self.known[index]
            else:
                choices.append(list({mask for word, mask in by_word.items() if word != UNKNOWN}))
        for combination in product(*choices):
            mask = -1
            for one in combination:
                mask &= one
            if not literal & mask and len(self._targets(wide & mask)) != 1:
                return True
        return False

    def _targets(self, mask: int) -> set[str]:
        return {self.table.rows[row].to for row in bits(mask)}


def _rows_with(table: Table, index: int, word: str) -> int:
    mask = 0
    for number, row in enumerate(table.rows):
        cell = row.cells[index]
        if cell is None or word in cell:
            mask |= 1 << number
    return mask


def parts_of(mask: int) -> Iterator[int]:
    """Every set of these bits but the empty one, all of them first."""
    if mask.bit_count() > MOST_NAMES:
        yield mask
        yield from (1 << bit for bit in bits(mask))
        return
    part = mask
    while part:
        yield part
        part = (part - 1) & mask


# ---- lines

TRUE, FALSE, OPEN = 1, 2, 4
DoubtOf = Callable[[Expression], Doubt]


def lines_open(lines: tuple[Line, ...], unknown: int, doubt_of: DoubtOf) -> bool:
    """Whether, where the names of `unknown` may be unknown, some test then leaves two ways open."""
    if _open_for(lines, 0, doubt_of):
        return True
    concerned = 0
    for line in lines:
        if line.test is not None:
            concerned |= test_names(line.test, doubt_of)
    return any(_open_for(lines, part, doubt_of) for part in parts_of(unknown & concerned))


def _open_for(lines: tuple[Line, ...], unknown: int, doubt_of: DoubtOf) -> bool:
    """With exactly these names unknown: walk the lines from the last up, keeping the sets of places
    that may follow together."""
    following: set[frozenset[str]] = set()
    for line in reversed(lines):
        own = frozenset((line.to,))
        status = TRUE if line.test is None else status_of(line.test, unknown, doubt_of)
        found: set[frozenset[str]] = set()
        if status & TRUE:
            found.add(own)
        if status & FALSE:
            found |= following
        if status & OPEN:
            found |= {own | after for after in following} or {own}
        following = found
    return any(len(places) > 1 for places in following)


def test_names(test: Test, doubt_of: DoubtOf) -> int:
    """Every name that can leave this test open."""
    if isinstance(test, Compare):
        return doubt_of(test.left).all_names() | doubt_of(test.right).all_names()
    if isinstance(test, Is):
        return doubt_of(test.subject).all_names()
    mask = 0
    for part in test.tests:
        mask |= test_names(part, doubt_of)
    return mask


def status_of(test: Test, unknown: int, doubt_of: DoubtOf) -> int:
    """TRUE, FALSE and OPEN as far as each can be, with exactly these names unknown."""
    if isinstance(test, Compare):
        both = together([doubt_of(test.left), doubt_of(test.right)])
        return _status(both, unknown)
    if isinstance(test, Is):
        return _is_status(test, doubt_of(test.subject), unknown)
    return _joined(isinstance(test, AllOf), [status_of(part, unknown, doubt_of) for part in test.tests])


def _status(doubt: Doubt, unknown: int) -> int:
    if not doubt.at(unknown):
        return TRUE | FALSE
    surely = Doubt(doubt.names, False, doubt.groups).at(unknown)
    return OPEN if surely else TRUE | FALSE | OPEN


def _is_status(test: Is, doubt: Doubt, unknown: int) -> int:
    status = _status(doubt, unknown)
    if UNKNOWN not in test.words or not status & OPEN:
        only_unknown = set(test.words) == {UNKNOWN}
        return (TRUE if test.negated else FALSE) if only_unknown and not status & OPEN else status
    settled = FALSE if test.negated else TRUE
    return settled if status == OPEN else TRUE | FALSE


def _joined(every: bool, parts: list[int]) -> int:
    """Three-valued ``and`` (every) or ``or`` over all that each part can be."""
    ends, goes = (FALSE, TRUE) if every else (TRUE, FALSE)
    result = 0
    if any(part & ends for part in parts):
        result |= ends
    if all(part & goes for part in parts):
        result |= goes
    if any(part & OPEN for part in parts) and all(part & (goes | OPEN) for part in parts):
        result |= OPEN
    return result
