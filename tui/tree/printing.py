"""Expressions and tests back to text: as a tree would write them; reading that gives the same again."""

from __future__ import annotations

from tui.tree.model import AllOf, Call, Compare, Expression, Is, Literal, Name, Negative, OfSeries, Test


def print_expression(e: Expression) -> str:
    """An expression as a tree would write it; parsing it gives the same again."""
    return _print(e, 0)


def _print(e: Expression, level: int) -> str:
    if isinstance(e, Literal):
        return e.value.typed
    if isinstance(e, Name):
        return e.name
    if isinstance(e, OfSeries):
        return f"{e.function}({e.name})"
    if isinstance(e, Call):
        return f"{e.function}({', '.join(_print(a, 0) for a in e.arguments)})"
    if isinstance(e, Negative):
        positive = isinstance(e.operand, Literal) and e.operand.value.typed[:1] != "-"
        return f"-{' ' if positive else ''}{_print(e.operand, 3)}"  # -5 dF is a number, - 5 dF its opposite
    own = 1 if e.operator in "+-" else 2
    text = f"{_print(e.left, own)} {e.operator} {_print(e.right, own + 1)}"
    return f"({text})" if own < level else text


def print_test(test: Test) -> str:
    """A test as a tree would write it."""
    if isinstance(test, Compare):
        return f"{_print(test.left, 0)} is {test.relation} {_print(test.right, 0)}"
    if isinstance(test, Is):
        return f"{_print(test.subject, 0)} is {'not ' if test.negated else ''}{' or '.join(test.words)}"
    joiner = " and " if isinstance(test, AllOf) else " or "
    return joiner.join(print_test(part) for part in test.tests)
