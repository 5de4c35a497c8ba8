"""Whole visits written by hand: raw readings in, findings expected out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tui.quantity.refused import Refused
from tui.tree.library import Library
from tui.tree.spot import Spot
from tui.walk import Walk
from tui.walk.answers import Answers, run_answers
from tui.walk.inputs import INPUTS
from tui.walk.passages import passages_of
from tui.walk.world import Event

#: The `why` of an example that nobody has looked at yet.
UNREVIEWED = "unreviewed"
#: A way that was taken: tree, step, row.
Way = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Found:
    """A finding as an example states it; all four are compared."""

    circuit: str
    cause: str
    at: str
    could_be: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Example:
    """`why` says where its figures come from; it is `UNREVIEWED` until a person has written it."""

    name: str
    spot: Spot
    why: str
    answers: Answers
    expected: tuple[Found, ...]

    @property
    def unreviewed(self) -> bool:
        """Made by the program, and nobody has said yet why it is right."""
        return self.why.strip().lower() == UNREVIEWED


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a walk of an example came to. `refused`: why it could not end, else empty. `steps`: screens it took.

    ways: the rows and lines it took. reached: the steps it came by, as (tree, step).
    """

    example: Example
    got: tuple[Found, ...]
    refused: str
    steps: int
    ways: frozenset[Way]
    reached: frozenset[tuple[str, str]]

    @property
    def ok(self) -> bool:
        return not self.refused and self.got == self.example.expected


def run_example(library: Library, example: Example) -> Outcome:
    """Walk one example as an answers file is walked."""
    return outcome_of(example, *walked(library, example.answers))


def outcome_of(example: Example, walk: Walk | None, refused: str) -> Outcome:
    """What a walk of this example came to; `walk` and `refused` as `walked` gives them."""
    events = walk.events if walk is not None else []
    return Outcome(
        example,
        found_by(walk) if walk is not None else (),
        refused,
        _screens(events),
        frozenset(_ways_taken(events)),
        frozenset(_come_by(walk)) if walk is not None else frozenset(),
    )


def walked(library: Library, answers: Answers) -> tuple[Walk | None, str]:
    """The walk these answers make, or None and why it came to no end."""
    try:
        return run_answers(library, answers, embed_texts=False), ""
    except Refused as problem:
        return None, str(problem)


def found_by(walk: Walk) -> tuple[Found, ...]:
    """What a walk found, in order."""
    return tuple(Found(f.circuit, f.cause, f.at, f.could_be) for f in walk.findings)


def _come_by(walk: Walk) -> Iterator[tuple[str, str]]:
    """(tree, step) of every step whose turn it was."""
    for passage in passages_of(walk.machine):
        yield from ((passage.tree.name, step) for step in passage.passed if step not in passage.over)


def _screens(events: Sequence[Event]) -> int:
    """How often a person is asked something new: several readings of one step are one screen."""
    asked = [(e["circuit"], e["tree"], e["step"]) for e in events if e["event"] in INPUTS and "step" in e]
    return sum(here != before for here, before in zip(asked, [None, *asked], strict=False))


def run_examples(library: Library, examples: Sequence[Example]) -> list[Outcome]:
    """Walk them all, in order."""
    return [run_example(library, example) for example in examples]


def _ways_taken(events: Sequence[Event]) -> list[Way]:
    """Rows and lines from what was routed; outcomes of called trees from what was left."""
    ways: list[Way] = []
    inside: dict[str, list[str]] = {}
    for event in events:
        kind, circuit = event["event"], event.get("circuit", "")
        if kind == "routed":
            ways.extend((event["tree"], event["step"], row) for row in event["rows"])
        elif kind == "entered":
            inside.setdefault(circuit, []).append(event["tree"])
        elif kind == "finding":  # what comes after it, comes after all of them
            inside[circuit] = []
        elif kind == "left":
            inside[circuit].pop()
            if event["step"]:
                ways.append((inside[circuit][-1], event["step"], event["outcome"]))
    return ways
