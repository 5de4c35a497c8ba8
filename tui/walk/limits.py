"""What was let into a circuit by a figure, and whether what the figure must not be above has been put right since."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui.quantity import Quantity, from_json, show, to_json
from tui.tree.model import AllOf, Compare, Name, Test
from tui.walk.circuit import Circuit, Pending, PutOn, copied
from tui.walk.kinds import spoken
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.machine import Machine

NOT_ABOVE = frozenset({"below", "at most"})


def limits_of(machine: Machine, circuit: Circuit, work: str) -> list[Event]:
    """The figures that this work is done by, as they are now, each with the reading it must not be above.

    Of work that leaves something behind: that stays in when the reading is corrected.
    """
    found = machine.catalogue.works.get(work)
    if found is None or not found.leaves or not circuit.frames:
        return []
    scope = machine.scope(circuit)
    limits = []
    for compare in _comparisons(found.only_if):
        value = scope.get(compare.left.name) if isinstance(compare.left, Name) else None
        if isinstance(value, Quantity) and isinstance(compare.left, Name) and isinstance(compare.right, Name):
            limits.append({"figure": compare.left.name, "value": to_json(value), "reading": compare.right.name})
    return limits


def _comparisons(tests: tuple[Test, ...]) -> Iterator[Compare]:
    for test in tests:
        if isinstance(test, AllOf):
            yield from _comparisons(test.tests)
        elif isinstance(test, Compare) and test.relation in NOT_ABOVE:
            yield test


def put_on(machine: Machine, circuit: Circuit, event: Event, *, in_place: bool) -> None:
    """Keep by which figures something was let in; `in_place`: the circuit stands at the step that says so."""
    leaves = machine.catalogue.works[event["work"]].leaves
    for limit in event.get("limits", ()):
        value = from_json(limit["value"])
        if not isinstance(value, Quantity):
            continue
        for thing in leaves:
            before = circuit.put_on.get(thing)
            frames = before.frames if before is not None else copied(circuit.frames) if in_place else []
            circuit.put_on[thing] = PutOn(limit["figure"], value, limit["reading"], frames)


def heed(machine: Machine) -> None:
    """Where something stands in a circuit that its plate, as put right since, does not allow: it is let out first.

    Unless that is what the tree says next anyway. The walk then stands where it was let in, and goes on from there.
    """
    for circuit in machine.circuits.values():
        thing = next((each for each in circuit.facts.left if _too_much(machine, circuit, each)), None)
        if thing is None or circuit.ended or not circuit.frames or _lets_out(machine, circuit, thing):
            continue
        over = _said(machine, circuit, thing)
        circuit.frames = copied(circuit.put_on[thing].frames) or circuit.frames
        circuit.pending = Pending("do", circuit.frame.step, left=thing, over=over)
        machine.current = circuit.name


def _too_much(machine: Machine, circuit: Circuit, thing: str) -> bool:
    """Not while the reading is still to be had (again)."""
    put = circuit.put_on.get(thing)
    facts = None if put is None else machine.holder(circuit, put.reading)
    if put is None or facts is None or put.reading not in facts.fresh:
        return False
    limit = facts.values.get(put.reading)
    return not isinstance(limit, Quantity) or put.value.si > limit.si * (1 + 1e-9)


def _lets_out(machine: Machine, circuit: Circuit, thing: str) -> bool:
    """Is that what is to be done now?"""
    pending = circuit.pending
    if pending is None or pending.kind != "do":
        return False
    work = machine.catalogue.left_on[pending.left].work if pending.left else getattr(pending.step, "work", "")
    found = machine.catalogue.works.get(work)
    return found is not None and thing in found.clears


def _said(machine: Machine, circuit: Circuit, thing: str) -> str:
    put = circuit.put_on[thing]
    limit = machine.holder(circuit, put.reading).values.get(put.reading)
    now = show(limit, machine.unit_for(limit)) if isinstance(limit, Quantity) else "not known"
    was = show(put.value, machine.unit_for(put.value))
    tell = machine.catalogue.left_on[thing].too_much
    return f"It may stand at {was} ({spoken(put.figure)}), and the {spoken(put.reading)} is {now}. {tell}".strip()


def let_out_over(events: list[Event], works: Machine) -> frozenset[int]:
    """Places of work that a letting-out for that reason has undone: for good, also when the figure is put right."""
    gone: set[int] = set()
    for at, event in enumerate(events):
        if event["event"] == "done" and event.get("over"):
            undone = works.catalogue.works[event["work"]].undoes
            gone.update(
                n
                for n, each in enumerate(events[:at])
                if each["event"] == "done" and each["circuit"] == event["circuit"] and each["work"] in undone
            )
    return frozenset(gone)
