"""Where a walk went: each time that a circuit came into a tree, the steps it came by and how it went on from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tui.tree.model import Tree
from tui.walk.machine import Machine


@dataclass(frozen=True, slots=True)
class Passage:
    """One time through a tree. `here`: the step it stands at now; empty where it has gone on from the tree.

    `passed`: the steps it came to, `here` among them; `over`: those of them that were not needed. `taken`: by which
    rows, line or outcome it last went on from a step, and where to. `rounds`: which round of a repeat it is in or
    was last. `ended`: the circuit's walk is over.
    """

    circuit: str
    tree: Tree
    here: str
    passed: tuple[str, ...]
    over: frozenset[str]
    taken: Mapping[str, tuple[tuple[str, ...], str]]
    rounds: Mapping[str, int]
    ended: bool


def passages_of(machine: Machine) -> list[Passage]:
    """All of them, in the order in which they began; undone steps are none."""
    made = []
    for name, frame in machine.gone_into:
        circuit = machine.circuits.get(name, machine.unit)
        stands = any(frame is each for each in circuit.frames)
        made.append(
            Passage(
                name,
                frame.program.tree,
                frame.step.name if stands else "",
                tuple(frame.passed),
                frozenset(frame.over),
                dict(frame.taken),
                dict(frame.rounds),
                circuit.ended,
            )
        )
    return made


def standing_of(machine: Machine) -> list[Passage]:
    """The trees that the circuit being walked stands in, the innermost first; after its end, where that was.

    The unit's own come last: it waits there for its circuits.
    """
    circuit = machine.circuit()
    standing = [each for each in reversed(passages_of(machine)) if each.here]
    name = circuit.name if circuit is not None else machine.findings[-1]["circuit"] if machine.findings else ""
    inner = [each for each in standing if each.circuit == name]
    return inner + [each for each in standing if name and not each.circuit]
