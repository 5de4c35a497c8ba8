"""Which circuits are at a wait now, so that whoever has a clock can tell one wait from another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.walk.kinds import WAIT

if TYPE_CHECKING:
    from tui.tree.model import Catalogue
    from tui.walk.machine import Machine
    from tui.walk.world import Event


@dataclass(frozen=True, slots=True)
class Waiting:
    """One wait of one circuit. `acts` counts what was done to it, or waited for, so far: one more, and it is another.

    So a correction, or an answer taken back and given again, leaves a wait what it was.
    """

    circuit: str
    tree: str
    step: str
    acts: int


def waiting_of(machine: Machine, events: Sequence[Event]) -> dict[Waiting, float]:
    """Every wait that stands now, with the seconds it asks for."""
    found = {}
    for circuit in (machine.unit, *machine.circuits.values()):
        pending = circuit.pending
        if pending is not None and pending.kind == WAIT and circuit.frames and not circuit.ended:
            place = (circuit.name, circuit.frame.program.tree.name, pending.step.name)
            acts = sum(_acts(machine.catalogue, event) for event in events if event.get("circuit", "") == circuit.name)
            found[Waiting(*place, acts)] = pending.seconds or 0.0
    return found


def _acts(catalogue: Catalogue, event: Event) -> bool:
    kind = event["event"]
    if kind == "couldn't":
        return not event.get("readings")
    reading = catalogue.readings.get(event.get("reading", ""))
    works = reading is not None and reading.work is not None
    return kind in ("done", "waited") or (kind in ("answered", "told") and works)
