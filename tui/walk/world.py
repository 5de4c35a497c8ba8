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
from tui.walk.facts import Facts, Result
from tui.walk.judging import judged_event, outcome
from tui.walk.naming import recorded_names
from tui.walk.properties import RecordingProperties
from tui.walk.rules import NOW

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
        self.rules = NOW
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
        self.routed: list[tuple[Event, dict[str, str], int]] = []  # with the words decided on, and `now`
        self.now = 0  # the number of the input being folded in; 0: the opening
        self.closing = ""  # why, once a person has closed before the end

    # ---- looking

    @property
    def at_site(self) -> Site:
        return self.site if self.site is not None else Site(Atmosphere(101325.0, "sea level, not set"))

    def circuit(self) -> Circuit | None:
        """Which one a person is at: first any that is walked no more and has something left on, then `walked`."""
        return next((each for each in self.circuits.values() if each.astray), None) or self.walked()

    def walked(self) -> Circuit | None:
        """The circuit being walked; the unit itself while a unit tree is; None if neither."""
        if self.current is not None:
            return self.circuits[self.current]
        return self.unit if self.unit.frames and not self.unit.ended and not self.circuits_open() else None

    def names(self) -> tuple[str, ...]:
        """The circuits that there are: as a person named them, else all that are known."""
        return self.named or tuple(self.circuits)

    def circuits_open(self) -> list[str]:
        return [c.name for c in self.circuits.values() if c.frames and not c.ended and not c.astray]

    @property
    def over(self) -> bool:
        """Has every tree ended, and is nothing being cleared of a circuit that is walked no more?"""
        astray = any(circuit.astray for circuit in self.circuits.values())
        return not astray and not self.circuits_open() and (self.unit.ended or not self.unit.frames)

    def holder(self, circuit: Circuit, reading: str) -> Facts:
        return self.unit.facts if self.catalogue.readings[reading].of == "unit" else circuit.facts

    def keeper(self, circuit: Circuit, name: str) -> Facts:
        """Where a value or a verdict is kept, by its key: a shared result of the unit stands for all circuits."""
        return self.holder(circuit, name) if name in self.catalogue.readings else circuit.facts

    def results(self, circuit: Circuit) -> dict[str, Result]:
        """What was worked out or judged on a circuit and holds, also where it is kept at the unit."""
        there = {name: it for name, it in self.unit.facts.results.items() if it.circuit == circuit.name}
        return circuit.facts.results | there

    def scope(self, circuit: Circuit, tree: str | None = None) -> CircuitScope:
        names = circuit.frame.names if circuit.frames else {}
        at = tree if tree is not None else circuit.frame.program.tree.name
        return CircuitScope(self.catalogue, self.unit.facts, circuit.facts, at, names)

    def evaluator(self, circuit: Circuit, tree: str | None = None) -> Evaluator:
        return Evaluator(self.scope(circuit, tree), self.at_site, self.properties)

    def earlier(self, circuit: Circuit) -> frozenset[str]:
        """Names of what is known and not true any more: readings that work made stale, and what came of them.

        Of a result also where a reading was taken anew since, and it was not worked out again yet.
        """
        both = (self.unit.facts, circuit.facts)
        known = {name: facts for facts in both for name, value in facts.values.items() if value is not None}
        results = self.unit.facts.results | circuit.facts.results
        readings = self.catalogue.readings
        found = {name for name, facts in known.items() if name in readings and name not in facts.fresh}
        leaves = {leaf for result in results.values() for leaf in result.takes}
        takes = {leaf: (self._takes(circuit, leaf), leaf in self.holder(circuit, leaf).fresh) for leaf in leaves}
        for name in known.keys() & results.keys():
            now = ((count, *takes[leaf]) for leaf, count in results[name].takes.items())
            found.discard(name)
            if any(count != taken or (count and not fresh) for count, taken, fresh in now):
                found.add(name)
        return frozenset(found)

    def _takes(self, circuit: Circuit, reading: str) -> int:
        return len(self.holder(circuit, reading).series.get(reading, ()))

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
        circuit.put_on = {thing: put for thing, put in circuit.put_on.items() if thing not in found.clears}
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
        self.named = recorded_names(names)
        walked = {name: self.circuits.get(name) or Circuit(name) for name in self.named}
        self.circuits = walked | {name: it for name, it in self.circuits.items() if name not in walked}

    def _redo(self, circuit: Circuit, reading: str) -> None:
        of_unit = self.catalogue.readings[reading].of == "unit"
        for facts in (self.unit.facts, *(each.facts for each in self.circuits.values())):
            for name in facts.derived(reading):
                result = facts.results[name]
                made_on = self.circuits.get(result.circuit, self.unit)
                if of_unit or made_on is circuit:
                    self.give_result(made_on, result.tree, result.step, redo=True)

    def give_result(self, circuit: Circuit, tree: str, step: WorkOut | Judge, *, redo: bool) -> None:
        """Work out or judge, keep it, say so."""
        evaluator = self.evaluator(circuit, tree)
        found = outcome(evaluator, step, doubt=self.rules >= NOW)
        name = key(self.catalogue, tree, step.result)
        facts = self.keeper(circuit, name)
        found.keep(facts, name, Result(tree, step, frozenset(evaluator.used), circuit.name), redo=redo)
        result = facts.results[name]
        leaves = (leaf for leaf in result.came_from if leaf in self.catalogue.readings)
        result.takes = {leaf: self._takes(circuit, leaf) for leaf in leaves}
        reading = self.catalogue.readings.get(name)
        if reading is not None and reading.worked_out and found.value is not None:
            facts.fresh.add(name)
        event = judged_event(found, step) | {"circuit": circuit.name, "tree": tree, "step": step.name}
        event["properties"] = self.properties.taken()
        if evaluator.refusals:
            event["because"] = evaluator.refusals
        self.emit(event)
        if isinstance(step, Judge):
            circuit.evidence[f"{tree}/{step.name}"] = event
