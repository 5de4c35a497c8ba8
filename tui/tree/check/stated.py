"""What a taken line states: whether one test being so, or not so, makes another test so."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tui.tree.check.names import written
from tui.tree.model import UNKNOWN, AllOf, AnyOf, Compare, Expression, Is, Literal, Name, Row, Table, Test
from tui.tree.spot import Spot

Domain = Callable[[Expression], frozenset[str] | None]

_SIGN = {"below": "<", "above": ">", "at least": ">=", "at most": "<=", "before": "<", "on or after": ">="}
_NOT = {"<": ">=", ">": "<=", ">=": "<", "<=": ">"}
_TURNED = {"<": ">", ">": "<", ">=": "<=", "<=": ">="}


def implies(stated: Test, holds: bool, fact: Test, domain: Domain) -> bool:
    """True if `stated` being so (`holds`) or not so surely makes `fact` so.

    A test on an unknown value is neither so nor not so, unless it names ``unknown``.
    """
    if isinstance(fact, AllOf):
        return all(implies(stated, holds, part, domain) for part in fact.tests)
    if isinstance(stated, AllOf | AnyOf):
        enough = any if isinstance(stated, AllOf) == holds else all
        if enough(implies(part, holds, fact, domain) for part in stated.tests):
            return True
        return isinstance(fact, AnyOf) and any(implies(stated, holds, part, domain) for part in fact.tests)
    if isinstance(fact, AnyOf):
        return any(implies(stated, holds, part, domain) for part in fact.tests)
    if isinstance(stated, Is) and isinstance(fact, Is):
        return _words_imply(stated, holds, fact, domain)
    if isinstance(stated, Compare) and isinstance(fact, Compare):
        return _order_implies(stated, holds, fact)
    return False


def row_implies(table: Table, row: Row, fact: Test, domain: Domain) -> bool:
    """True if taking this row makes `fact` so: one of its cells says it."""
    if isinstance(fact, AllOf | AnyOf):
        enough = all if isinstance(fact, AllOf) else any
        return enough(row_implies(table, row, part, domain) for part in fact.tests)
    if not isinstance(fact, Is) or not isinstance(fact.subject, Name) or fact.subject.name not in table.columns:
        return False
    cell = row.cells[table.columns.index(fact.subject.name)]
    return cell is not None and implies(is_one_of(fact.subject.name, cell, row.spot), True, fact, domain)


def row_tests(table: Table, row: Row) -> Iterable[Is]:
    """A row's cells as tests; ``any`` says nothing."""
    for column, cell in zip(table.columns, row.cells, strict=True):
        if cell is not None:
            yield is_one_of(column, cell, row.spot)


def is_one_of(name: str, words: Iterable[str], spot: Spot) -> Is:
    """The test ``name is a or b``."""
    return Is(Name(name, spot), tuple(words), False, spot)


def _words_imply(stated: Is, holds: bool, fact: Is, domain: Domain) -> bool:
    if not _same(stated.subject, fact.subject):
        return False
    all_words = domain(fact.subject)
    said, said_other = _allowed(stated, holds, all_words)
    wanted, wanted_other = _allowed(fact, True, all_words)
    if not said_other and not wanted_other:
        return said <= wanted
    if not said_other:
        return not said & wanted and UNKNOWN not in said
    return wanted_other and wanted <= said


def _same(a: Expression, b: Expression) -> bool:
    if isinstance(a, Name) and isinstance(b, Name):
        return a.name == b.name
    return written(a) == written(b)


def _allowed(test: Is, holds: bool, domain: frozenset[str] | None) -> tuple[frozenset[str], bool]:
    """The words a subject may have; with True, all words but these (where no one knows them all)."""
    words = frozenset(test.words)
    if holds != test.negated:
        return words, False
    if domain is None:
        return words, True
    return domain - words, False


def _order_implies(stated: Compare, holds: bool, fact: Compare) -> bool:
    left, sign, right = written(fact.left), _SIGN[fact.relation], fact.right
    said = _SIGN[stated.relation] if holds else _NOT[_SIGN[stated.relation]]
    for a, relation, b in ((stated.left, said, stated.right), (stated.right, _TURNED[said], stated.left)):
        if written(a) != left or relation[0] != sign[0]:
            continue
        if written(b) == written(right):
            return relation == sign or len(relation) < len(sign)
        if isinstance(b, Literal) and isinstance(right, Literal):
            return _further(relation, b.value.si, right.value.si, b.value.kind == right.value.kind)
    return False


def _further(relation: str, said: float, wanted: float, same_kind: bool) -> bool:
    """``at most 100 psig`` says ``at most 150 psig`` too."""
    return same_kind and (said < wanted if relation[0] == "<" else said > wanted)
