"""The walk's state machine: takes input events, moves down the trees, emits what follows.

A fold: the same library and the same inputs give the same state and the same events. It never
draws, reads a clock, sleeps or touches a file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from tui.tree.model import Ask, Back, CautionStep, Decide, Do, FindingStep, Go, Judge, Repeat, Step, Wait, WorkOut
from tui.tree.scope import PLACE
from tui.walk import deciding
from tui.walk.circuit import Circuit, Frame, Pending, key
from tui.walk.deciding import Decision
from tui.walk.evaluate import NO
from tui.walk.excluding import excluded
from tui.walk.found import finding_event
from tui.walk.naming import MAIN
from tui.walk.nearest import close_call
from tui.walk.places import place_said
from tui.walk.program import Program, program, tree_of
from tui.walk.properties import RecordingProperties
from tui.walk.reach import Reach
from tui.walk.rows import seen
from tui.walk.world import Event, World

if TYPE_CHECKING:
    from tui.tree.library import Library

CUT_SHORT = "cut short"
BEGAN_HERE = "began-here"  # the reading that says whether the walk began in the tree it stands in
RAN_OUT = "rounds run out"
ALL_DONE = "afterwards"


class Machine(World):
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
        super().__init__(library, properties, emit)
        self.embed = embed
        self._programs: dict[str, Program] = {}
        self._began = ""  # the tree entered first
        self._entered: set[str] = set()
        self.gone_into: list[tuple[str, Frame]] = []  # every tree that a circuit came into, in order
        self.reach = reach

    def program(self, tree: str) -> Program:
        if tree not in self._programs:
            self._programs[tree] = program(tree_of(self.library, tree))
        return self._programs[tree]

    def step_of(self, event: Event) -> Step | None:
        """The step an input names, where its tree is at hand and still has it."""
        tree = event["tree"]
        return self.program(tree).steps.get(event["step"]) if tree in self.library.trees else None

    # ---- moving

    def begin(self, tree: str, circuits: list[str]) -> None:
        """Enter the first tree: of the unit, or of every circuit named."""
        self._began = tree
        for name in circuits:
            self.circuits.setdefault(name, Circuit(name))
        if tree_of(self.library, tree).of == "unit":
            self.enter(self.unit, tree)
        else:
            self.begin_circuits(tree)

    def begin_circuits(self, tree: str) -> None:
        for name in self.named or tuple(self.circuits) or (MAIN,):
            circuit = self.circuits.setdefault(name, Circuit(name))
            circuit.frames.clear()
            circuit.ended = False
            self.enter(circuit, tree)
        self.next_circuit()

    def next_circuit(self) -> None:
        """Go to the one circuit that is left; with several, a person says which."""
        still = self.circuits_open()
        self.current = still[0] if len(still) == 1 else None

    def enter(self, circuit: Circuit, tree: str) -> None:
        found = tree_of(self.library, tree)
        circuit.frames.append(Frame(self.program(tree), found.steps[0]))
        self._stands_in(circuit, tree)
        self.gone_into.append((circuit.name, circuit.frame))
        event: Event = {"event": "entered", "circuit": circuit.name, "tree": tree}
        event |= {"edition": found.edition, "digest": found.digest}
        if tree not in self._entered:
            event["beyond"] = self.reach.beyond(tree)
            event |= self.embed(tree) if self.embed is not None else {}
        self._entered.add(tree)
        self.emit(event)
        self.look_ahead(circuit, "")

    def _stands_in(self, circuit: Circuit, tree: str) -> None:
        """A tree may ask whether the walk began in it: what others would have found out, nobody has."""
        if BEGAN_HERE in self.catalogue.readings:
            circuit.facts.values[BEGAN_HERE] = "yes" if tree == self._began else "no"

    def advance(self) -> None:
        """Go on until a person is needed."""
        while self.site is not None:
            circuit = self.walked()
            if circuit is None or circuit.pending is not None:
                return
            self._take_step(circuit, circuit.frame.step)

    def take_up_astray(self) -> None:
        """What is left on a circuit that no tree walks or will walk is cleared before anything else.

        Such a circuit was named by a slip, or a correction has taken away the way to it.
        """
        over = self.over
        for circuit in self._left_unwalked():
            gone = bool(self.named) and circuit.name not in self.named
            if gone or self.closing or over:
                beginning = self.program(self._began)
                circuit.frames.append(Frame(beginning, beginning.tree.steps[0]))
                circuit.astray = True
                self.clear_and_end(circuit, circuit.frame.step)

    def _left_unwalked(self) -> list[Circuit]:
        return [circuit for circuit in self.circuits.values() if circuit.facts.left and not circuit.frames]

    def _take_step(self, circuit: Circuit, step: Step) -> None:
        needed = step.only_when is None or self.evaluator(circuit).truth(step.only_when).likely is True
        circuit.frame.come_by(step, needed=needed)
        if not needed:
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
            name = key(self.catalogue, circuit.frame.program.tree.name, step.result)
            if self.keeper(circuit, name) is circuit.facts:  # of the unit: what another circuit gave stands
                circuit.facts.values[name] = None
                circuit.facts.others.pop(name, None)
                circuit.facts.results.pop(name, None)

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
            self.clear_and_end(circuit, step)
        else:
            self._round(circuit, inside)

    def clear_and_end(self, circuit: Circuit, step: Step) -> None:
        """End this circuit's walk, once nothing is left on."""
        if circuit.facts.left:
            circuit.pending = Pending("do", step, left=circuit.facts.left[-1], ends=True)
        else:
            self.end(circuit)

    def left_open(self) -> bool:
        """Is something on or open where the walk has not ended, or where it never came?"""
        still = [self.circuits[name] for name in self.circuits_open()]
        astray = [circuit for circuit in self.circuits.values() if circuit.astray] + self._left_unwalked()
        unit = () if self.unit.ended else (self.unit,)
        return any(circuit.facts.left for circuit in (*still, *astray, *unit))

    def close_early(self, why: str) -> None:
        """A person stops before the end: every circuit still open ends, what is left on is cleared first."""
        self.closing = why
        unit = [] if self.unit.ended or not self.unit.frames else [self.unit]
        for circuit in [self.circuits[name] for name in self.circuits_open()] or unit:
            self.clear_and_end(circuit, circuit.frame.step)

    def end(self, circuit: Circuit) -> None:
        circuit.ended = True
        circuit.pending = None
        if circuit.astray:
            circuit.astray = False
            circuit.frames.clear()
            return
        if circuit is not self.unit:
            self.next_circuit()
        if circuit is self.unit or not self.unit.frames or self.unit.ended or self.circuits_open():
            return
        if self.closing:
            self.clear_and_end(self.unit, self.unit.frame.step)
        else:
            self.onward(self.unit, self.unit.frame.step)

    # ---- steps

    def _ask(self, circuit: Circuit, step: Ask) -> None:
        holders = {reading: self.holder(circuit, reading) for reading in step.readings}
        missing = [r for r, facts in holders.items() if r not in facts.fresh]
        if missing:
            circuit.pending = Pending("ask", step, readings=missing)
        elif step.couldnt and any(facts.values.get(r) is None for r, facts in holders.items()):
            self.not_had(circuit, step, step.couldnt)
        else:
            circuit.kept.pop(self._at(circuit, step), None)
            self.onward(circuit, step)

    def not_had(self, circuit: Circuit, step: Step, destination: str) -> None:
        """Where a reading or an act could not be had: nothing is ruled out by that."""
        self._keep_possible(circuit, step, step.then or "carry on")
        self.to(circuit, step, destination)
        if not circuit.ended:
            self.look_ahead(circuit, "")

    def cut_short(self, circuit: Circuit, step: Step, destination: str) -> None:
        """A wait that did not last: what it was to show is still possible."""
        event: Event = {"event": "routed", "circuit": circuit.name, "tree": circuit.frame.program.tree.name}
        self._routed(circuit, step, event | {"step": step.name, "rows": [CUT_SHORT], "to": destination})
        self._keep_possible(circuit, step, step.then or "carry on")
        self._look_ahead_to(circuit, step, destination)

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
        still_done = self.still_done(circuit, step.work)
        if still_done and (step.once or self._credited(circuit, step)):
            self.onward(circuit, step)
        else:
            circuit.pending = Pending("do", step)

    def _wait(self, circuit: Circuit, step: Wait) -> None:
        facts = circuit.facts
        duration = self.evaluator(circuit).quantity(step.duration)
        seconds = None if duration is None else duration.si
        rested = step.once and seconds is not None and facts.rested >= seconds
        if facts.settled and (rested or self._credited(circuit, step)):
            self.onward(circuit, step)
        else:
            circuit.pending = Pending("wait", step, seconds=seconds)

    def _credited(self, circuit: Circuit, step: Step) -> bool:
        place = place_said(circuit, step, self.catalogue.places.kinds).get(PLACE, "")
        tree = circuit.frame.program.tree.name
        credit = next((c for at in (place, "") if circuit.credits[c := (tree, step.name, at)] > 0), None)
        if credit is not None:  # without a place: of an older file
            circuit.credits[credit] -= 1
        return credit is not None

    def _work_out(self, circuit: Circuit, step: WorkOut) -> None:
        self.give_result(circuit, circuit.frame.program.tree.name, step, redo=False)
        self.onward(circuit, step)

    _judge = _work_out

    def _decide(self, circuit: Circuit, step: Decide) -> None:
        decision = self.decision(circuit, step)
        if step.must_be_settled and decision.to is not None and decision.elsewhere:
            circuit.pending = Pending("close-call", step, decision=decision)
        else:
            self.route(circuit, step, decision, decision.to)

    def decision(self, circuit: Circuit, step: Decide) -> Decision:
        evaluator = self.evaluator(circuit)
        if step.table is None:
            return deciding.by_lines(step.lines, evaluator.truth)
        scope = self.scope(circuit)

        def word_of(column: str) -> tuple[str, tuple[str, ...]]:
            word = scope.get(column)
            return (word, scope.others(column)) if isinstance(word, str) else ("unknown", ())

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
        others = decision.elsewhere if to is not None else (decision.to, *decision.elsewhere)
        # what leads there too keeps nothing that would not be found there
        ways = [other for other in others if other and other != destination]
        for other in ways:
            self._keep_possible(circuit, step, other)
        if decision.close:
            call = close_call(circuit.frames, step, ways, decision.close)
            circuit.close_calls[call.at] = call
        self._look_ahead_to(circuit, step, destination)

    def settle_open(self, circuit: Circuit, step: Step, decision: Decision) -> None:
        """A close call stays open: the row the tree wrote for that."""
        assert isinstance(step, Decide)
        self.route(circuit, step, decision, None)

    def _routed(self, circuit: Circuit, step: Step, event: Event) -> None:
        event |= place_said(circuit, step, self.catalogue.places.kinds)
        taken = self.properties.taken()
        if taken:
            event["properties"] = taken
        self.emit(event)
        with self.properties.aside():
            saw = seen(step, event["rows"], self.scope(circuit).get, self.evaluator(circuit).value)
        self.routed.append((event, saw, self.now))
        at = self._at(circuit, step)
        circuit.kept.pop(at, None)
        circuit.close_calls.pop(at, None)
        circuit.evidence[at] = event
        circuit.frame.taken[step.name] = tuple(event["rows"]), event["to"]

    def _look_ahead_to(self, circuit: Circuit, step: Step, destination: str) -> None:
        at = self._at(circuit, step)
        self.to(circuit, step, destination)
        if not circuit.ended:
            self.look_ahead(circuit, at)

    def look_ahead(self, circuit: Circuit, at: str) -> None:
        """Which causes can still be found from here; those gone were ruled out at `at`.

        From where only a stop can be reached nothing was ruled out: the walk just can't tell.
        """
        led_to = self.reach.from_frames(circuit.frames)
        if not led_to:
            return
        never = excluded(self, circuit)
        now = led_to - never
        circuit.kept = {place: causes - never for place, causes in circuit.kept.items()}
        if at:
            for cause in sorted(circuit.possible - now):
                circuit.ruled_out.setdefault(cause, at)
        for cause in now:
            circuit.ruled_out.pop(cause, None)
        circuit.possible = now

    def _keep_possible(self, circuit: Circuit, step: Step, destination: str) -> None:
        at = self._at(circuit, step)
        causes = self.reach.from_destination(circuit.frames, step, destination)
        circuit.kept[at] = circuit.kept.get(at, frozenset()) | causes

    @staticmethod
    def _at(circuit: Circuit, step: Step) -> str:
        return f"{circuit.frame.program.tree.name}/{step.name}"

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
            found = NO if line.test is None else evaluator.truth(line.test)
            if found.likely is True or found.close:
                self._out(circuit, step, line.source, line.to, close=found.close)
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

    def _out(self, circuit: Circuit, step: Repeat, why: str, to: str, *, close: bool = False) -> None:
        """Leave the rounds; at a close stop another round stays possible."""
        tree = circuit.frame.program.tree.name
        event: Event = {"event": "routed", "circuit": circuit.name, "tree": tree, "step": step.name}
        event |= {"rows": [why], "to": to}
        if close:
            event |= {"close": [why], "elsewhere": ["go round"]}
        self._routed(circuit, step, event)
        if close:
            self._keep_possible(circuit, step, step.steps[0].name)
        self._look_ahead_to(circuit, step, to)

    # ---- trees

    def _go(self, circuit: Circuit, step: Go) -> None:
        if step.each_circuit:
            self.begin_circuits(step.tree)
        else:
            self.enter(circuit, step.tree)

    def _back(self, circuit: Circuit, step: Back) -> None:
        """Back to the `go` that called; from the tree the walk began in there is none, and it ends."""
        if len(circuit.frames) == 1 and circuit.facts.left:
            circuit.pending = Pending("do", step, left=circuit.facts.left[-1])
            return
        tree = circuit.frames.pop().program.tree.name
        go = circuit.frame.step if circuit.frames else None
        event: Event = {"event": "left", "circuit": circuit.name, "tree": tree, "outcome": step.outcome}
        self.emit(event | {"step": go.name if go is not None else ""})
        if go is None:
            self.end(circuit)
            return
        assert isinstance(go, Go)
        self._stands_in(circuit, circuit.frame.program.tree.name)
        circuit.frame.taken[go.name] = (step.outcome,), go.comes_back[step.outcome]
        self._look_ahead_to(circuit, go, go.comes_back[step.outcome])

    def _finding(self, circuit: Circuit, step: FindingStep) -> None:
        left = [] if step.go_on else [t for t in circuit.facts.left if t not in step.leaving]
        if left:
            circuit.pending = Pending("do", step, left=left[-1])
            return
        event = finding_event(self, circuit, step)
        self.findings.append(event)
        self.emit(event)
        if step.go_on:
            circuit.frames.clear()
            self.enter(circuit, step.go_on)
        elif step.offer:
            circuit.pending = Pending("offer", step)
        else:
            self.end(circuit)


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
