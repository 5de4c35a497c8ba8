"""Which causes the examples end in, by class of equipment: counted from what they expect, nothing is walked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from tui.proof.examples import Example
from tui.tree.classes import EQUIPMENT
from tui.tree.library import Library

#: Of a visit with several circuits, whatever they are; and of what fits no class, or where nobody says what it is.
SEVERAL_CIRCUITS, OTHER = "two circuits", "other"
#: The word of `EQUIPMENT` for what fits no class.
NO_CLASS = "none of these"
#: The tree that a whole visit begins with.
CALL = "call"
CANNOT_TELL = "cannot-tell"


@dataclass(slots=True)
class Count:
    """Examples, and how many of them begin with the call."""

    examples: int = 0
    from_call: int = 0

    def add(self, from_call: bool) -> None:
        self.examples += 1
        self.from_call += from_call


@dataclass(slots=True)
class Cell:
    """A cause on a class. `alone`: examples that name it as the cause; `several`: those that do not, but end in
    several of which it is one. `unreviewed`: both, made by the program and looked at by nobody; in neither of them.
    """

    alone: Count = field(default_factory=Count)
    several: Count = field(default_factory=Count)
    unreviewed: Count = field(default_factory=Count)


@dataclass(frozen=True, slots=True)
class Table:
    """`cells`: by (cause, class), those that no example ends in are missing. `cannot`: (cause, class) to the reason why
    it can't happen there.
    """

    causes: tuple[str, ...]
    classes: tuple[str, ...]
    cells: Mapping[tuple[str, str], Cell]
    cannot: Mapping[tuple[str, str], str]

    def cell(self, cause: str, class_: str) -> Cell:
        return self.cells.get((cause, class_), Cell())


def table(library: Library, examples: Iterable[Example]) -> Table:
    """The table of these examples. An example counts once in a cell, however often it finds the cause."""
    catalogue = library.catalogue
    equipment = catalogue.readings.get(EQUIPMENT)
    known = () if equipment is None else (word for word in equipment.answers if word != NO_CLASS)
    classes = (*known, SEVERAL_CIRCUITS, OTHER)
    cells: dict[tuple[str, str], Cell] = {}
    for example in examples:
        alone, several = _ends(example, classes)
        for place in alone | several:
            cell = cells.setdefault(place, Cell())
            kept = cell.unreviewed if example.unreviewed else cell.alone if place in alone else cell.several
            kept.add(example.answers.tree == CALL)
    cannot = {(cause.id, name): why for cause in catalogue.causes.values() for name, why in cause.not_on.items()}
    causes = tuple(dict.fromkeys((*catalogue.causes, CANNOT_TELL)))
    return Table(causes, classes, MappingProxyType(cells), MappingProxyType(cannot))


def _ends(example: Example, classes: Sequence[str]) -> tuple[set[tuple[str, str]], set[tuple[str, str]]]:
    """(cause, class) it ends in alone, and those that are among several and nowhere found alone."""
    alone: set[tuple[str, str]] = set()
    several: set[tuple[str, str]] = set()
    class_ = _class(example, classes)
    for found in example.expected:
        several.update((cause, class_) for cause in found.could_be)
        if not found.could_be:
            alone.add((found.cause, class_))
    return alone, several - alone


def _class(example: Example, classes: Sequence[str]) -> str:
    """Of the whole visit: that of its only circuit."""
    circuits = example.answers.circuits
    if len(circuits) > 1:
        return SEVERAL_CIRCUITS
    (given,) = circuits.values()
    word = given[EQUIPMENT].texts[-1] if EQUIPMENT in given else OTHER
    return word if word in classes else OTHER


def heads(classes: Sequence[str]) -> dict[str, str]:
    """A short head of three letters for each class, no two alike."""
    made: dict[str, str] = {}
    for class_ in classes:
        made[class_] = next(head for head in _offered(class_) if head not in made.values())
    return made


def _offered(class_: str) -> Iterator[str]:
    """First letter of the first word and two of the last; of one word, its first letters; then numbers."""
    words = class_.split()
    if len(words) == 1:
        yield class_[:3].ljust(3)
    yield from (f"{words[0][0]}{words[-1][0]}{letter}" for letter in words[-1][1:])
    yield from (f"{words[0][0]}{number:02}" for number in range(1, 100))
