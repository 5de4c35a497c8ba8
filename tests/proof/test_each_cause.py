"""Each cause is held by examples of several kinds, found alone in each.

At least four written by a person; two classes of equipment, two refrigerants, figures in both systems of units; one in
which a reading that was asked for was not had; and a near-miss, which is the same visit but for a few answers and does
not find it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cache

import pytest

from tests.bundled import examples, library
from tui.proof.examples import Example, walked
from tui.proof.table import CANNOT_TELL
from tui.walk.answers import OFFERS
from tui.walk.kinds import ALTITUDE

CAUSES = sorted(set(library().catalogue.causes) - {CANNOT_TELL})
AT_LEAST, ALL_OF_THEM = 4, 250
FEW = 4  # answers in which a near-miss differs

Answer = tuple[str, str, tuple[str, ...]]


@cache
def reviewed() -> tuple[Example, ...]:
    return tuple(example for example in examples() if not example.unreviewed)


@cache
def by_cause() -> dict[str, list[Example]]:
    found: dict[str, list[Example]] = defaultdict(list)
    for example in reviewed():
        for cause in {each.cause for each in example.expected}:
            found[cause].append(example)
    return found


def said(example: Example, reading: str) -> Iterator[str]:
    """What its circuits answer to a reading."""
    for given in example.answers.circuits.values():
        if reading in given:
            yield from given[reading].texts


def texts(example: Example) -> Iterator[str]:
    """Everything its circuits answer."""
    for given in example.answers.circuits.values():
        for answer in given.values():
            yield from answer.texts


def in_us_units(text: str) -> bool:
    return text.endswith(("°F", "psig"))


def in_si_units(text: str) -> bool:
    return text.endswith(("°C", "barg"))


def answers(example: Example) -> frozenset[Answer]:
    """Everything it answers, of the visit and of its circuits, but the offers."""
    own = {"": example.answers.visit, **example.answers.circuits}
    return frozenset(
        (of, name, given.texts) for of, all_of in own.items() for name, given in all_of.items() if name != OFFERS
    )


def lacks_a_reading(example: Example) -> bool:
    walk, refused = walked(library(), example.answers)
    assert walk is not None, refused
    lacking = (event.get("readings", []) for event in walk.events if event["event"] == "couldn't")
    return any(set(readings) - {ALTITUDE} for readings in lacking)


def near(one: Iterable[Answer], other: Iterable[Answer]) -> bool:
    """They differ, in a few answers."""
    return 0 < len({(of, name) for of, name, _ in frozenset(one) ^ frozenset(other)}) <= FEW


def near_misses(cause: str) -> Iterator[tuple[Example, Example]]:
    """(one that finds it, one that does not) and begins with the same tree."""
    others = [(e, answers(e)) for e in reviewed() if all(f.cause != cause for f in e.expected)]
    for one in by_cause()[cause]:
        of_it = answers(one)
        yield from ((one, e) for e, its in others if e.answers.tree == one.answers.tree and near(of_it, its))


def test_there_are_enough() -> None:
    assert len(reviewed()) >= ALL_OF_THEM


@pytest.mark.parametrize("cause", CAUSES)
def test_several_classes_refrigerants_and_both_systems(cause: str) -> None:
    held = by_cause()[cause]
    assert len(held) >= AT_LEAST
    assert len({word for example in held for word in said(example, "equipment")}) >= 2
    assert len({word for example in held for word in said(example, "refrigerant")}) >= 2
    assert all(any(any(map(unit, texts(example))) for example in held) for unit in (in_us_units, in_si_units))


@pytest.mark.parametrize("cause", CAUSES)
def test_one_with_a_reading_missing(cause: str) -> None:
    assert any(map(lacks_a_reading, by_cause()[cause]))


@pytest.mark.parametrize("cause", CAUSES)
def test_one_near_miss(cause: str) -> None:
    assert next(near_misses(cause), None) is not None


def test_near_is_a_few_answers_and_not_none() -> None:
    same = frozenset({("main", str(n), ("a",)) for n in range(FEW + 1)})
    others = [
        frozenset({(of, name, ("b",) if int(name) < changed else it) for of, name, it in same})
        for changed in range(FEW + 2)
    ]
    assert [near(same, other) for other in others] == [False, *[True] * FEW, False]
