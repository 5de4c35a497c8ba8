"""Trees as flat graphs: every step a node, every way on an edge with its words.

The proofs run over these graphs; so does whoever wants to know where a step can lead.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.model import Ask, Back, Decide, Do, FindingStep, Go, Repeat, Step, Tree, Wait

CARRY_ON = "carry on"
GO_ROUND = "go round"
OFF_THE_END = -1  # where a list that simply stops leads
NOWHERE = -2  # a destination that no step has (the reader says so)

NEXT = "next"
SKIP = "skip"
COULDNT = "couldn't"
CUT_SHORT = "cut short"
ROW = "row"
LINE = "line"
UNSETTLED = "unsettled"
OUTCOME = "outcome"
ROUND = "round"
STOP = "stop"
OUT = "out"

Finder = Callable[[str], int]


@dataclass(frozen=True, slots=True)
class Edge:
    """One way on from a step.

    `kind` is one of the words above; `label` how the tree writes it; `index` which row, line or
    stop it is (-1 for none).
    """

    to: int
    kind: str
    label: str = ""
    index: int = -1


@dataclass(slots=True)
class Node:
    """A step, or (`turns`) the turn of a repeat: what happens between two of its rounds."""

    name: str
    step: Step
    turns: bool = False
    inside: int = -1  # the node of the repeat it stands in
    edges: tuple[Edge, ...] = ()


@dataclass(slots=True)
class Flow:
    """One tree's graph. Node 0 is the first step; `at` finds a step's node, `turn` a repeat's turn."""

    tree: Tree
    nodes: list[Node] = field(default_factory=list)
    at: dict[str, int] = field(default_factory=dict)
    turn: dict[int, int] = field(default_factory=dict)

    def reachable(self, start: int = 0) -> frozenset[int]:
        """Every node that some way from `start` leads to, itself among them."""
        seen: set[int] = set()
        todo = [start] if self.nodes else []
        while todo:
            index = todo.pop()
            if index < 0 or index in seen:
                continue
            seen.add(index)
            todo.extend(edge.to for edge in self.nodes[index].edges)
        return frozenset(seen)


def flow(tree: Tree, outcomes_of: Mapping[str, tuple[str, ...]]) -> Flow:
    """The graph of a tree. `outcomes_of` says how each tree can come back."""
    made = Flow(tree)
    below: dict[int, int] = {}
    _place(made, tree.steps, -1, OFF_THE_END, below)
    for index, node in enumerate(made.nodes):
        node.edges = tuple(_ways(made, index, node, below[index], outcomes_of))
    return made


def _place(made: Flow, steps: tuple[Step, ...], inside: int, after: int, below: dict[int, int]) -> None:
    """Give every step a node, in file order, and say which node stands below it."""
    previous = -1
    for step in steps:
        index = len(made.nodes)
        made.nodes.append(Node(step.name, step, inside=inside))
        made.at.setdefault(step.name, index)
        if previous >= 0:
            below[previous] = index
        below[index] = after
        previous = index
        if isinstance(step, Repeat):
            turn = len(made.nodes)
            made.nodes.append(Node(step.name, step, turns=True, inside=inside))
            made.turn[index] = turn
            _place(made, step.steps, index, turn, below)
            below[turn] = after
    for turn_of, turn in made.turn.items():
        below[turn] = below[turn_of]


def _ways(
    made: Flow, index: int, node: Node, below: int, outcomes_of: Mapping[str, tuple[str, ...]]
) -> Iterator[Edge]:
    step = node.step

    def to(destination: str) -> int:
        if destination == CARRY_ON:
            return below
        if destination == GO_ROUND:
            return made.turn.get(node.inside, NOWHERE)
        return made.at.get(destination, NOWHERE)

    if step.only_when is not None and not node.turns:
        yield Edge(below, SKIP, "not needed")
    if isinstance(step, Decide):
        yield from _decided(made.tree, step, to)
    elif isinstance(step, Repeat):
        yield from _rounds(made, index, node, step, to)
    elif isinstance(step, Go):
        yield from _gone(step, to, outcomes_of)
    elif not isinstance(step, Back | FindingStep):
        yield Edge(to(step.then or CARRY_ON), NEXT)
        if isinstance(step, Ask | Do | Wait) and step.couldnt:
            yield Edge(to(step.couldnt), COULDNT, "couldn't")
        if isinstance(step, Wait) and step.cut_short:
            yield Edge(to(step.cut_short), CUT_SHORT, CUT_SHORT)


def _decided(tree: Tree, step: Decide, to: Finder) -> Iterator[Edge]:
    if step.table is not None:
        for index, row in enumerate(step.table.rows):
            yield Edge(to(row.to), ROW, row.source, index)
    for index, line in enumerate(step.lines):
        yield Edge(to(line.to), LINE, line.source, index)
    unsettled = step.unsettled or tree.unsettled
    if unsettled:
        yield Edge(to(unsettled), UNSETTLED, "unsettled")


def _rounds(made: Flow, index: int, node: Node, step: Repeat, to: Finder) -> Iterator[Edge]:
    """From a repeat, or from the turn after a round: a stop, the next round, or out.

    Stops are looked at before every round, the first too.
    """
    for number, line in enumerate(step.stops):
        yield Edge(to(line.to), STOP, line.source, number)
    first = (index if node.turns else made.turn[index]) + 1
    if step.steps:
        yield Edge(first, ROUND, "next round" if node.turns else "")
    if node.turns and step.out:
        yield Edge(to(step.out), OUT, "afterwards" if step.places else "rounds run out")


def _gone(step: Go, to: Finder, outcomes_of: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    if step.each_circuit:
        yield Edge(to(step.then or CARRY_ON), NEXT)
        return
    possible = outcomes_of.get(step.tree, ())
    for outcome, destination in step.comes_back.items():
        if outcome in possible:
            yield Edge(to(destination), OUTCOME, outcome)


class Graph:
    """All trees of a library as graphs."""

    def __init__(self, trees: Mapping[str, Tree]) -> None:
        self.trees = trees
        outcomes = {name: tree.outcomes for name, tree in trees.items()}
        self.flows = {name: flow(tree, outcomes) for name, tree in trees.items()}

    def successors(self, tree: str, step: str) -> tuple[Edge, ...]:
        """The ways on from a step, in the order they are written."""
        found = self.flows[tree]
        return found.nodes[found.at[step]].edges
