"""How a unit is left: empty is what gas was taken out of and no plate charge was weighed into since."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from tests.bundled import examples, library
from tui.app.leaving import left_so
from tui.proof.examples import walked

WEIGHED, RECOVERED = "weighs the plate charge in", "recovers refrigerant"


def said_of(name: str) -> tuple[str, list[Any]]:
    example = next(each for each in examples() if each.name == name)
    walk, _ = walked(library(), example.answers)
    assert walk is not None
    done = [event["work"] for event in walk.events if event["event"] == "done"]
    said = " ".join(str(part) for part in left_so(SimpleNamespace(walk=walk)))  # type: ignore[arg-type]
    return said, done


def last_of(done: list[Any], work: str) -> int:
    return max((n for n, each in enumerate(done) if each == work), default=-1)


def names(*, weighed_last: bool) -> list[str]:
    """The first three examples that recover and accept an offer, of those that end charged, or empty."""
    found: list[str] = []
    for example in examples():
        if len(found) == 3:
            break
        walk, _ = walked(library(), example.answers) if "offer" in str(example.answers) else (None, None)
        done = [event["work"] for event in walk.events if event["event"] == "done"] if walk is not None else []
        if RECOVERED in done and (last_of(done, WEIGHED) > last_of(done, RECOVERED)) is weighed_last:
            found.append(example.name)
    return found


@pytest.mark.parametrize("charged", [True, False])
def test_empty_is_said_of_what_is_empty_alone(charged: bool) -> None:
    tried = names(weighed_last=charged)
    assert tried
    for name in tried:
        said, done = said_of(name)
        assert RECOVERED in done
        assert ("empty of refrigerant" in said) is not charged, name
