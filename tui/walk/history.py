"""Undo and correction: the machine built again from its inputs, with what the world keeps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from tui.quantity import Refused
from tui.walk.inputs import UNDOABLE, apply, carry, fits
from tui.walk.machine import Event, Machine

STRICT = "strict"
TOLD = "told"
CARRIED = "carried"
TAKEN = ("answered", "told")


@dataclass(frozen=True, slots=True)
class Input:
    """An input event by its place in the events, and how it counts since the last undo or correction."""

    number: int
    event: Event
    how: str = STRICT


def undo_target(inputs: list[Input], n: int) -> int:
    """The event number of the n-th last answer. Raises Refused if there are not so many."""
    undoable = [i.number for i in inputs if i.how == STRICT and i.event["event"] in UNDOABLE]
    if n < 1 or n > len(undoable):
        say = f"Only {len(undoable)} answers can be taken back." if undoable else "Nothing to take back yet."
        raise Refused("nothing-to-undo", say, "Work that was done, waits and cautions stay as they are.")
    return undoable[-n]


def after_undo(inputs: list[Input], back_to: int) -> list[Input]:
    """The inputs as they count once the place has moved back to that answer.

    Work, waits, cautions and checks stay. A reading taken back is asked again; one that later work
    has made history stays in its series.
    """
    return [i if i.number < back_to else replace(i, how=CARRIED) for i in inputs]


def after_correction(inputs: list[Input], number: int, event: Event) -> list[Input]:
    """The inputs with one reading replaced; those behind it may fit no more (`rebuild` finds out)."""
    return [
        replace(i, event=event) if i.number == number else replace(i, how=STRICT if i.how == TOLD else i.how)
        for i in inputs
    ]


def rebuild(
    fresh: Callable[[], Machine], inputs: list[Input], loud_from: int | None, emit: Callable[[Event], None]
) -> tuple[Machine, list[Input]]:
    """A new machine through all inputs; from event number `loud_from` on, what follows is emitted.

    An input that does not fit where the machine stands keeps its facts only (``told``).
    """
    machine = fresh()
    counted: list[Input] = []
    withdrawn = _withdrawn(inputs, machine)
    for each in inputs:
        if loud_from is not None and each.number >= loud_from:
            machine.emit = emit
        how = each.how
        if how == STRICT and not fits(machine, each.event):
            how = TOLD
        if how == STRICT:
            apply(machine, each.event)
        elif how == TOLD:
            carry(machine, each.event, as_told=True)
            machine.advance()
        elif each.number not in withdrawn:
            carry(machine, each.event, as_told=False)
        counted.append(replace(each, how=how))
    machine.emit = emit
    machine.advance()
    return machine, counted


def _withdrawn(inputs: list[Input], machine: Machine) -> set[int]:
    """Numbers of carried readings that no later work has made history: those are simply taken back."""
    gone: set[int] = set()
    changed: set[str] = set()
    for each in reversed(inputs):
        event = each.event
        if event["event"] == "done":
            changed.update(machine.catalogue.works[event["work"]].changes)
        elif each.how == CARRIED and event.get("reading") not in changed and event["event"] in TAKEN:
            gone.add(each.number)
    return gone
