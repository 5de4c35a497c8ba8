"""How the state moves over a step: `ways` gives each way on with the state on that way."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from tui.tree.check.compiled import BEFORE, Asked, Op, State
from tui.tree.check.graph import Edge
from tui.tree.check.layout import GIVEN_OVER_STALE, Act, Layout
from tui.tree.check.unknown import Doubts, lines_open
from tui.tree.model import Ask, Decide, Do, Judge, Repeat, Step, WorkOut

Slots = tuple[State | None, ...]  # None: there is no such way on


@dataclass(slots=True)
class Effects:
    """How a state moves over one tree's nodes. Going to another tree is left to the caller."""

    tree: str
    layout: Layout
    acts: Mapping[str, Act]
    doubts: Doubts

    def before(self, op: Op, state: State) -> State:
        """After the step's own names are looked at: a mistake told here is not told again below."""
        return state & op.kept

    def ways(self, op: Op, state: State) -> Iterator[tuple[Edge, State]]:
        """Each way on from a node that is no go, no back and no finding, with the state on it."""
        slots: Slots = ()
        for move in op.moves:
            if move.slot == BEFORE:
                yield move.edge, state & move.keep | move.set
                continue
            slots = slots or self.slots(op, state)
            if (after := slots[move.slot]) is not None:
                yield move.edge, after

    def onward(self, op: Op, state: State) -> list[tuple[int, State]]:
        """As `ways`, by the nodes they lead to."""
        found = [(to, state & keep | more) for to, keep, more in op.plain]
        if op.bent:
            slots = self.slots(op, state)
            found += [(to, after) for to, slot in op.bent if (after := slots[slot]) is not None]
        return found

    def slots(self, op: Op, state: State) -> Slots:
        """The states that no mask alone gives, by slot."""
        return _SLOTS[type(op.node.step)](self, op, state)

    # ---- by step

    def _ask(self, op: Op, state: State) -> Slots:
        skipped = None if op.node.step.only_when is None else self._skipped(op, state & op.kept)
        after = refused = state & op.met
        if after & op.wanted:
            for asked in op.asked:
                after = self._take(asked, after, asked.taken)
                refused = self._take(asked, refused, asked.refused)
        return state, after, refused, skipped

    def _skipped(self, op: Op, state: State) -> State:
        """A guard not met: what would be asked is unknown, unless it is known and fresh."""
        layout, mask = self.layout, 0
        for asked in op.asked:
            if state & (asked.wants & ~layout.unknown(asked.mask)):
                mask |= asked.mask
        gone = mask | layout.stale(mask) | layout.again(mask)
        return state & ~gone | layout.unknown(mask) | layout.given(mask)

    def _take(self, asked: Asked, state: State, sets: State) -> State:
        """Known and fresh: left alone. Else taken; what came from the value of the last round is stale."""
        if not state & asked.wants:
            return state
        if asked.act is not None:
            state |= asked.act.on(state)
        if state & asked.again:
            sets |= (state & asked.hanging) >> GIVEN_OVER_STALE * self.layout.n
        return state & asked.keep | sets

    def _do(self, op: Op, state: State) -> Slots:
        step, act, before = op.node.step, op.act, state & op.met
        assert isinstance(step, Do)
        assert act is not None
        done = act.on(before)
        # Where it could not be done it may have been begun: what it changes is stale, what it would
        # leave behind may be there, what it would do is not done.
        refused = before | done & ~self.layout.done[act.work.id]
        return state, self._once(act, before, done) if step.once else done, refused

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

    def _result(self, op: Op, state: State) -> Slots:
        before = state & op.met
        after = before & op.keep | op.set
        if op.doubt.at(self.layout.unknown_in(before)):
            after |= self.layout.unknown(op.result)
        return state, after

    def _decide(self, op: Op, state: State) -> Slots:
        before = state & op.met
        return state, before if self.open(op, before) else None

    def open(self, op: Op, state: State) -> bool:
        """Whether a decide may stand before something unknown that leaves more than one way."""
        doubted = state & op.doubted
        if doubted not in op.open_at:
            op.open_at[doubted] = self._open(op, doubted)
        return op.open_at[doubted]

    def _open(self, op: Op, state: State) -> bool:
        step = op.node.step
        assert isinstance(step, Decide)
        if op.forks is not None:
            mask = 0
            for index, bit in enumerate(op.columns):
                if state & bit:
                    mask |= 1 << index
            return bool(mask) and op.forks.open(mask)
        return lines_open(step.lines, self.layout.unknown_in(state), lambda e: self.doubts.of(self.tree, e))

    def _repeat(self, op: Op, state: State) -> Slots:
        layout, before = self.layout, state & op.met
        given = layout.given_in(before)
        stops = (
            None if names & ~given else before & ~facts & ~names
            for names, facts in zip(op.stop_names, op.edge_facts, strict=False)
        )
        again = layout.again(given & op.afresh)
        return state, before & ~op.edge_facts[-1] & op.keep | op.set | again, *stops

    def cleared(self, state: State, leaving: tuple[str, ...]) -> State:
        """The state once everything left behind is cleared, but for what stays on purpose."""
        for thing, bit in self.layout.left.items():
            if state & bit and thing not in leaving:
                left_on = self.layout.names.catalogue.left_on.get(thing)
                act = self.acts.get(left_on.work) if left_on is not None else None
                if act is not None:
                    state |= act.on(state)
                state &= ~bit
        return state


_SLOTS: Mapping[type[Step], Callable[[Effects, Op, State], Slots]] = {
    Ask: Effects._ask,
    Do: Effects._do,
    WorkOut: Effects._result,
    Judge: Effects._result,
    Decide: Effects._decide,
    Repeat: Effects._repeat,
}
