"""What a walk knows of a unit: its circuits, their readings and results, the work done on them.

The machine (`tui.walk.machine`) moves through the trees on top of this.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from tui.quantity import Atmosphere, Kind, Quantity, Value, usual_unit
from tui.trade import Site
from tui.tree.model import Judge, WorkOut
from tui.walk.circuit import Circuit, CircuitScope, key
from tui.walk.evaluate import Evaluator
from tui.walk.facts import Facts
from tui.walk.judging import judged_event, outcome
from tui.walk.naming import circuit_names
from tui.walk.properties import RecordingProperties

if TYPE_CHECKING:
    from tui.tree.library import Library

Event = dict[str, Any]
WAITED, WAIT_ASKED = "waited", "wait-asked"  # readings of the last wait: its time, and what was asked


class World:
    """The unit as far as it is known. `emit` receives the events that follow from an input."""

    def __init__(self, library: Library, properties: RecordingProperties, emit: Callable[[Event], None]) -> None:
        self.library = library
        self.catalogue = library.catalogue
        self.properties = properties
        self.emit = emit
        self.units = "US"
        self.site: Site | None = None
        self.region = ""
        self.instruments: dict[str, str] = {}
        self.checked: dict[str, int] = {}
        self.unit = Circuit("")
        self.circuits: dict[str, Circuit] = {}
        self.named: tuple[str, ...] = ()  # the circuits, once a person has named them
        self.current: str | None = None
        self.findings: list[Event] = []
        self.routed: list[Event] = []
        self.closing = ""  # why, once a person has closed before the end

    # ---- looking

    @property
    def at_site(self) -> Site:
        return self.site if self.site is not None else Site(Atmosphere(101325.0, "sea level, not set"))

    def circuit(self) -> Circuit | None:
        """The circuit being walked; the unit itself while a unit tree is; None if neither."""
        if self.current is not None:
            return self.circuits[self.current]
        return self.unit if self.unit.frames and not self.unit.ended and not self.circuits_open() else None

    def circuits_open(self) -> list[str]:
        return [c.name for c in self.circuits.values() if c.frames and not c.ended]

    @property
    def over(self) -> bool:
        return not self.circuits_open() and (self.unit.ended or not self.unit.frames)

    def holder(self, circuit: Circuit, reading: str) -> Facts:
        return self.unit.facts if self.catalogue.readings[reading].of == "unit" else circuit.facts

    def scope(self, circuit: Circuit, tree: str | None = None) -> CircuitScope:
        names = circuit.frame.names if circuit.frames else {}
        at = tree if tree is not None else circuit.frame.program.tree.name
        return CircuitScope(self.catalogue, self.unit.facts, circuit.facts, at, names)

    def evaluator(self, circuit: Circuit, tree: str | None = None) -> Evaluator:
        return Evaluator(self.scope(circuit, tree), self.at_site, self.properties)

    # ---- acts

    def good_to(self, instrument: str) -> str:
        """How good this instrument is now: as set, as checked, or the catalogue's."""
        return self.instruments.get(instrument) or self.catalogue.instruments[instrument].good_to

    def unit_for(self, value: Quantity) -> str | None:
        return usual_unit(value, self.units)

    def work(self, circuit: Circuit, work: str) -> None:
        """What an act makes stale, leaves behind, clears and undoes."""
        found = self.catalogue.works[work]
        facts = circuit.facts
        facts.done.add(work)
        facts.done.difference_update(found.undoes)
        facts.compressor = found.compressor or facts.compressor
        if found.changes:
            facts.settled, facts.rested = False, 0.0
        for reading in found.changes:
            self.holder(circuit, reading).fresh.discard(reading)
        facts.left = [thing for thing in facts.left if thing not in found.clears]
        facts.left.extend(thing for thing in found.leaves if thing not in facts.left)

    def still_done(self, circuit: Circuit, work: str) -> bool:
        """Was it done, and is the circuit still as it left it? Later work may have turned it back."""
        found, facts = self.catalogue.works[work], circuit.facts
        return (
            work in facts.done
            and found.compressor in (None, facts.compressor)
            and set(found.leaves) <= set(facts.left)
            and not set(found.clears) & set(facts.left)
        )

    def waited(self, circuit: Circuit, seconds: float, asked: float) -> None:
        """Time has passed for the whole unit; this circuit has settled. Readings good for less are stale."""
        for name, span in ((WAITED, seconds), (WAIT_ASKED, asked)):
            if name in self.catalogue.readings:
                circuit.facts.values[name] = Quantity(Kind.TIME_SPAN, span)
        circuit.facts.settled = True
        circuit.facts.rested = max(circuit.facts.rested, asked)
        readings = self.catalogue.readings
        for facts in (self.unit.facts, *(each.facts for each in self.circuits.values())):
            facts.grow_older(seconds, lambda name: readings[name].good_for if name in readings else None)

    def forget(self, circuit: Circuit) -> None:
        """A person begins anew after a finding: what is not off a plate is asked again."""
        for name, reading in self.catalogue.readings.items():
            if not (reading.remembered or reading.set_ or reading.stays):
                self.holder(circuit, name).fresh.discard(name)

    def take(self, circuit: Circuit, reading: str, value: Value | None, *, replaces: bool = False) -> None:
        """A reading is had; what came from the one it stands in for is worked out again."""
        again = self.holder(circuit, reading).take(reading, value, replaces=replaces)
        if self.catalogue.readings[reading].names and isinstance(value, str):
            self.name_circuits(value)
        if again:
            self._redo(circuit, reading)
        work = self.catalogue.readings[reading].work
        if work is not None and value is not None:
            self.work(circuit, work)

    def name_circuits(self, names: str) -> None:
        """A person has said what circuits there are; those of an earlier answer are walked no more."""
        self.named = circuit_names(names)
        walked = {name: self.circuits.get(name) or Circuit(name) for name in self.named}
        self.circuits = walked | {name: it for name, it in self.circuits.items() if name not in walked}

    def _redo(self, circuit: Circuit, reading: str) -> None:
        of_unit = self.catalogue.readings[reading].of == "unit"
        for each in self.circuits.values() if of_unit else (circuit,):
            for name in each.facts.derived(reading):
                result = each.facts.results[name]
                self.give_result(each, result.tree, result.step, redo=True)

    def give_result(self, circuit: Circuit, tree: str, step: WorkOut | Judge, *, redo: bool) -> None:
        """Work out or judge, keep it, say so."""
        evaluator = self.evaluator(circuit, tree)
        found = outcome(evaluator, step)
        name = key(self.catalogue, tree, step.result)
        found.keep(circuit.facts, name, tree, step, evaluator.used, redo=redo)
        reading = self.catalogue.readings.get(name)
        if reading is not None and reading.worked_out and found.value is not None:
            circuit.facts.fresh.add(name)
        event = judged_event(found, step) | {"circuit": circuit.name, "tree": tree, "step": step.name}
        event["properties"] = self.properties.taken()
        if evaluator.refusals:
            event["because"] = evaluator.refusals
        self.emit(event)
        if isinstance(step, Judge):
            circuit.evidence[f"{tree}/{step.name}"] = event
