"""Which states are possible before every step of every tree, over calls and what findings lead to.

A called tree is solved once for each state it is entered with, as far as the tree has to do with it: what it does
not touch is the same when it comes back. Where a finding goes on or offers, nothing comes back, so all ways into
that tree are joined.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.check import graph
from tui.tree.check.compiled import Op, State
from tui.tree.check.effects import Effects
from tui.tree.check.graph import Edge, Graph
from tui.tree.check.layout import GIVEN_OVER_STALE, Layout
from tui.tree.check.names import Names, every_step
from tui.tree.check.touched import Touched
from tui.tree.model import Back, Catalogue, FindingStep, Go, Tree


@dataclass(slots=True)
class Context:
    """One tree entered with one state: the state before each node (None: never reached).

    `caller` is the place that entered it, None for a tree that starts a walk. `ends` says that a
    ``back`` here ends the walk. A called tree's states hold only what it touches.
    """

    tree: str
    entry: State
    caller: tuple[Context, int] | None
    ends: bool
    before: list[State | None] = field(default_factory=list)
    back: dict[str, State] = field(default_factory=dict)


@dataclass(slots=True)
class Solver:
    """Solves a library. `contexts` holds everything solved, trees that start a walk first."""

    graph: Graph
    ops: Mapping[str, list[Op]]
    effects: Mapping[str, Effects]
    layout: Layout
    touched: Mapping[str, Touched]
    unsteady: int  # unit names that some work makes stale
    fleeting: int  # readings that are not remembered: asked again when a person comes back to them
    contexts: list[Context] = field(default_factory=list)
    _memo: dict[tuple[str, State, bool], Context] = field(default_factory=dict)
    _entries: dict[str, State] = field(default_factory=dict)
    _sources: dict[str, list[tuple[Context, int, State]]] = field(default_factory=dict)
    _todo: list[str] = field(default_factory=list)
    _leads: dict[str, list[tuple[int, Op]]] = field(default_factory=dict)

    def solve(self, starts: list[str]) -> None:
        """From every tree that may start a walk."""
        door = self.layout.start()
        for tree in starts:
            self._solved(Context(tree, door, None, True))
        while self._todo:
            tree = self._todo.pop(0)
            source = self._sources[tree][-1]
            self._solved(Context(tree, self._entries[tree], (source[0], source[1]), True))

    def sources(self, tree: str) -> list[tuple[Context, int, State]]:
        """Findings that lead on to a tree, with the state they hand over."""
        return self._sources.get(tree, [])

    def _solved(self, context: Context) -> Context:
        ops = self.ops[context.tree]
        context.before = [None] * len(ops)
        if ops:
            context.before[0] = context.entry
            self._sweep(context, ops)
        self.contexts.append(context)
        self._hand_on(context)
        return context

    def _sweep(self, context: Context, ops: list[Op]) -> None:
        """Down the page, again where a repeat leads back up, until nothing changes."""
        before, effects = context.before, self.effects[context.tree]
        ahead, behind = 1, 0  # nodes to be looked at, as bits: in this pass, in the next
        while ahead:
            index = (ahead & -ahead).bit_length() - 1
            ahead &= ahead - 1
            op, state = ops[index], before[index] or 0
            for to, after in self._away(context, index, op, state) if op.away else effects.onward(op, state):
                known = before[to]
                joined = after if known is None else known | after
                if joined != known:
                    before[to] = joined
                    if to > index:
                        ahead |= 1 << to
                    else:
                        behind |= 1 << to
            if not ahead:
                ahead, behind = behind, 0

    def _away(self, context: Context, index: int, op: Op, state: State) -> list[tuple[int, State]]:
        """As `Effects.onward`, from a step that leads to other trees."""
        return [(edge.to, after) for edge, after in self.ways(context, index, op, state) if edge.to >= 0]

    def ways(self, context: Context, index: int, op: Op, state: State) -> Iterator[tuple[Edge, State]]:
        """As Effects.ways, over called trees too."""
        effects = self.effects[context.tree]
        step = op.node.step
        if isinstance(step, Go):
            yield from effects.ways(op, state)
            yield from self._gone(context, index, op, state & op.met)
        elif isinstance(step, Back):
            after = effects.before(op, state)
            context.back[step.outcome] = context.back.get(step.outcome, 0) | after
        else:
            yield from effects.ways(op, state)

    def _gone(self, context: Context, index: int, op: Op, state: State) -> Iterator[tuple[Edge, State]]:
        step = op.node.step
        assert isinstance(step, Go)
        if step.tree not in self.ops:
            return
        called = self._called(context, index, step, state)
        for edge in op.node.edges:
            if edge.kind == graph.NEXT:
                yield edge, self._from_circuits(state)
            elif edge.kind == graph.OUTCOME and edge.label in called.back:
                yield edge, self._back(step.tree, state, called.back[edge.label])

    def _back(self, callee: str, state: State, back: State) -> State:
        """The state from where a tree was gone into, once it has come back with `back`."""
        touched = self.touched[callee]
        stale = (state & touched.passing) >> GIVEN_OVER_STALE * self.layout.n
        return state & ~touched.bits | self.layout.without_own(back, callee) & (touched.bits | stale)

    def _called(self, context: Context, index: int, step: Go, state: State) -> Context:
        """The called tree, entered with this state."""
        if step.each_circuit:
            entry = self._circuits(state)
        else:
            touched = self.touched[step.tree]
            entry = self.layout.without_own(state, step.tree) & touched.bits | touched.passing
        key = (step.tree, entry, step.each_circuit)
        if key not in self._memo:
            made = Context(step.tree, entry, (context, index), step.each_circuit)
            self._memo[key] = made
            self._solved(made)
        return self._memo[key]

    def _circuits(self, state: State) -> State:
        """A circuit's own start, with what is known of the unit."""
        layout = self.layout
        unit = layout.fields(layout.unit)
        return layout.start() & ~unit | self._from_circuits(state) & unit

    def _from_circuits(self, state: State) -> State:
        """What a walk of other circuits may have left of what is known of the unit."""
        layout = self.layout
        unsteady = layout.stale(layout.given_in(state) & self.unsteady)
        return state | unsteady | layout.unknown(layout.shared) | layout.facts_on(layout.shared)

    def _leading(self, tree: str) -> list[tuple[int, Op]]:
        if tree not in self._leads:
            self._leads[tree] = [(index, op) for index, op in enumerate(self.ops[tree]) if op.leads]
        return self._leads[tree]

    def _hand_on(self, context: Context) -> None:
        """What the findings reached here go on to or offer."""
        for index, op in self._leading(context.tree):
            state = context.before[index]
            if state is None:
                continue
            for tree, after in self.handed(context.tree, op, state):
                self._enter(tree, (context, index, after))

    def handed(self, tree: str, op: Op, state: State) -> Iterator[tuple[str, State]]:
        """The trees a finding leads on to, each with the state handed over."""
        step = op.node.step
        assert isinstance(step, FindingStep)
        effects = self.effects[tree]
        state = effects.before(op, state)
        if step.go_on in self.ops:
            yield step.go_on or "", self.layout.without_own(state)
        if step.offer in self.ops:
            cleared = self.layout.without_own(effects.cleared(state, step.leaving))
            again = 0 if step.still_true else self.layout.given_in(state) & self.fleeting
            yield step.offer or "", cleared | self.layout.again(again)

    def _enter(self, tree: str, source: tuple[Context, int, State]) -> None:
        known = self._entries.get(tree)
        joined = source[2] if known is None else known | source[2]
        if joined == known:
            return
        self._entries[tree] = joined
        self._sources.setdefault(tree, []).append(source)
        if tree not in self._todo:
            self._todo.append(tree)


def starts(trees: Mapping[str, Tree]) -> list[str]:
    """Trees that may start a walk: all but those that another tree goes to and that come back.

    A tree that a finding leads on to may be started by itself as well.
    """
    called = {
        step.tree
        for tree in trees.values()
        for step in every_step(tree.steps)
        if isinstance(step, Go) and step.tree != tree.name and step.tree in trees and trees[step.tree].outcomes
    }
    return [name for name in trees if name not in called] or list(trees)


def unsteady_names(ops: Mapping[str, list[Op]], layout: Layout) -> int:
    """Names of the unit that work on some circuit makes stale."""
    mask = 0
    for one in ops.values():
        for op in one:
            acts = [op.act] if op.act is not None else []
            acts += [asked.act for asked in op.asked if asked.act is not None]
            for act in acts:
                mask |= act.changes
    return mask & layout.unit


def fleeting_names(catalogue: Catalogue, names: Names) -> int:
    """Readings that hold only for the moment: neither remembered nor out of the settings."""
    mask = 0
    for reading in catalogue.readings.values():
        if reading.ask is not None and not reading.remembered and not reading.set_:
            mask |= 1 << names.bit[reading.id]
    return mask
