"""Names that an expression or a test looks at."""

from __future__ import annotations

from collections.abc import Iterator

from tui.tree.model import AllOf, AnyOf, Binary, Call, Compare, Expression, Is, Name, Negative, OfSeries, Test


def names_in(expression: Expression) -> Iterator[str]:
    """Every name an expression uses."""
    if isinstance(expression, Name | OfSeries):
        yield expression.name
    elif isinstance(expression, Binary):
        yield from names_in(expression.left)
        yield from names_in(expression.right)
    elif isinstance(expression, Call):
        for argument in expression.arguments:
            yield from names_in(argument)
    elif isinstance(expression, Negative):
        yield from names_in(expression.operand)


def names_in_test(test: Test) -> Iterator[str]:
    """Every name a test looks at."""
    if isinstance(test, AllOf | AnyOf):
        for part in test.tests:
            yield from names_in_test(part)
    elif isinstance(test, Compare):
        yield from names_in(test.left)
        yield from names_in(test.right)
    elif isinstance(test, Is):
        yield from names_in(test.subject)
