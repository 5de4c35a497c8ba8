"""What can be read on the circuit being walked, all at once: asked now, still to come, and had."""

from __future__ import annotations

from collections.abc import Iterator

from tui.tree.model import Ask, Go, Tree
from tui.walk import showing
from tui.walk.circuit import Circuit
from tui.walk.machine import Machine
from tui.walk.prompt import BoardRow


def board_of(machine: Machine, asked: tuple[str, ...]) -> list[BoardRow]:
    """One row a reading: of the trees that are walked now and those they call, then what else was given.

    asked: those of the prompt, which stand first. Readings that only a tree can work out are left out.
    """
    circuit = machine.circuit()
    if circuit is None or not circuit.frames:
        return []
    names = dict.fromkeys(asked)
    for frame in reversed(circuit.frames):
        names |= dict.fromkeys(_asked_by(machine, frame.program.tree, deep=frame is circuit.frame))
    told_of = _told_of(machine, circuit)
    for holder in (told_of, machine.unit):
        names |= dict.fromkeys(name for name in sorted(holder.facts.fresh) if name in holder.facts.values)
    tellable = [name for name in names if _can_be_told(machine, name)]
    if told_of is machine.unit:
        tellable = [name for name in tellable if machine.catalogue.readings[name].of == "unit"]
    return [_row(machine, told_of, name, name in asked) for name in tellable]


def _told_of(machine: Machine, circuit: Circuit) -> Circuit:
    """Whose readings those are: of the only circuit, while the unit itself is walked."""
    only = list(machine.circuits.values())
    return only[0] if circuit is machine.unit and len(only) == 1 else circuit


def _can_be_told(machine: Machine, name: str) -> bool:
    reading = machine.catalogue.readings.get(name)
    return reading is not None and reading.ask is not None and not reading.worked_out and not reading.names


def _asked_by(machine: Machine, tree: Tree, *, deep: bool) -> Iterator[str]:
    """deep: also by the trees that this one calls."""
    for step in machine.program(tree.name).steps.values():
        if isinstance(step, Ask):
            yield from step.readings
        elif deep and isinstance(step, Go) and step.tree in machine.library.trees:
            yield from _asked_by(machine, machine.library.trees[step.tree], deep=False)


def _row(machine: Machine, circuit: Circuit, name: str, asked: bool) -> BoardRow:
    had = name in machine.holder(circuit, name).fresh
    shown = showing.shown_value(machine, circuit, name) if had else ""
    return BoardRow(showing.ask_for(machine, machine.catalogue.readings[name]), shown, asked)
