"""When one test makes another so: written out by hand, then against every assignment of words and numbers."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import Kind, Quantity
from tui.tree.check.stated import implies
from tui.tree.model import AllOf, AnyOf, Compare, Expression, Is, Literal, Name, Test
from tui.tree.spot import Spot

HERE = Spot("here", 1, 1)
WORDS = ("a", "b", "c")
NUMBERS = (1.0, 2.0, 3.0)
NAMES = ("x", "y")


def domain(e: Expression) -> frozenset[str] | None:
    return frozenset(WORDS) if isinstance(e, Name) and e.name in NAMES else None


def word(name: str, *words: str, no: bool = False) -> Is:
    return Is(Name(name, HERE), words, no, HERE)


def number(name: str, relation: str, value: float) -> Compare:
    return Compare(Name(name, HERE), relation, Literal(Quantity(Kind.NUMBER, value), HERE), HERE)


def every(*tests: Test) -> AllOf:
    return AllOf(tests, HERE)


def either(*tests: Test) -> AnyOf:
    return AnyOf(tests, HERE)


@pytest.mark.parametrize(
    ("stated", "holds", "fact", "expected"),
    [
        (word("x", "a"), True, word("x", "a", "b"), True),
        (word("x", "a", "b"), True, word("x", "a"), False),
        (word("x", "a"), True, word("x", "b", no=True), True),
        (word("x", "a"), False, word("x", "b", "c"), True),
        (word("x", "a"), False, word("x", "a", no=True), True),
        (word("x", "a", "unknown"), True, word("x", "b", no=True), False),
        (word("x", "unknown"), False, word("x", "a", "b", "c"), True),
        (word("y", "a"), True, word("x", "a"), False),
        (number("n", "above", 2), True, number("n", "at least", 2), True),
        (number("n", "at least", 2), True, number("n", "above", 2), False),
        (number("n", "above", 2), False, number("n", "at most", 2), True),
        (number("n", "at most", 1), True, number("n", "at most", 2), True),
        (number("n", "at most", 3), True, number("n", "at most", 2), False),
        (every(word("x", "a"), word("y", "b")), True, word("y", "b"), True),
        (every(word("x", "a"), word("y", "b")), False, word("y", "b", no=True), False),
        (either(word("x", "a"), word("y", "b")), True, word("x", "a"), False),
        (either(word("x", "a"), word("y", "b")), False, word("y", "b", no=True), True),
        (either(word("x", "a"), word("x", "b")), True, word("x", "c", no=True), True),
        (word("x", "a"), True, either(word("x", "a"), word("y", "b")), True),
        (word("x", "a"), True, every(word("x", "a"), word("y", "b")), False),
    ],
)
def test_by_hand(stated: Test, holds: bool, fact: Test, expected: bool) -> None:
    assert implies(stated, holds, fact, domain) is expected


def test_the_other_way_round() -> None:
    five, three = (Name(name, HERE) for name in ("five", "three"))
    assert implies(Compare(five, "above", three, HERE), True, Compare(three, "below", five, HERE), domain)


atoms = st.one_of(
    st.builds(
        lambda name, words, no: Is(Name(name, HERE), tuple(words), no, HERE),
        st.sampled_from(NAMES),
        st.sets(st.sampled_from((*WORDS, "unknown")), min_size=1),
        st.booleans(),
    ),
    st.builds(
        number, st.just("n"), st.sampled_from(("below", "above", "at least", "at most")), st.sampled_from(NUMBERS)
    ),
)
tests = st.recursive(
    atoms,
    lambda part: st.one_of(
        st.lists(part, min_size=2, max_size=3).map(lambda found: every(*found)),
        st.lists(part, min_size=2, max_size=3).map(lambda found: either(*found)),
    ),
    max_leaves=4,
)
WORLDS = [
    {"x": x, "y": y, "n": n}
    for x in (*WORDS, None)
    for y in (*WORDS, None)
    for n in (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, None)
]


def truth(test: Test, world: Mapping[str, object]) -> bool | None:
    """Three-valued, as the walk sees it."""
    if isinstance(test, Is):
        assert isinstance(test.subject, Name)
        value = world[test.subject.name]
        if value is None:
            return ("unknown" in test.words) != test.negated if "unknown" in test.words else None
        return (value in test.words) != test.negated
    if isinstance(test, Compare):
        value = world["n"]
        assert isinstance(test.right, Literal)
        if not isinstance(value, float):
            return None
        other = test.right.value.si
        return {"below": value < other, "above": value > other, "at least": value >= other}.get(
            test.relation, value <= other
        )
    parts = [truth(part, world) for part in test.tests]
    ends = isinstance(test, AnyOf)
    if ends in parts:
        return ends
    return None if None in parts else not ends


@given(stated=tests, fact=tests, holds=st.booleans())
def test_never_more_than_is_so(stated: Test, fact: Test, holds: bool) -> None:
    if implies(stated, holds, fact, domain):
        for world in WORLDS:
            if truth(stated, world) is holds:
                assert truth(fact, world) is True, world
