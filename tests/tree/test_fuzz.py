"""A short run of the fuzzers of trees and expressions; the long ones are ``python tests/fuzz/run.py``."""

from tests.fuzz import expression, tree


def test_mutated_trees_are_refused_in_words() -> None:
    assert tree.run(150, 7) == 150


def test_mutated_expressions_are_refused_in_words() -> None:
    assert expression.run(4000, 7) == 4000
