"""The walk's state machine: takes input events, moves down the trees, emits what follows.

A fold: the same library and the same inputs give the same state and the same events. It never
draws, reads a clock, sleeps or touches a file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from tui.quantity import Atmosphere, Quantity, Value, default_unit
from tui.trade import Site
from tui.tree.model import (
    Ask,
    Back,
    CautionStep,
    Decide,
    Do,
    FindingStep,
    Go,
    Judge,
    Repeat,
    Step,
    Test,
    Wait,
    WorkOut,
)
from tui.walk import deciding
from tui.walk.circuit import Circuit, CircuitScope, Frame, Pending, key
from tui.walk.deciding import Decision
from tui.walk.evaluate import Evaluator
from tui.walk.evidence import evidence_of
from tui.walk.facts import Facts
from tui.walk.judging import judged_event, outcome
from tui.walk.program import Program, program, tree_of
from tui.walk.properties import RecordingProperties
from tui.walk.reach import Reach

if TYPE_CHECKING:
    from tui.tree.library import Library

Event = dict[str, Any]
RAN_OUT = "rounds run out"
ALL_DONE = "afterwards"


class Machine:
    """Everything the walk knows. `emit` receives derived events; `apply` (in inputs) feeds it."""

    def __init__(
        self,
        library: Library,
        properties: RecordingProperties,
        reach: Reach,
        emit: Callable[[Event], None],
        *,
        embed: Callable[[str], Event] | None = None,
    ) -> None:
        self.library = library
        self.catalogue = library.catalogue
        self.properties = properties
        self.emit = emit
        self.embed = embed
        self.units = "US"
        self.site: Site | None = None
        self.region = ""
        self.instruments: dict[str, str] = {}
        self.checked: dict[str, int] = {}
        self.unit = Circuit("")
        self.circuits: dict[str, Circuit] = {}
        self.current: str | None = None
        self.findings: list[Event] = []
        self._programs: dict[str, Program] = {}
        self._entered: set[str] = set()
        self.reach = reach

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

    def program(self, tree: str) -> Program:
        if tree not in self._programs:
            self._programs[tree] = program(tree_of(self.library, tree))
        return self._programs[tree]

    # ---- moving

    def begin(self, tree: str, circuits: list[str]) -> None:
        """Enter the first tree: of the unit, or of every circuit named."""
        for name in circuits or ["main"]:
            self.circuits.setdefault(name, Circuit(name))
        if tree_of(self.library, tree).of == "unit":
            self.enter(self.unit, tree)
        else:
            self.begin_circuits(tree)

    def begin_circuits(self, tree: str) -> None:
        for circuit in self.circuits.values():
            self.enter(circuit, tree)
        self.next_circuit()

    def next_circuit(self) -> None:
        """Go to the one circuit that is left; with several, a person says which."""
        still = self.circuits_open()
        self.current = still[0] if len(still) == 1 else None

    def enter(self, circuit: Circuit, tree: str) -> None:
        found = tree_of(self.library, tree)
        circuit.frames.append(Frame(self.program(tree), found.steps[0]))
        event: Event = {"event": "entered", "circuit": circuit.name, "tree": tree}
        event |= {"edition": found.edition, "digest": found.digest}
        if tree not in self._entered:
            event["beyond"] = self.reach.beyond(tree)
            event |= self.embed(tree) if self.embed is not None else {}
        self._entered.add(tree)
        self.emit(event)
        self.look_ahead(circuit, "")

    def advance(self) -> None:
        """Go on until a person is needed."""
        while self.site is not None:
            circuit = self.circuit()
            if circuit is None or circuit.pending is not None:
                return
            self._take_step(circuit, circuit.frame.step)

    def _take_step(self, circuit: Circuit, step: Step) -> None:
        self.properties.taken()  # what was looked up for a screen belongs to no event
        if step.only_when is not None and self.evaluator(circuit).truth(step.only_when).likely is not True:
            self._skip(circuit, step)
            self.below(circuit, step)
            return
        _STEP[type(step)](self, circuit, step)

    def _skip(self, circuit: Circuit, step: Step) -> None:
        """A guard that is not met leaves what the step would give unknown, unless it is fresh."""
        if isinstance(step, Ask):
            for reading in step.readings:
                facts = self.holder(circuit, reading)
                if reading not in facts.fresh:
                    facts.values[reading] = None
        elif isinstance(step, WorkOut | Judge):
            facts_key = key(self.catalogue, circuit.frame.program.tree.name, step.result)
            circuit.facts.values[facts_key] = None
            circuit.facts.others.pop(facts_key, None)

    def onward(self, circuit: Circuit, step: Step) -> None:
        """The step is done: to ``then``, else to the step below."""
        self.to(circuit, step, step.then or "carry on")

    def to(self, circuit: Circuit, step: Step, destination: str) -> None:
        if destination == "carry on":
            self.below(circuit, step)
        elif destination == "go round":
            self._round(circuit, next(circuit.frame.program.around(step)))
        else:
            circuit.frame.step = circuit.frame.program.steps[destination]

    def below(self, circuit: Circuit, step: Step) -> None:
        frame = circuit.frame
        below = frame.program.below[step.name]
        if below is not None:
            frame.step = below
            return
        inside = frame.program.inside[step.name]
        if inside is None:  # a unit tree may simply end; the check proves that no other does
            self.end(circuit)
        else:
            self._round(circuit, inside)

    def end(self, circuit: Circuit) -> None:
        circuit.ended = True
        circuit.pending = None
        if circuit is not self.unit:
            self.next_circuit()
        if self.unit.frames and not self.unit.ended and not self.circuits_open() and circuit is not self.unit:
            self.onward(self.unit, self.unit.frame.step)

    # ---- steps

    def _ask(self, circuit: Circuit, step: Ask) -> None:
        holders = {reading: self.holder(circuit, reading) for reading in step.readings}
        missing = [r for r, facts in holders.items() if r not in facts.fresh]
        if missing:
            circuit.pending = Pending("ask", step, readings=missing)
        elif step.couldnt and any(facts.values.get(r) is None for r, facts in holders.items()):
            self.to(circuit, step, step.couldnt)
        else:
            self.onward(circuit, step)

    def _caution(self, circuit: Circuit, step: CautionStep) -> None:
        needed = [c for c in step.cautions if self._caution_holds(circuit, c)]
        if needed:
            circuit.pending = Pending("caution", step, cautions=tuple(needed))
        else:
            self.onward(circuit, step)

    def _caution_holds(self, circuit: Circuit, caution: str) -> bool:
        if caution in circuit.facts.acknowledged:
            return False
        when = self.catalogue.cautions[caution].when
        return when is None or self.evaluator(circuit).truth(when).likely is not False

    def _do(self, circuit: Circuit, step: Do) -> None:
        if (step.once and step.work in circuit.facts.done) or self._credited(circuit, step):
            self.onward(circuit, step)
        else:
            circuit.pending = Pending("do", step)

    def _wait(self, circuit: Circuit, step: Wait) -> None:
        if self._credited(circuit, step):
            self.onward(circuit, step)
            return
        duration = self.evaluator(circuit).quantity(step.duration)
        circuit.pending = Pending("wait", step, seconds=None if duration is None else duration.si)

    def _credited(self, circuit: Circuit, step: Step) -> bool:
        place = (circuit.frame.program.tree.name, step.name)
        if circuit.credits[place] <= 0:
            return False
        circuit.credits[place] -= 1
        return True

    def _work_out(self, circuit: Circuit, step: WorkOut) -> None:
        self.give_result(circuit, circuit.frame.program.tree.name, step, redo=False)
        self.onward(circuit, step)

    _judge = _work_out

    def give_result(self, circuit: Circuit, tree: str, step: WorkOut | Judge, *, redo: bool) -> None:
        """Work out or judge, keep it, say so."""
        evaluator = self.evaluator(circuit, tree)
        if redo:
            self.properties.taken()
        found = outcome(evaluator, step)
        name = key(self.catalogue, tree, step.result)
        found.keep(circuit.facts, name, tree, step, evaluator.used, redo=redo)
        event = judged_event(found, step) | {"circuit": circuit.name, "tree": tree, "step": step.name}
        event["properties"] = self.properties.taken()
        if evaluator.refusals:
            event["because"] = evaluator.refusals
        self.emit(event)
        if isinstance(step, Judge):
            circuit.evidence[f"{tree}/{step.name}"] = event

    def _decide(self, circuit: Circuit, step: Decide) -> None:
        decision = self.decision(circuit, step)
        if step.must_be_settled and decision.elsewhere:
            circuit.pending = Pending("close-call", step, decision=decision)
        else:
            self.route(circuit, step, decision, decision.to)

    def decision(self, circuit: Circuit, step: Decide) -> Decision:
        evaluator = self.evaluator(circuit)
        if step.table is None:
            return deciding.by_lines(step.lines, evaluator.truth)
        scope = self.scope(circuit)

        def word_of(column: str) -> tuple[str, str | None]:
            word = scope.get(column)
            return (word if isinstance(word, str) else "unknown", scope.other(column))

        return deciding.by_table(step.table, word_of)

    def route(self, circuit: Circuit, step: Decide, decision: Decision, to: str | None) -> None:
        """Take a decision's way; None is ``unsettled``."""
        tree = circuit.frame.program.tree
        destination = to if to is not None else step.unsettled or tree.unsettled or ""
        event: Event = {"event": "routed", "circuit": circuit.name, "tree": tree.name, "step": step.name}
        event |= {"rows": list(decision.rows), "to": destination}
        if to is None:
            event["unsettled"] = True
        if decision.close:
            event |= {"close": list(decision.close), "elsewhere": list(decision.elsewhere)}
        self._routed(circuit, step, event)
        for other in decision.elsewhere if to is not None else (decision.to, *decision.elsewhere):
            if other:
                self._keep_possible(circuit, step, other)
        self._look_ahead_to(circuit, step, destination)

    def settle_open(self, circuit: Circuit, step: Step, decision: Decision) -> None:
        """A close call stays open: the row the tree wrote for that."""
        assert isinstance(step, Decide)
        self.properties.taken()
        self.route(circuit, step, decision, None)

    def _routed(self, circuit: Circuit, step: Step, event: Event) -> None:
        taken = self.properties.taken()
        if taken:
            event["properties"] = taken
        self.emit(event)
        at = f"{event['tree']}/{step.name}"
        circuit.kept.pop(at, None)
        circuit.evidence[at] = event

    def _look_ahead_to(self, circuit: Circuit, step: Step, destination: str) -> None:
        at = f"{circuit.frame.program.tree.name}/{step.name}"
        self.to(circuit, step, destination)
        if not circuit.ended:
            self.look_ahead(circuit, at)

    def look_ahead(self, circuit: Circuit, at: str) -> None:
        """Which causes can still be found from here; those gone were ruled out at `at`."""
        now = self.reach.from_frames(circuit.frames)
        if at:
            for cause in sorted(circuit.possible - now):
                circuit.ruled_out.setdefault(cause, at)
        for cause in now:
            circuit.ruled_out.pop(cause, None)
        circuit.possible = now

    def _keep_possible(self, circuit: Circuit, step: Step, destination: str) -> None:
        at = f"{circuit.frame.program.tree.name}/{step.name}"
        causes = self.reach.from_destination(circuit.frames, step, destination)
        circuit.kept[at] = circuit.kept.get(at, frozenset()) | causes

    # ---- rounds

    def _repeat(self, circuit: Circuit, step: Repeat) -> None:
        circuit.frame.rounds[step.name] = 0
        if step.places is not None:
            circuit.frame.places[step.name] = self._places(circuit, step.places)
        self._round(circuit, step)

    def _places(self, circuit: Circuit, name: str) -> list[str]:
        table = self.catalogue.places.lists[name]
        scope = self.scope(circuit)
        words = (scope.get(column) for column in table.columns)
        row = table.row_for(tuple(w if isinstance(w, str) else "unknown" for w in words))
        return [place.strip() for place in row.to.split(",")] if row is not None else []

    def _round(self, circuit: Circuit, step: Repeat) -> None:
        """The next round, or out: a stop that holds (also closely), or no rounds left."""
        frame = circuit.frame
        number = frame.rounds[step.name]
        evaluator = self.evaluator(circuit)
        for line in step.stops:
            if line.test is not None and self._stops(evaluator, line.test):
                self._out(circuit, step, line.source, line.to)
                return
        places = frame.places.get(step.name)
        most = step.most if places is None else len(places)
        if most is not None and number >= most:
            self._out(circuit, step, RAN_OUT if places is None else ALL_DONE, step.out)
            return
        frame.rounds[step.name] = number + 1
        if places is not None:
            place = places[number]
            frame.names |= {"place": place, **self.catalogue.places.things[place]}
        for reading in frame.program.asked_in[step.name]:
            self.holder(circuit, reading).fresh.discard(reading)
        frame.step = step.steps[0]

    def _stops(self, evaluator: Evaluator, test: Test) -> bool:
        found = evaluator.truth(test)
        return found.likely is True or found.close

    def _out(self, circuit: Circuit, step: Repeat, why: str, to: str) -> None:
        tree = circuit.frame.program.tree.name
        event: Event = {"event": "routed", "circuit": circuit.name, "tree": tree, "step": step.name}
        self._routed(circuit, step, event | {"rows": [why], "to": to})
        self._look_ahead_to(circuit, step, to)

    # ---- trees

    def _go(self, circuit: Circuit, step: Go) -> None:
        if step.each_circuit:
            self.begin_circuits(step.tree)
        else:
            self.enter(circuit, step.tree)

    def _back(self, circuit: Circuit, step: Back) -> None:
        left = circuit.frames.pop().program.tree.name
        event: Event = {"event": "left", "circuit": circuit.name, "tree": left}
        self.emit(event | {"outcome": step.outcome})
        if not circuit.frames:
            self.end(circuit)
            return
        go = circuit.frame.step
        assert isinstance(go, Go)
        self._look_ahead_to(circuit, go, go.comes_back[step.outcome])

    def _finding(self, circuit: Circuit, step: FindingStep) -> None:
        left = [] if step.go_on else [t for t in circuit.facts.left if t not in step.leaving]
        if left:
            circuit.pending = Pending("do", step, left=left[-1])
            return
        self._say_finding(circuit, step)
        if step.go_on:
            circuit.frames.clear()
            self.enter(circuit, step.go_on)
        elif step.offer:
            circuit.pending = Pending("offer", step)
        else:
            self.end(circuit)

    def _say_finding(self, circuit: Circuit, step: FindingStep) -> None:
        evaluator = self.evaluator(circuit)
        tree = circuit.frame.program.tree.name
        possible = circuit.still_possible
        event: Event = {"event": "finding", "circuit": circuit.name, "where": f"{tree}/{step.name}"}
        event |= {"cause": step.cause or "cannot-tell", "could_be": list(step.could_be)}
        event["evidence"] = [evidence_of(said, self.units) for said in circuit.evidence.values()]
        named = {step.cause, *step.could_be}
        event["ruled_out"] = [
            {"cause": cause, "at": at}
            for cause, at in circuit.ruled_out.items()
            if cause not in possible and cause not in named
        ]
        event["still_close"] = sorted(frozenset().union(*circuit.kept.values()) - named)
        for part, text in (("seen", step.seen), ("next", step.next), ("told_apart", step.told_apart)):
            event[part] = evaluator.text(text, self.unit_for)
        self.properties.taken()
        self.findings.append(event)
        self.emit(event)

    # ---- acts

    def good_to(self, instrument: str) -> str:
        """How good this instrument is now: as set, as checked, or the catalogue's."""
        return self.instruments.get(instrument) or self.catalogue.instruments[instrument].good_to

    def unit_for(self, value: Quantity) -> str | None:
        return default_unit(value.kind, self.units)

    def work(self, circuit: Circuit, work: str) -> None:
        """What an act makes stale, leaves behind, clears and undoes."""
        found = self.catalogue.works[work]
        facts = circuit.facts
        facts.done.add(work)
        facts.done.difference_update(found.undoes)
        for reading in found.changes:
            self.holder(circuit, reading).fresh.discard(reading)
        facts.left = [thing for thing in facts.left if thing not in found.clears]
        facts.left.extend(thing for thing in found.leaves if thing not in facts.left)

    def forget(self, circuit: Circuit) -> None:
        """A person begins anew after a finding: what is not off a plate is asked again."""
        for name, reading in self.catalogue.readings.items():
            if not (reading.remembered or reading.set_):
                self.holder(circuit, name).fresh.discard(name)

    def take(self, circuit: Circuit, reading: str, value: Value | None, *, replaces: bool = False) -> None:
        """A reading is had; what came from the one it stands in for is worked out again."""
        again = self.holder(circuit, reading).take(reading, value, replaces=replaces)
        if again:
            self._redo(circuit, reading)
        work = self.catalogue.readings[reading].work
        if work is not None and value is not None:
            self.work(circuit, work)

    def _redo(self, circuit: Circuit, reading: str) -> None:
        of_unit = self.catalogue.readings[reading].of == "unit"
        for each in self.circuits.values() if of_unit else (circuit,):
            for name in each.facts.derived(reading):
                result = each.facts.results[name]
                self.give_result(each, result.tree, result.step, redo=True)


_STEP: Mapping[type, Callable[..., None]] = {
    Ask: Machine._ask,
    CautionStep: Machine._caution,
    Do: Machine._do,
    Wait: Machine._wait,
    WorkOut: Machine._work_out,
    Judge: Machine._judge,
    Decide: Machine._decide,
    Repeat: Machine._repeat,
    Go: Machine._go,
    Back: Machine._back,
    FindingStep: Machine._finding,
}
