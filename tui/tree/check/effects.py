"""What each step needs and does, compiled once to masks, and how the state moves over it.

`ways` gives, for a node and the state before it, each way on with the state on that way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.check import graph
from tui.tree.check.graph import Edge, Flow, Node
from tui.tree.check.layout import Act, Layout
from tui.tree.check.names import PLACE, Names, Use, every_step, in_test, step_uses
from tui.tree.check.stated import Domain, implies, row_implies
from tui.tree.check.unknown import SURE, Doubt, Doubts, Forks, lines_open, together
from tui.tree.model import (
    UNKNOWN,
    Ask,
    Catalogue,
    CautionStep,
    Decide,
    Do,
    Is,
    Judge,
    Line,
    Reading,
    Repeat,
    Row,
    Step,
    Table,
    Test,
    Wait,
    WorkOut,
)

State = int


@dataclass(slots=True)
class Asked:
    """One reading of an ask. `wants` are the bits that say it may still have to be taken.

    `hanging` are the names worked out from it: a new value leaves them behind.
    """

    reading: Reading
    mask: int
    wants: int
    clear: int
    set: int
    unknown: int
    facts: int
    hanging: int
    act: Act | None


@dataclass(slots=True)
class Op:
    """One node, compiled. `uses` what it needs, `bad` the bits that make that a mistake."""

    node: Node
    uses: list[tuple[int, Use]] = field(default_factory=list)
    bad: int = 0
    asked: list[Asked] = field(default_factory=list)
    act: Act | None = None
    clear: int = 0
    set: int = 0
    result: int = 0
    doubt: Doubt = SURE
    guard: int = 0  # facts that the step's own `only when` states
    edge_facts: list[int] = field(default_factory=list)  # by row or line
    edge_known: list[int] = field(default_factory=list)  # by line: unknown bits a way rules out
    forks: Forks | None = None
    columns: list[int] = field(default_factory=list)  # by column: its unknown bit in the state
    stop_names: list[int] = field(default_factory=list)
    afresh: int = 0  # readings each round asks afresh


@dataclass(slots=True)
class Compiler:
    """Compiles the nodes of all trees of one library."""

    catalogue: Catalogue
    layout: Layout
    acts: Mapping[str, Act]
    derived: list[int]
    domain: Domain
    doubts: Doubts

    @property
    def names(self) -> Names:
        return self.layout.names

    def tree(self, flow: Flow) -> list[Op]:
        """The nodes of one tree, in their order."""
        return [self.node(flow.tree.name, node) for node in flow.nodes]

    def node(self, tree: str, node: Node) -> Op:
        op = Op(node)
        step = node.step
        op.uses = list(self.names.spread(tree, _uses(node, self.catalogue)))
        for bit, use in op.uses:
            op.bad |= 1 << bit | (0 if use.first else self.layout.stale(1 << bit))
        if step.only_when is not None and not node.turns:
            op.guard = self._stated(tree, step.only_when, True)
        if isinstance(step, Ask):
            op.asked = [self._asked(step, name) for name in step.readings if name in self.names.bit]
        elif isinstance(step, CautionStep):
            for caution in step.cautions:
                op.clear |= self.layout.cautions.get(caution, 0)
                op.clear |= sum(bit for (_, one), bit in self.layout.unwarned.items() if one == caution)
        elif isinstance(step, Do):
            op.act = self.acts.get(step.work)
        elif isinstance(step, WorkOut | Judge):
            self._result(op, tree, step)
        elif isinstance(step, Decide):
            self._decide(op, tree, step)
        elif isinstance(step, Repeat):
            self._repeat(op, tree, step)
        return op

    def _stated(self, tree: str, test: Test, holds: bool) -> int:
        names = self.names.mask(tree, in_test(test))
        return self.layout.fact_bits(names, lambda fact: implies(test, holds, fact, self.domain))

    def _asked(self, step: Ask, name: str) -> Asked:
        reading = self.catalogue.readings[name]
        mask = 1 << self.names.bit[name]
        layout = self.layout
        wants = mask | layout.stale(mask) | layout.unknown(mask) | layout.again(mask)
        unknown = 0 if step.couldnt or reading.must or reading.set_ else layout.unknown(mask)
        act = self.acts.get(reading.work) if reading.work else None
        clear = wants | layout.disturbed(mask)
        derived = self.derived[self.names.bit[name]]
        facts = layout.facts_on(derived)
        return Asked(reading, mask, wants, clear, layout.given(mask), unknown, facts, derived & ~mask, act)

    def _result(self, op: Op, tree: str, step: WorkOut | Judge) -> None:
        mask = 1 << self.names.bit[self.names.key(tree, step.result)]
        op.result = mask
        op.clear = mask | self.layout.stale(mask) | self.layout.unknown(mask & ~self.layout.shared)
        op.set = self.layout.given(mask) | self.layout.facts_on(mask)
        if isinstance(step, WorkOut):
            op.doubt = self.doubts.of(tree, step.expression)
            return
        parts = (step.compare, step.target, step.band, step.on_from, step.on_to)
        op.doubt = together([self.doubts.of(tree, part) for part in parts if part is not None])

    def _decide(self, op: Op, tree: str, step: Decide) -> None:
        if step.table is not None:
            table = step.table
            op.forks = Forks.of(table)
            for column in table.columns:
                bit = self.names.find(tree, column)
                op.columns.append(0 if bit is None else self.layout.unknown(1 << bit))
            names = self.names.mask(tree, (Use(column, step.spot) for column in table.columns))
            op.edge_facts.extend(self._row(table, row, names) for row in table.rows)
        op.edge_facts.extend(self._lines(tree, step.lines))
        op.edge_known.extend(self._known(tree, step.lines))

    def _row(self, table: Table, row: Row, names: int) -> int:
        return self.layout.fact_bits(names, lambda fact: row_implies(table, row, fact, self.domain))

    def _lines(self, tree: str, lines: tuple[Line, ...]) -> Iterator[int]:
        """What each line states: its own test, and that no line above held."""
        passed = 0
        for line in lines:
            yield passed | (0 if line.test is None else self._stated(tree, line.test, True))
            if line.test is not None:
                passed |= self._stated(tree, line.test, False)

    def _known(self, tree: str, lines: tuple[Line, ...]) -> Iterator[int]:
        """Unknown bits ruled out on each line, because a line above would have caught them."""
        passed = 0
        for line in lines:
            yield passed
            for test in (line.test,) if isinstance(line.test, Is) else ():
                if UNKNOWN in test.words and not test.negated:
                    passed |= self.layout.unknown(self.doubts.of(tree, test.subject).names & ~self.layout.shared)

    def _repeat(self, op: Op, tree: str, step: Repeat) -> None:
        for line in step.stops:
            op.stop_names.append(self.names.mask(tree, in_test(line.test)))
        op.edge_facts = list(self._lines(tree, step.stops))
        passed = 0
        for line in step.stops:
            passed |= 0 if line.test is None else self._stated(tree, line.test, False)
        op.edge_facts.append(passed)
        for inner in every_step(step.steps):
            if isinstance(inner, Ask):
                for name in inner.readings:
                    bit = self.names.bit.get(name)
                    op.afresh |= 0 if bit is None else 1 << bit
        if step.places is not None:
            for name in (PLACE, *self.catalogue.places.kinds):
                bit = self.names.find(tree, name)
                op.clear |= 0 if bit is None else self.layout.fields(1 << bit)
                op.set |= 0 if bit is None else self.layout.given(1 << bit)


def _uses(node: Node, catalogue: Catalogue) -> Iterator[Use]:
    """Every name that must be known and fresh at this node."""
    step = node.step
    if node.turns:
        assert isinstance(step, Repeat)
        for line in step.stops:
            yield from in_test(line.test)
    else:
        yield from step_uses(step, catalogue)


Ways = Iterator[tuple[Edge, State]]


@dataclass(slots=True)
class Effects:
    """How a state moves over one tree's nodes. Going to another tree is left to the caller."""

    tree: str
    layout: Layout
    acts: Mapping[str, Act]
    doubts: Doubts

    def before(self, op: Op, state: State) -> State:
        """After the step's own names are looked at: a mistake told here is not told again below."""
        return state & ~op.bad

    def ways(self, op: Op, state: State) -> Ways:
        """Each way on from a node that is no go, no back and no finding, with the state on it."""
        state = self.before(op, state)
        step = op.node.step
        for edge in op.node.edges:
            if edge.kind == graph.SKIP:
                yield edge, self.skipped(op, state)
        way = _WAYS.get(type(step))
        if way is not None:
            yield from way(self, op, state & ~op.guard)

    def skipped(self, op: Op, state: State) -> State:
        """A guard not met: what the step would give is unknown, unless it is known and fresh."""
        layout = self.layout
        mask = op.result
        for asked in op.asked:
            if state & (asked.wants & ~layout.unknown(asked.mask)):
                mask |= asked.mask
        gone = mask | layout.stale(mask) | layout.again(mask)
        return state & ~gone | layout.unknown(mask) | layout.given(mask)

    # ---- by step

    def _ask(self, op: Op, state: State) -> Ways:
        after = refused = state
        for asked in op.asked:
            after = self._take(asked, after, asked.unknown)
            refused = self._take(asked, refused, self.layout.unknown(asked.mask))
        for edge in op.node.edges:
            if edge.kind == graph.NEXT:
                yield edge, after
            elif edge.kind == graph.COULDNT:
                yield edge, refused

    def _take(self, asked: Asked, state: State, unknown: int) -> State:
        """Known and fresh: left alone. Else taken; what came from the value of the last round is stale."""
        if not state & asked.wants:
            return state
        if asked.act is not None:
            state |= asked.act.on(state, self.layout)
        taken_before = state & self.layout.again(asked.mask)
        stale = self.layout.stale(self.layout.given_in(state) & asked.hanging) if taken_before else 0
        return state & ~asked.clear | asked.set | asked.facts | stale | unknown

    def _caution(self, op: Op, state: State) -> Ways:
        for edge in op.node.edges:
            yield edge, state & ~op.clear

    def _do(self, op: Op, state: State) -> Ways:
        step = op.node.step
        assert isinstance(step, Do)
        if op.act is None:
            done = state
        else:
            done = op.act.on(state, self.layout)
            if step.once:
                done = self._once(op.act, state, done)
        for edge in op.node.edges:
            if edge.kind == graph.NEXT:
                yield edge, done
            elif edge.kind == graph.COULDNT:
                yield edge, state if op.act is None else self._half_done(op.act, state)

    def _once(self, act: Act, state: State, done: State) -> State:
        """Skipped where it is done: those ways go on as they were."""
        undone = self.layout.undone[act.work.id]
        if not state & self.layout.done[act.work.id]:
            return done
        skipped = state & ~undone
        for group, bit in self.layout.groups.items():
            if act.work.id in group:
                skipped &= ~bit
        return done | skipped if state & undone else skipped

    def _half_done(self, act: Act, state: State) -> State:
        """It could not be done, but may have been begun: what it changes is stale, what it would
        leave behind may be there, what it would do is not done."""
        layout = self.layout
        kept = act.on(state, layout) & ~layout.done[act.work.id]
        return state | kept

    def _wait(self, op: Op, state: State) -> Ways:
        settled = state & ~self.layout.disturbed(self.layout.full)
        for edge in op.node.edges:
            if edge.kind in (graph.NEXT, graph.CUT_SHORT):
                yield edge, settled
            elif edge.kind == graph.COULDNT:
                yield edge, state

    def _result(self, op: Op, state: State) -> Ways:
        unknown = op.doubt.at(self.layout.unknown_in(state))
        after = state & ~op.clear | op.set
        if unknown:
            after |= self.layout.unknown(op.result)
        for edge in op.node.edges:
            if edge.kind == graph.NEXT:
                yield edge, after

    def _decide(self, op: Op, state: State) -> Ways:
        step = op.node.step
        assert isinstance(step, Decide)
        for edge in op.node.edges:
            if edge.kind == graph.ROW:
                yield edge, state & ~op.edge_facts[edge.index]
            elif edge.kind == graph.LINE:
                yield edge, state & ~op.edge_facts[edge.index] & ~op.edge_known[edge.index]
            elif edge.kind == graph.UNSETTLED and (step.must_be_settled or self.open(op, state)):
                yield edge, state

    def open(self, op: Op, state: State) -> bool:
        """Whether a decide may stand before something unknown that leaves more than one way."""
        step = op.node.step
        assert isinstance(step, Decide)
        if op.forks is not None:
            mask = 0
            for index, bit in enumerate(op.columns):
                if state & bit:
                    mask |= 1 << index
            return bool(mask) and op.forks.open(mask)
        return lines_open(step.lines, self.layout.unknown_in(state), lambda e: self.doubts.of(self.tree, e))

    def _repeat(self, op: Op, state: State) -> Ways:
        given = self.layout.given_in(state)
        for edge in op.node.edges:
            if edge.kind == graph.STOP:
                names = op.stop_names[edge.index]
                if not names & ~given:
                    yield edge, state & ~op.edge_facts[edge.index] & ~names
            elif edge.kind == graph.ROUND:
                yield edge, self._round(op, state & ~op.edge_facts[-1])
            elif edge.kind == graph.OUT:
                yield edge, state & ~op.edge_facts[-1]

    def _round(self, op: Op, state: State) -> State:
        again = self.layout.again(self.layout.given_in(state) & op.afresh)
        return state & ~op.clear | op.set | again

    def cleared(self, state: State, leaving: tuple[str, ...]) -> State:
        """The state once everything left behind is cleared, but for what stays on purpose."""
        for thing, bit in self.layout.left.items():
            if state & bit and thing not in leaving:
                left_on = self.layout.names.catalogue.left_on.get(thing)
                act = self.acts.get(left_on.work) if left_on is not None else None
                if act is not None:
                    state |= act.on(state, self.layout)
                state &= ~bit
        return state


_WAYS: Mapping[type[Step], Callable[[Effects, Op, State], Ways]] = {
    Ask: Effects._ask,
    CautionStep: Effects._caution,
    Do: Effects._do,
    Wait: Effects._wait,
    WorkOut: Effects._result,
    Judge: Effects._result,
    Decide: Effects._decide,
    Repeat: Effects._repeat,
}
