"""The trees and examples that come with the package, read, proven and walked once for all tests of a run.

Nobody may change what is handed out here.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tui.proof.examples import Example, Outcome, outcome_of, walked
from tui.proof.reading import example_files, read_examples
from tui.tree.library import Library
from tui.tree.model import Decide
from tui.walk import Walk

TREES = Path(__file__).resolve().parents[1] / "trees"


@cache
def library() -> Library:
    """Proven."""
    return Library.load(TREES)


@cache
def examples() -> tuple[Example, ...]:
    """All of them, in file order."""
    return tuple(read_examples(library(), example_files([TREES])))


@cache
def walked_examples() -> tuple[tuple[Outcome, bool], ...]:
    """What each example came to, and whether it stopped on a close call."""
    found = []
    for example in examples():
        walk, refused = walked(library(), example.answers)
        found.append((outcome_of(example, walk, refused), walk is not None and any(_stops(walk))))
    return tuple(found)


def outcomes() -> list[Outcome]:
    """What each example came to."""
    return [outcome for outcome, _ in walked_examples()]


def _stops(walk: Walk) -> Iterator[bool]:
    for event in walk.events:
        if event["event"] == "routed" and event.get("close"):
            step = library().trees[event["tree"]].named[event["step"]]
            yield isinstance(step, Decide) and step.must_be_settled
