"""Undo and correction: the machine built again from its inputs, with what the world keeps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from tui.quantity import Refused
from tui.tree.model import Catalogue
from tui.walk.following import FOLLOWS
from tui.walk.inputs import TAKEN, UNDOABLE, apply, carry, changes, contradicts, fits
from tui.walk.limits import heed, let_out_over
from tui.walk.machine import Machine
from tui.walk.world import Event

STRICT = "strict"
TOLD = "told"
CARRIED = "carried"
WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Input:
    """An input event by its place in the events, and how it counts since the last undo or correction.

    strict: as it came. told: its place is gone, its reading is known. carried: of before an undo; what the
    world keeps of it counts. withdrawn: of such a reading not even its series.
    """

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


def after_undo(inputs: list[Input], back_to: int, catalogue: Catalogue) -> list[Input]:
    """The inputs as they count once the place has moved back to that answer.

    Work, waits, cautions and checks stay. A reading taken back is asked again; one that later work
    has made history stays in its series.
    """
    counted: list[Input] = []
    changed: set[str] = set()
    for each in reversed(inputs):
        if each.number >= back_to and each.how in (STRICT, TOLD):
            gone = each.event["event"] in TAKEN and each.event.get("reading") not in changed
            each = replace(each, how=WITHDRAWN if gone else CARRIED)
        changed.update(changes(catalogue, each.event))
        counted.append(each)
    return counted[::-1]


def after_correction(inputs: list[Input], number: int, event: Event) -> list[Input]:
    """The inputs with one reading replaced; those behind it may fit no more (`rebuild` finds out).

    Without a value it is withdrawn, and stays in the inputs as it was given.
    """
    counted = [replace(i, how=STRICT if i.how == TOLD else i.how) for i in inputs]
    if event.get("value") is None:
        return [replace(i, how=WITHDRAWN) if i.number == number else i for i in counted]
    return [replace(i, event=event) if i.number == number else i for i in counted]


def rebuild(
    fresh: Callable[[Callable[[Event], None]], Machine],
    inputs: list[Input],
    loud_from: int | None,
    emit: Callable[[Event], None],
) -> tuple[Machine, list[Input]]:
    """A new machine through all inputs; from event number `loud_from` on (0: the opening), what follows is emitted.

    Each event emitted says which input it follows, for it stands behind the undo or the correction and not behind that.
    An input that does not fit where the machine stands keeps its facts only (``told``). One that said once more what
    has been corrected since is withdrawn.
    """
    now = 0

    def again(derived: Event) -> None:
        emit({**derived, FOLLOWS: now})

    machine = fresh(again if loud_from == 0 else lambda derived: None)
    counted: list[Input] = []
    gone = let_out_over([each.event for each in inputs], machine)
    for place, each in enumerate(inputs):
        now = each.number
        if loud_from is not None and now >= loud_from:
            machine.emit = again
        machine.now = now
        how = CARRIED if place in gone else each.how
        if how == STRICT and not fits(machine, each.event):
            how = TOLD
        if how == STRICT and contradicts(machine, each.event):
            how = WITHDRAWN
        if how == STRICT:
            apply(machine, each.event)
        else:
            carry(machine, each.event, in_series=how != WITHDRAWN, as_told=how == TOLD)
            if how == TOLD:
                machine.advance()
        counted.append(replace(each, how=how))
    machine.emit = again
    machine.advance()
    machine.take_up_astray()
    heed(machine)
    machine.emit = emit
    return machine, counted
