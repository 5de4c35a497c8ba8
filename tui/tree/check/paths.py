"""The way to a mistake, as the steps a person would walk."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass

from tui.tree.check import graph
from tui.tree.check.compiled import Op, State
from tui.tree.check.solve import Context, Solver

MOST_SHOWN = 9
LONGEST_LABEL = 40

Place = tuple[int, bool]  # a node, and whether the mistake is there yet
Entry = tuple[int, int]  # the id of a context, and a node in it


@dataclass(frozen=True, slots=True)
class Stop:
    """One step of a way, with the words of the edge that was taken from it."""

    tree: str
    step: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """The steps to a place. `since` is the step after which the wrong thing was so ("" = from the start)."""

    stops: tuple[Stop, ...]
    since: str = ""

    def shown(self) -> str:
        """``tree: step > step (label) > step``; long ones lose plain steps, then their middle."""
        stops = list(self.stops)
        if len(stops) > MOST_SHOWN:
            last = len(stops) - 1
            stops = [s for i, s in enumerate(stops) if i in (0, last) or s.label or s.step == self.since]
        if len(stops) > MOST_SHOWN:
            stops = [*stops[:4], Stop("", "…"), *stops[-4:]]
        return _joined(stops)


def _joined(stops: list[Stop]) -> str:
    parts, tree = [], ""
    for stop in stops:
        name = f"{stop.tree}: {stop.step}" if stop.tree and stop.tree != tree else stop.step
        tree = stop.tree or tree
        label = stop.label if len(stop.label) <= LONGEST_LABEL else stop.label[: LONGEST_LABEL - 1] + "…"
        parts.append(f"{name} ({label})" if label else name)
    return " > ".join(parts)


def way_to(solver: Solver, context: Context, index: int, bits: State, seen: frozenset[Entry] = frozenset()) -> Way:
    """A short way to a node on which one of `bits` is set when it gets there.

    seen: the places already on the way, for trees that are entered in a ring over ``offer``.
    """
    stops, from_start, since = _inside(solver, context, index, bits)
    if from_start:
        before = _before(solver, context, bits, seen | {(id(context), index)})
        if before is not None:
            return Way((*before.stops, *stops), before.since)
    return Way(tuple(stops), since)


def _before(solver: Solver, context: Context, bits: State, seen: frozenset[Entry]) -> Way | None:
    """The way to where this tree was entered, for what was wrong from its start."""
    if context.caller is None:
        return None
    for source, index, state in solver.sources(context.tree) if context.ends else ():
        if state & bits and (id(source), index) not in seen:
            return way_to(solver, source, index, bits, seen)
    caller, index = context.caller
    if not (caller.before[index] or 0) & bits or (id(caller), index) in seen:
        return None
    return way_to(solver, caller, index, bits, seen)


def _inside(solver: Solver, context: Context, target: int, bits: State) -> tuple[list[Stop], bool, str]:
    """Breadth first over (node, is it wrong yet), each with the state of its own way."""
    ops = solver.ops[context.tree]
    first = (0, bool(context.entry & bits))
    came: dict[Place, tuple[Place, str] | None] = {first: None}
    todo = deque([(first, context.entry)])
    while todo:
        key, state = todo.popleft()
        if key[0] == target and (key[1] or not bits):
            return _trace(ops, came, key, context.tree)
        for edge, after in solver.ways(context, key[0], ops[key[0]], state):
            following = (edge.to, bool(after & bits))
            if edge.to >= 0 and following not in came:
                came[following] = (key, "" if edge.kind in (graph.NEXT, graph.ROUND) else edge.label)
                todo.append((following, after))
    return [Stop(context.tree, ops[target].node.name)], bool(context.entry & bits), ""


def _trace(
    ops: list[Op], came: Mapping[Place, tuple[Place, str] | None], key: Place, tree: str
) -> tuple[list[Stop], bool, str]:
    stops: list[Stop] = []
    label, since = "", ""
    at: Place | None = key
    while at is not None:
        node = ops[at[0]].node
        if not node.turns or label:
            stops.append(Stop(tree, node.name, label))
        before = came[at]
        if before is None:
            break
        if at[1] and not before[0][1] and not since:
            since = ops[before[0][0]].node.name
        at, label = before
    assert at is not None
    stops.reverse()
    return stops, at[1] and not since, since
