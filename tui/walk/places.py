"""The place of a list that a circuit's round is about, or that a step beside the round still names."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from tui.tree.model import Decide, Do, Step
from tui.tree.scope import PLACE
from tui.walk.circuit import Circuit
from tui.walk.looks import names_in, names_in_test


def place_of_round(circuit: Circuit | None) -> str:
    """Where it stands in one of a list of places; else empty."""
    if circuit is None or not circuit.frames:
        return ""
    frame = circuit.frame
    inside = any(repeat.name in frame.places for repeat in frame.program.around(frame.step))
    return frame.names.get(PLACE, "") if inside else ""


def place_said(circuit: Circuit | None, step: Step, kinds: Collection[str]) -> dict[str, str]:
    """``{"place": ...}`` for the record of what was done or decided at a step, where it is about a place.

    kinds: what the catalogue tells of every place, as what it is made of.
    """
    if circuit is None or not circuit.frames:
        return {}
    place = place_of_round(circuit)
    if not place and any(name == PLACE or name in kinds for name in _names(step)):
        place = circuit.frame.names.get(PLACE, "")
    return {PLACE: place} if place else {}


def _names(step: Step) -> Iterator[str]:
    """What an act's words or a decision's tests look at."""
    if isinstance(step, Do):
        for part in step.tell.parts:
            yield from () if isinstance(part, str) else names_in(part)
    elif isinstance(step, Decide) and step.table is not None:
        yield from step.table.columns
    elif isinstance(step, Decide):
        for line in step.lines:
            yield from () if line.test is None else names_in_test(line.test)
