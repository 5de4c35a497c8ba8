"""Readings by their names in a typed line, one or several: ``suction 12, head 180, frost patchy``."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tui.desk.everyday import NOTHING, reading_called, unknown
from tui.desk.line import Choices, chosen_of
from tui.desk.typed import begins_with_reading, says_not_known
from tui.quantity import WORDS, Kind, Refused
from tui.walk.kinds import spoken
from tui.walk.prompt import Echo

if TYPE_CHECKING:
    from tui.walk import Walk

_BETWEEN = re.compile(r"[;,]\s+|;|,(?=\s*[A-Za-z])")
YES_NO: Choices = (("yes", "yes"), ("no", "no"))


@dataclass(frozen=True, slots=True)
class Named:
    """One reading as it was typed: what it would be taken as, or why it can't be.

    `piece` is the part of the line that says it; `circuit` is None where none was named. `of`: the circuit it goes to,
    where there are several.
    """

    piece: str
    reading: str = ""
    value: str = ""
    circuit: str | None = None
    echo: Echo | None = None
    problem: Refused | None = None
    of: str = ""

    @property
    def name(self) -> str:
        """The reading as it is spoken, with its circuit where there are several: ``left suction``."""
        return f"{self.of} {spoken(self.reading)}".strip()


def pieces_of(line: str, readings: Collection[str], here: Mapping[str, str] = NOTHING) -> list[str]:
    """The parts of a line that says several readings; else the line itself: ``12,5`` is one value."""
    pieces = [piece.strip() for piece in _BETWEEN.split(line) if piece.strip()]
    several = len(pieces) > 1 and any(begins_with_reading(piece, readings, here) for piece in pieces)
    return pieces if several else [line]


def named_in(walk: Walk, line: str, readings: Collection[str], here: Mapping[str, str] = NOTHING) -> list[Named]:
    """Every reading that a line names, right or wrong; of several, a part that names none is one of the wrong.

    Empty for a line that names none at all. here: see `tui.desk.everyday.called_here`.
    """
    pieces = pieces_of(line, readings, here)
    if len(pieces) == 1 and _split(walk, line, readings, here)[1] is None:  # most lines: no near names are looked for
        return []
    return [_named(walk, piece, readings, here) for piece in pieces]


def figures(walk: Walk, named: Iterable[Named]) -> bool:
    """Whether one of them is a figure well understood: words alone may be somebody's own."""
    kinds = walk.library.catalogue.readings
    return any(each.problem is None and kinds[each.reading].kind not in WORDS for each in named)


def _split(
    walk: Walk, piece: str, readings: Collection[str], here: Mapping[str, str]
) -> tuple[str | None, tuple[str, str] | None]:
    """The circuit that a piece begins with, and the reading with its value; None for what it does not name."""
    circuit = next((name for name in walk.circuits if piece.lower().startswith(f"{name.lower()} ")), None)
    return circuit, begins_with_reading(piece[len(circuit) :] if circuit else piece, readings, here)


def _named(walk: Walk, piece: str, readings: Collection[str], here: Mapping[str, str]) -> Named:
    circuit, found = _split(walk, piece, readings, here)
    alone = reading_called("-".join(piece.lower().split()), readings, here) if found is None else None
    if alone is not None:
        no = Refused("no-value", f"{spoken(alone)}: what does it read?", "Type the value after the name.")
        return Named(piece, alone, problem=no)
    if found is None:
        return Named(piece, problem=unknown(piece, readings))
    return looked_at(walk, piece, *found, circuit)


def looked_at(walk: Walk, piece: str, reading: str, text: str, circuit: str | None = None) -> Named:
    """A reading and its value, as the walk would understand it."""
    value = choice_named(_choices(walk, reading), reading, text)
    echo = walk.try_answer(value, reading, circuit)
    no = None if echo.ok else Refused("not-understood", f"{spoken(reading)}: {echo.problem}", echo.cure)
    if no is not None and says_not_known(reading, walk.library.catalogue.readings[reading].kind, value):
        cure = "Leave it out; where it is asked, type: not known."
        no = Refused("not-known", f"{spoken(reading)}: {value!r} is nothing to record here.", cure)
    return Named(piece, reading, value, circuit, echo, no, _goes_to(walk, reading, circuit))


def _goes_to(walk: Walk, reading: str, circuit: str | None) -> str:
    """The circuit it belongs to, where that needs saying."""
    if len(walk.circuits) < 2 or walk.library.catalogue.readings[reading].of == "unit":
        return ""
    prompt = walk.prompt
    return circuit or (prompt.circuit if prompt is not None else "")


def _choices(walk: Walk, reading: str) -> Choices:
    found = walk.library.catalogue.readings[reading]
    return YES_NO if found.kind is Kind.YES_NO else tuple((word, word) for word in found.answers)


def choice_named(choices: Choices, reading: str, text: str) -> str:
    """The choice that a text means: its number, its words or their beginning, also with the name's end.

    ``compressor runs steadily`` names the reading by its first two words and the choice by its last two.
    """
    name = spoken(reading).split()
    said = [text, *(" ".join([*name[at:], text]) for at in range(len(name)))]
    exact = next((found for found in (chosen_of(choices, each) for each in said) if found), None)
    if exact is not None:
        return exact
    for each in said:
        begun = [choice for choice, say in choices if say.lower().startswith(each.lower())]
        if len(begun) == 1:
            return begun[0]
    return text


def tell_all(named: Iterable[Named], tell: Callable[[Named], None]) -> tuple[list[Named], list[Named]]:
    """Those that were told, and those that were not, each with its problem; what is right counts all the same."""
    done: list[Named] = []
    wrong: list[Named] = []
    for each in named:
        if each.problem is not None:
            wrong.append(each)
            continue
        try:
            tell(each)
        except Refused as problem:
            wrong.append(replace(each, problem=problem))
        else:
            done.append(each)
    return done, wrong


def told_of(done: Iterable[Named]) -> str:
    """``suction 0.30 barg; head 7.90 barg``: each as it was taken."""
    taken = ((each, each.echo.words.partition(" = ")[0] if each.echo is not None else "") for each in done)
    return "; ".join(f"{each.name} {words or each.value}" for each, words in taken)
