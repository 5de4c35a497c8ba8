"""Tests and expressions as a tree writes them, for messages."""

from __future__ import annotations

from tui.quantity import show
from tui.tree.model import (
    AllOf,
    AnyOf,
    Binary,
    Call,
    Compare,
    Expression,
    Is,
    Literal,
    Name,
    Negative,
    OfSeries,
    Test,
)


def test_text(test: Test) -> str:
    """The test in the words of the language."""
    if isinstance(test, Compare):
        return f"{expression_text(test.left)} is {test.relation} {expression_text(test.right)}"
    if isinstance(test, Is):
        return f"{expression_text(test.subject)} is {'not ' if test.negated else ''}{' or '.join(test.words)}"
    assert isinstance(test, AllOf | AnyOf)
    return (" and " if isinstance(test, AllOf) else " or ").join(test_text(part) for part in test.tests)


def expression_text(e: Expression) -> str:
    """The expression in the words of the language, with no more brackets than it needs."""
    if isinstance(e, Literal):
        return e.value.typed or show(e.value)
    if isinstance(e, Name):
        return e.name
    if isinstance(e, OfSeries):
        return f"{e.function}({e.name})"
    if isinstance(e, Call):
        return f"{e.function}({', '.join(expression_text(a) for a in e.arguments)})"
    if isinstance(e, Negative):
        return f"-{expression_text(e.operand)}"
    assert isinstance(e, Binary)
    return f"{expression_text(e.left)} {e.operator} {expression_text(e.right)}"
