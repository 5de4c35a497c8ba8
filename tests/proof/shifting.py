"""Examples with one reading shifted by twice what its instrument is good to, walked, and what they then find."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from tui.proof.examples import Example
from tui.quantity import Accuracy, Quantity, Refused
from tui.tree.library import Library
from tui.walk.answers import Answers, Driver, Given, begin
from tui.walk.core import Walk
from tui.walk.kinds import CLOSE_CALL
from tui.walk.reading import parse_reading

CANNOT_TELL = "cannot-tell"
TIMES = 2.0  # the half-width of the instrument

SAME = "same"
#: One of the two findings names, as the cause or among what it could be, a cause that the other names; or the new one
#: says what was near its limit, and names what it would be on the other side.
BOTH = "names both"
#: The example itself ends in a stop that names nothing, so there are no two causes.
STOP = "from a stop"
#: They don't, but what the new one shows as still possible beside it does.
POSSIBLE = "still possible"
#: The new one ends in a stop that names nothing, and does not show it as possible.
NOTHING = "names nothing"
#: Both name causes, none in common.
OTHER = "another cause"
#: The shifted visit asks for what the example's lists don't hold, or the shifted number is none that can be read.
NO_END = "no end"
CHANGES = (BOTH, STOP, POSSIBLE, NOTHING, OTHER)


@dataclass(frozen=True, slots=True)
class End:
    """One finding of a walk. `named`: its cause, or what it could be. `possible`: what stands beside it.

    `near`: what it says it could be where a reading near its limit was on the other side.
    """

    circuit: str
    at: str
    named: frozenset[str]
    possible: frozenset[str]
    near: frozenset[str] = frozenset()

    @property
    def said(self) -> tuple[str, frozenset[str]]:
        """What makes it another finding; not the step it was found at."""
        return self.circuit, self.named

    def names(self, other: End) -> bool:
        return not (self.named | self.near).isdisjoint(other.named)

    def holds_possible(self, other: End) -> bool:
        return not self.possible.isdisjoint(other.named)


@dataclass(frozen=True, slots=True)
class Shift:
    """A number of an example and what it is shifted to. `circuit` is empty for one of the whole visit."""

    example: Example
    circuit: str
    reading: str
    number: int
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """`old`, `new`: the findings at which the two walks part; None where they are the same, or it came to no end.

    close: close calls of the shifted visit over those of the example. An answers file leaves each open, so the visit
    goes the way that the tree wrote for what can't be settled; a person would be asked to read again.
    """

    shift: Shift
    came_to: str
    tree: str
    old: End | None = None
    new: End | None = None
    close: int = 0


@dataclass(frozen=True, slots=True)
class Walked:
    """What a visit came to. used: how often each reading of each circuit was asked for; close: its close calls."""

    walk: Walk
    used: Mapping[tuple[str, str], int]
    ends: Sequence[End]
    close: int


def outcomes(library: Library, examples: Sequence[Example], one_in: int = 1) -> Iterator[Outcome]:
    """All shifts of all these examples that find something; or one in so many, begun at another one in each example."""
    for example in examples:
        base = walked(library, example.answers)
        if not base.ends:
            continue
        begun = int.from_bytes(hashlib.sha256(example.name.encode()).digest()[:4], "big") % one_in
        for shift in islice(_shifts(library, base, example), begun, None, one_in):
            yield _outcome(library, shift, base)


def sample(examples: Sequence[Example], number: int, seed: int) -> list[Example]:
    """As many of them, in their order; for a seed hardly others when examples are added."""
    drawn = sorted(examples, key=lambda example: hashlib.sha256(f"{seed} {example.name}".encode()).digest())
    chosen = {example.name for example in drawn[:number]}
    return [example for example in examples if example.name in chosen]


def walked(library: Library, answers: Answers) -> Walked:
    """Walks them as an answers file is walked. Raises Refused."""
    walk = begin(library, answers, embed_texts=False)
    driver = Driver(walk, answers, lambda intent: intent(walk))
    close = 0
    while (prompt := walk.prompt) is not None:
        close += prompt.kind == CLOSE_CALL
        driver.step(prompt)
    return Walked(walk, driver.used, _ends(walk), close)


def _ends(walk: Walk) -> list[End]:
    return [
        End(
            event["circuit"],
            event["where"],
            frozenset(event["could_be"] if event["cause"] == CANNOT_TELL else [event["cause"]]),
            frozenset(event["still_possible"]),
            frozenset().union(*(near["causes"] for near in event.get("nearest", ()))),
        )
        for event in walk.events
        if event["event"] == "finding"
    ]


def _shifts(library: Library, base: Walked, example: Example) -> Iterator[Shift]:
    """Up and down, each number that was asked for and has an instrument."""
    answers = example.answers
    for circuit, given in (("", answers.visit), *answers.circuits.items()):
        for name, found in given.items():
            asked = [n for (of, reading), n in base.used.items() if reading == name and circuit in ("", of)]
            for number in range(min(max(asked, default=0), len(found.texts))):
                for now in _shifted(library, base.walk, name, found.texts[number]):
                    yield Shift(example, circuit, name, number, found.texts[number], now)


def _shifted(library: Library, walk: Walk, name: str, text: str) -> Iterator[str]:
    reading = library.catalogue.readings.get(name)
    if reading is None or reading.instrument is None:
        return
    value = parse_reading(walk.machine, reading, text, units_needed=True)
    assert isinstance(value, Quantity)
    by = TIMES * Accuracy.parse(library.catalogue.instruments[reading.instrument].good_to).half_width(value.si)
    unit = value.shown_unit.symbol
    for si in (value.si + by, value.si - by):
        yield f"{Quantity(value.kind, si).to(unit):.6f} {unit}"


def _outcome(library: Library, shift: Shift, base: Walked) -> Outcome:
    tree = base.ends[-1].at.partition("/")[0]
    try:
        now = walked(library, with_shift(shift))
    except Refused:
        return Outcome(shift, NO_END, tree)
    if not now.ends:  # a called tree, begun alone, came back to nobody
        return Outcome(shift, NO_END, tree)
    return replace(compared(shift, tree, base.ends, now.ends), close=now.close - base.close)


def with_shift(shift: Shift) -> Answers:
    answers = shift.example.answers
    given = answers.circuits[shift.circuit] if shift.circuit else answers.visit
    found = given[shift.reading]
    texts = tuple(shift.now if n == shift.number else text for n, text in enumerate(found.texts))
    changed = {**given, shift.reading: Given(texts, found.spots, found.spot, found.listed)}
    if not shift.circuit:
        return replace(answers, visit=changed)
    return replace(answers, circuits={**answers.circuits, shift.circuit: changed})


def compared(shift: Shift, tree: str, before: Sequence[End], after: Sequence[End]) -> Outcome:
    """At the first finding in which they differ; where one ended earlier, the last of each."""
    if [end.said for end in before] == [end.said for end in after]:
        return Outcome(shift, SAME, tree)
    last = min(len(before), len(after)) - 1
    at = next((n for n in range(last) if before[n].said != after[n].said), last)
    old, new = before[at], after[at]
    if old.said == new.said:
        old, new = before[-1], after[-1]
    return Outcome(shift, _kind(old, new), tree, old, new)


def _kind(old: End, new: End) -> str:
    if new.names(old):
        return BOTH
    if not old.named:
        return STOP
    if new.holds_possible(old):
        return POSSIBLE
    return OTHER if new.named else NOTHING
