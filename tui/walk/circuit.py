"""Where one circuit stands: its frames of trees, what it waits for, what it knows."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace

from tui.quantity import Quantity, Value
from tui.tree.model import Catalogue, Figure, Step
from tui.walk.deciding import Decision
from tui.walk.facts import Facts
from tui.walk.program import Program

NOTHING: frozenset[str] = frozenset()
Place = tuple[str, str]  # tree, step
CANNOT_TELL = "cannot-tell"


@dataclass(slots=True)
class Frame:
    """One tree being walked. `names` holds what ``for each: place`` has set.

    `passed` are the steps it came to, in order; `over` those whose guard was not met; `taken` the rows, line or
    outcome by which it last went on from a step, and where to.
    """

    program: Program
    step: Step
    rounds: dict[str, int] = field(default_factory=dict)
    places: dict[str, list[str]] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    passed: dict[str, None] = field(default_factory=dict)
    over: set[str] = field(default_factory=set)
    taken: dict[str, tuple[tuple[str, ...], str]] = field(default_factory=dict)

    def come_by(self, step: Step, *, needed: bool) -> None:
        """It is this step's turn, or it is passed over as not needed."""
        self.passed[step.name] = None
        (self.over.discard if needed else self.over.add)(step.name)


def copied(frames: list[Frame]) -> list[Frame]:
    """Frames to go back to."""
    return [
        replace(
            f,
            rounds=dict(f.rounds),
            places=dict(f.places),
            names=dict(f.names),
            passed=dict(f.passed),
            over=set(f.over),
            taken=dict(f.taken),
        )
        for f in frames
    ]


@dataclass(frozen=True, slots=True)
class PutOn:
    """What was let in by a figure (``hold-pressure``) of that value, which must not be above a `reading`.

    `frames`: where the circuit stood at that step; empty where that is no longer its way.
    """

    figure: str
    value: Quantity
    reading: str
    frames: list[Frame]


@dataclass(frozen=True, slots=True)
class CloseCall:
    """A close decision: who called its tree (the outermost first), and where its other verdicts lead.

    `columns` are the close columns or lines, whose other verdict is supposed.
    """

    at: str
    callers: tuple[Place, ...]
    ways: tuple[Place, ...]
    columns: tuple[str, ...]


@dataclass(slots=True)
class Pending:
    """What is asked of a person before this circuit can go on; `kind` as in Prompt.

    `readings` are those of an ask still missing; `retake` marks readings taken again for a close
    call, `replaces` that the new one stands in for the old; `left` is a thing to be cleared, and if
    `ends` the circuit's walk is over once nothing is left; `over` says why it can't stay in.
    """

    kind: str
    step: Step
    readings: list[str] = field(default_factory=list)
    cautions: tuple[str, ...] = ()
    decision: Decision | None = None
    seconds: float | None = None
    retake: bool = False
    replaces: bool = False
    left: str = ""
    ends: bool = False
    over: str = ""
    instrument: str = ""


@dataclass(slots=True)
class Circuit:
    """`credits` counts steps done before an undo, passed without doing them again.

    `kept` are causes that close decisions leave possible, by place, `close_calls` where those lead; `evidence` what was
    judged and decided on the way, by place; `put_on` by which figure each thing left on was let in. `astray`: no tree
    walks it any more, and what is left on it is being cleared.
    """

    name: str
    facts: Facts = field(default_factory=Facts)
    frames: list[Frame] = field(default_factory=list)
    pending: Pending | None = None
    ended: bool = False
    astray: bool = False
    credits: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    possible: frozenset[str] = NOTHING
    kept: dict[str, frozenset[str]] = field(default_factory=dict)
    close_calls: dict[str, CloseCall] = field(default_factory=dict)
    put_on: dict[str, PutOn] = field(default_factory=dict)
    ruled_out: dict[str, str] = field(default_factory=dict)
    evidence: dict[str, dict[str, object]] = field(default_factory=dict)

    @property
    def frame(self) -> Frame:
        return self.frames[-1]

    @property
    def still_possible(self) -> frozenset[str]:
        return self.possible.union(*self.kept.values()) if self.kept else self.possible


def key(catalogue: Catalogue, tree: str, name: str) -> str:
    """Results of a tree's own are kept under its name; readings are everyone's."""
    return name if name in catalogue.readings else f"{tree}/{name}"


def cause_words(catalogue: Catalogue, reading: str, word: str) -> str:
    """The word itself, or what the cause says where the reading's answers are causes."""
    found = catalogue.readings.get(reading)
    told = catalogue.causes.get(word) if found is not None and CANNOT_TELL in found.answers else None
    return word if told is None else told.say


@dataclass(slots=True)
class CircuitScope:
    """Names as one tree sees them on one circuit (a Scope for the evaluator)."""

    catalogue: Catalogue
    unit: Facts
    facts: Facts
    tree: str
    names: dict[str, str]

    def holder(self, name: str) -> Facts:
        reading = self.catalogue.readings.get(name)
        return self.unit if reading is not None and reading.of == "unit" else self.facts

    def get(self, name: str) -> Value | None:
        if name in self.names:
            return self.names[name]
        return self.holder(name).values.get(key(self.catalogue, self.tree, name))

    def others(self, name: str) -> tuple[str, ...]:
        return self.holder(name).others.get(key(self.catalogue, self.tree, name), ())

    def series(self, name: str) -> list[Value]:
        taken = self.holder(name).series.get(key(self.catalogue, self.tree, name), [])
        return [value for value in taken if value is not None]

    def figure(self, name: str) -> Figure | None:
        return self.catalogue.figures.get(name)

    def say(self, name: str, word: str) -> str:
        """A word as a person reads it: of a reading whose answers are causes, what the cause says."""
        return cause_words(self.catalogue, name, word)

    def came_from(self, name: str) -> frozenset[str]:
        if name in self.names:
            return NOTHING
        result = self.holder(name).results.get(key(self.catalogue, self.tree, name))
        if result is not None:
            return result.came_from
        # A name worked out only where its guard is met is no reading, and rests on none
        return frozenset((name,)) if name in self.catalogue.readings else NOTHING
