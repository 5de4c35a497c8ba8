"""What each step needs and does, compiled once to masks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.check import graph
from tui.tree.check.graph import Edge, Flow, Node
from tui.tree.check.layout import Act, Layout
from tui.tree.check.names import PLACE, Names, Use, every_step, in_test, step_uses
from tui.tree.check.stated import Domain, implies, row_implies
from tui.tree.check.unknown import SURE, Doubt, Doubts, Forks, test_names, together
from tui.tree.model import (
    UNKNOWN,
    Ask,
    Back,
    Catalogue,
    CautionStep,
    Decide,
    Do,
    FindingStep,
    Go,
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
BEFORE = 0  # the state before a step; what the other slots hold, `Effects` says by kind of step
AFTER, REFUSED, SKIPPED = 1, 2, 3  # of an ask; a work has the first two, a worked-out name the first
OPEN = 1  # of a decide
ROUND, FIRST_STOP = 1, 2  # of a repeat


@dataclass(slots=True)
class Asked:
    """One reading of an ask. `wants` are the bits that say it may still have to be taken.

    `unfit` are those that say it can't be taken now: the wrong compressor, nothing waited for. `taken` and `refused`
    are the bits set once it was had or not. A value taken again leaves behind what was
    worked out from the one before: `hanging` are the bits that say that such a name is given.
    """

    reading: Reading
    mask: int
    wants: int
    keep: int
    taken: int
    refused: int
    again: int
    hanging: int
    unfit: int
    act: Act | None


@dataclass(slots=True)
class Move:
    """One way on from a step, with the state of its slot; of that before the step only `keep`, and `set` with it."""

    edge: Edge
    slot: int = BEFORE
    keep: int = 0
    set: int = 0


@dataclass(slots=True)
class Op:
    """One node, compiled. `uses` what it needs, `bad` the bits that make that a mistake.

    A mistake told here is not told again below: `kept` are all other bits, `met` those that are left of them once
    the step's own `only when` holds. `moves` are its ways on as they are written; `plain` and `bent` the same for
    whoever asks only where they lead: those of the state before, joined by place, and those of other slots.
    """

    node: Node
    away: bool = False  # a `go` or a `back`
    leads: bool = False  # a finding that goes on or offers
    uses: list[tuple[int, Use]] = field(default_factory=list)
    bad: int = 0
    kept: int = 0
    met: int = 0
    asked: list[Asked] = field(default_factory=list)
    wanted: int = 0  # what any reading of an ask wants
    act: Act | None = None
    keep: int = 0
    set: int = 0
    result: int = 0
    doubt: Doubt = SURE
    edge_facts: list[int] = field(default_factory=list)  # by row or line
    edge_known: list[int] = field(default_factory=list)  # by line: unknown bits a way rules out
    forks: Forks | None = None
    columns: list[int] = field(default_factory=list)  # by column: its unknown bit in the state
    doubted: int = 0  # the unknown bits that can leave a decide open or a result unknown
    stop_names: list[int] = field(default_factory=list)
    afresh: int = 0  # readings each round asks afresh
    moves: list[Move] = field(default_factory=list)
    plain: list[tuple[int, int, int]] = field(default_factory=list)  # to, keep, set
    bent: list[tuple[int, int]] = field(default_factory=list)  # to, slot
    open_at: dict[State, bool] = field(default_factory=dict)  # by what is doubted: whether a decide is open


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
        layout, step = self.layout, node.step
        op = Op(node, isinstance(step, Go | Back), keep=layout.whole)
        op.leads = isinstance(step, FindingStep) and bool(step.go_on or step.offer)
        op.uses = list(self.names.spread(tree, _uses(node, self.catalogue)))
        for bit, use in op.uses:
            op.bad |= 1 << bit | (0 if use.first else layout.stale(1 << bit))
        op.kept = op.met = layout.whole & ~op.bad
        if step.only_when is not None and not node.turns:
            op.met &= ~self._stated(tree, step.only_when, True)
        if isinstance(step, Ask):
            op.asked = [self._asked(step, name) for name in step.readings if name in self.names.bit]
            for asked in op.asked:
                op.wanted |= asked.wants
        elif isinstance(step, CautionStep):
            for caution in step.cautions:
                op.keep &= ~layout.cautions.get(caution, 0)
                op.keep &= ~sum(bit for (_, one), bit in layout.unwarned.items() if one == caution)
        elif isinstance(step, Do):
            op.act = self.acts.get(step.work)
        elif isinstance(step, Wait):
            op.keep &= ~layout.disturbed(layout.full)
        elif isinstance(step, WorkOut | Judge):
            self._result(op, tree, step)
        elif isinstance(step, Decide):
            self._decide(op, tree, step)
        elif isinstance(step, Repeat):
            self._repeat(op, tree, step)
        self._lead(op)
        return op

    def _stated(self, tree: str, test: Test, holds: bool) -> int:
        names = self.names.mask(tree, in_test(test))
        return self.layout.fact_bits(names, lambda fact: implies(test, holds, fact, self.domain))

    def _asked(self, step: Ask, name: str) -> Asked:
        reading = self.catalogue.readings[name]
        mask = 1 << self.names.bit[name]
        layout = self.layout
        again, unknown = layout.again(mask), layout.unknown(mask)
        wants = mask | layout.stale(mask) | unknown | again
        act = self.acts.get(reading.work) if reading.work else None
        keep = layout.whole & ~wants & ~layout.disturbed(mask)
        derived = self.derived[self.names.bit[name]]
        taken = layout.given(mask) | layout.facts_on(derived)
        refused = taken | unknown
        if not (step.couldnt or reading.must or reading.set_):
            taken = refused
        unfit = {"running": layout.stopped, "stopped": layout.running}.get(reading.while_ or "", 0)
        unfit |= layout.disturbed(mask) if reading.settles else 0
        hanging = layout.given(derived & ~mask)
        return Asked(reading, mask, wants, keep, taken, refused, again, hanging, unfit, act)

    def _result(self, op: Op, tree: str, step: WorkOut | Judge) -> None:
        layout = self.layout
        mask = 1 << self.names.bit[self.names.key(tree, step.result)]
        op.result = mask
        op.keep &= ~(mask | layout.stale(mask) | layout.unknown(mask & ~layout.shared))
        op.set = layout.given(mask) | layout.facts_on(mask)
        if isinstance(step, WorkOut):
            op.doubt = self.doubts.of(tree, step.expression)
        else:
            parts = (step.compare, step.target, step.band, step.on_from, step.on_to)
            op.doubt = together([self.doubts.of(tree, part) for part in parts if part is not None])
        op.doubted = layout.unknown(op.doubt.all_names())

    def _decide(self, op: Op, tree: str, step: Decide) -> None:
        layout = self.layout
        if step.table is not None:
            table = step.table
            op.forks = Forks.of(table)
            for column in table.columns:
                bit = self.names.find(tree, column)
                op.columns.append(0 if bit is None else layout.unknown(1 << bit))
                op.doubted |= op.columns[-1]
            names = self.names.mask(tree, (Use(column, step.spot) for column in table.columns))
            op.edge_facts.extend(self._row(table, row, names) for row in table.rows)
        for line in step.lines:
            if line.test is not None:
                op.doubted |= layout.unknown(test_names(line.test, lambda e: self.doubts.of(tree, e)))
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
        layout = self.layout
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
                op.keep &= ~(0 if bit is None else layout.fields(1 << bit))
                op.set |= 0 if bit is None else layout.given(1 << bit)

    # ---- ways on

    def _lead(self, op: Op) -> None:
        """The ways on, once all else is compiled. Those of a `go` to another tree are the solver's."""
        by_place: dict[int, tuple[int, int]] = {}
        for edge in op.node.edges:
            move = self._move(op, edge)
            if move is None:
                continue
            op.moves.append(move)
            if edge.to < 0:
                continue
            if move.slot != BEFORE:
                op.bent.append((edge.to, move.slot))
            else:
                keep, more = by_place.get(edge.to, (0, 0))
                by_place[edge.to] = keep | move.keep, more | move.set
        op.plain = [(to, keep, more) for to, (keep, more) in by_place.items()]

    def _move(self, op: Op, edge: Edge) -> Move | None:
        if edge.kind == graph.SKIP:
            return self._skip(op, edge)
        find = _MOVES.get(type(op.node.step))
        return None if find is None else find(self, op, edge)

    def _skip(self, op: Op, edge: Edge) -> Move:
        """A guard not met: what the step would give is unknown."""
        if op.asked:
            return Move(edge, SKIPPED)
        layout, mask = self.layout, op.result
        gone = mask | layout.stale(mask) | layout.again(mask)
        return Move(edge, keep=op.kept & ~gone, set=layout.unknown(mask) | layout.given(mask))

    def _ask_move(self, op: Op, edge: Edge) -> Move:
        return Move(edge, REFUSED if edge.kind == graph.COULDNT else AFTER)

    def _do_move(self, op: Op, edge: Edge) -> Move:
        return Move(edge, keep=op.met) if op.act is None else self._ask_move(op, edge)

    def _kept_move(self, op: Op, edge: Edge) -> Move:
        return Move(edge, keep=op.met if edge.kind == graph.COULDNT else op.met & op.keep)

    def _result_move(self, op: Op, edge: Edge) -> Move:
        if (op.doubt.names or op.doubt.groups) and not op.doubt.always:
            return Move(edge, AFTER)
        unknown = self.layout.unknown(op.result) if op.doubt.always else 0
        return Move(edge, keep=op.met & op.keep, set=op.set | unknown)

    def _decide_move(self, op: Op, edge: Edge) -> Move:
        step = op.node.step
        assert isinstance(step, Decide)
        if edge.kind == graph.UNSETTLED:
            return Move(edge, keep=op.met) if step.must_be_settled else Move(edge, OPEN)
        known = op.edge_known[edge.index] if edge.kind == graph.LINE else 0
        return Move(edge, keep=op.met & ~op.edge_facts[edge.index] & ~known)

    def _repeat_move(self, op: Op, edge: Edge) -> Move:
        if edge.kind == graph.STOP:
            return Move(edge, FIRST_STOP + edge.index)
        return Move(edge, ROUND) if edge.kind == graph.ROUND else Move(edge, keep=op.met & ~op.edge_facts[-1])


_MOVES: Mapping[type[Step], Callable[[Compiler, Op, Edge], Move]] = {
    Ask: Compiler._ask_move,
    CautionStep: Compiler._kept_move,
    Do: Compiler._do_move,
    Wait: Compiler._kept_move,
    WorkOut: Compiler._result_move,
    Judge: Compiler._result_move,
    Decide: Compiler._decide_move,
    Repeat: Compiler._repeat_move,
}


def _uses(node: Node, catalogue: Catalogue) -> Iterator[Use]:
    """Every name that must be known and fresh at this node."""
    step = node.step
    if node.turns:
        assert isinstance(step, Repeat)
        for line in step.stops:
            yield from in_test(line.test)
    else:
        yield from step_uses(step, catalogue)
