"""Which decides must be settled: those where a close verdict parts a risky path from one that is not.

Risky is work that the catalogue marks (refrigerant goes in, a circuit is opened) and a cause it marks
(a part is condemned). What lies behind a person's yes (`offer`), or behind a settled decide that
judges the same things again, does not count.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from tui.quantity import Kind
from tui.trade import SUMS
from tui.tree.check import graph
from tui.tree.check.graph import Graph, Node
from tui.tree.check.names import Names, every_step, in_result, in_test
from tui.tree.model import (
    AllOf,
    AnyOf,
    Ask,
    Back,
    Call,
    Catalogue,
    Compare,
    Decide,
    Do,
    FindingStep,
    Go,
    Is,
    Judge,
    Row,
    Table,
    Test,
    Tree,
    WorkOut,
)
from tui.tree.spot import Problem

_WORDS = (Kind.TEXT, Kind.CHOICE, Kind.YES_NO)
Gates = frozenset[tuple[str, str]]  # decides, by tree and name
Masks = dict[str, list[int]]  # by tree and node


def uncertain_names(trees: Mapping[str, Tree], names: Names) -> int:
    """Names that carry an instrument's uncertainty, or a verdict that can be close because of one."""
    mask = 0
    for reading in names.catalogue.readings.values():
        if reading.instrument and reading.kind not in _WORDS:
            mask |= 1 << names.bit[reading.id]
    steps = [
        (1 << names.bit[names.key(tree.name, step.result)], names.mask(tree.name, in_result(step)))
        for tree in trees.values()
        for step in every_step(tree.steps)
        if isinstance(step, Judge) or (isinstance(step, WorkOut) and (step.kind not in _WORDS or _can_doubt(step)))
    ]
    grown = -1
    while grown != mask:
        grown = mask
        for result, needs in steps:
            if needs & mask:
                mask |= result
    return mask


def _can_doubt(step: WorkOut) -> bool:
    """Does a sum give this word that says which others it could be?"""
    made = SUMS.get(step.expression.function) if isinstance(step.expression, Call) else None
    return made is not None and made.doubt is not None


@dataclass(frozen=True, slots=True)
class Link:
    """What a node leads to: nodes of its own tree, the tree it goes into, where a ``back`` comes out."""

    index: int
    decide: str  # its name, empty for any other step
    to: tuple[int, ...]
    into: str
    back_to: tuple[tuple[str, int], ...]


@dataclass(slots=True)
class Risks:
    """Which risky things each node of each tree can still lead to, as masks."""

    trees: Mapping[str, Tree]
    catalogue: Catalogue
    graph: Graph
    names: Names
    uncertain: int
    ids: dict[str, int] = field(default_factory=dict)
    callers: dict[str, list[tuple[str, Node]]] = field(default_factory=dict)
    own: dict[str, list[int]] = field(default_factory=dict)
    links: dict[str, list[Link]] = field(default_factory=dict)  # up the page

    @classmethod
    def of(cls, trees: Mapping[str, Tree], graph_: Graph, names: Names) -> Risks:
        made = cls(trees, names.catalogue, graph_, names, uncertain_names(trees, names))
        for tree, one in graph_.flows.items():
            made.own[tree] = [made._own(node) for node in one.nodes]
            for node in one.nodes:
                if isinstance(node.step, Go) and not node.turns:
                    made.callers.setdefault(node.step.tree, []).append((tree, node))
        for tree, one in graph_.flows.items():
            made.links[tree] = [made._link(tree, index, node) for index, node in enumerate(one.nodes)][::-1]
        return made

    def _bit(self, what: str) -> int:
        return 1 << self.ids.setdefault(what, len(self.ids))

    def _own(self, node: Node) -> int:
        step, mask = node.step, 0
        works: tuple[str | None, ...] = ()
        if isinstance(step, Do):
            works = (step.work,)
        elif isinstance(step, Ask):
            found = (self.catalogue.readings.get(name) for name in step.readings)
            works = tuple(reading.work for reading in found if reading is not None)
        elif isinstance(step, FindingStep):
            cause = self.catalogue.causes.get(step.cause or "")
            mask |= self._bit(f"finding `{step.cause}`") if cause is not None and cause.settle else 0
        for work in works:
            found_work = self.catalogue.works.get(work or "")
            if found_work is not None and found_work.settle:
                mask |= self._bit(f"`{work}`")
        return mask

    def words(self, mask: int) -> str:
        """The risky things of a mask, for a message."""
        return " and ".join(what for what, bit in self.ids.items() if mask >> bit & 1)

    def reach(self, gates: Sequence[Gates]) -> Masks:
        """By tree and node: what it can lead to, not looking past the decides of a set of gates.

        All sets side by side in one mask: each has as many bits as there are risky things, the first the lowest.
        """
        width = len(self.ids)
        every, closed = 0, dict[tuple[str, str], int]()
        for number, one in enumerate(gates):
            every |= 1 << number * width
            for gate in one:
                closed[gate] = closed.get(gate, 0) | (1 << width) - 1 << number * width
        callees_first = self._callees_first()
        down = self._spread(every, closed, callees_first, None)
        return self._spread(every, closed, callees_first[::-1], down)

    def _callees_first(self) -> list[str]:
        """The trees, each after those it leads into: what spreads up from them is then there at once."""
        order: dict[str, None] = {}

        def after_its_own(tree: str) -> None:
            for link in self.links.get(tree, ()):
                if link.into and link.into not in order:
                    after_its_own(link.into)
            if tree in self.links:
                order[tree] = None

        for tree in self.links:
            if tree not in order:
                after_its_own(tree)
        return list(order)

    def _spread(self, every: int, closed: Mapping[tuple[str, str], int], order: list[str], down: Masks | None) -> Masks:
        """Without `down`: what a tree leads to itself. With it: and after it comes back, too."""
        found = {tree: [every * mask for mask in own] for tree, own in self.own.items()}
        changed = True
        while changed:
            changed = False
            for tree in order:
                while self._pass(tree, found, closed, down):
                    changed = True
        return found

    def _pass(self, tree: str, found: Masks, closed: Mapping[tuple[str, str], int], down: Masks | None) -> bool:
        masks, changed = found[tree], False
        into = down if down is not None else found
        for link in self.links[tree]:
            led = 0
            if link.into and (led_to := into.get(link.into)):
                led = led_to[0]
            if down is not None:
                for caller, to in link.back_to:
                    led |= found[caller][to]
            for to in link.to:
                led |= masks[to]
            if link.decide:
                led &= ~closed.get((tree, link.decide), 0)
            if led & ~masks[link.index]:
                masks[link.index] |= led
                changed = True
        return changed

    def _link(self, tree: str, index: int, node: Node) -> Link:
        step = node.step
        into = step.tree if isinstance(step, Go) else step.go_on or "" if isinstance(step, FindingStep) else ""
        decide = node.name if isinstance(step, Decide) else ""
        outcome = step.outcome if isinstance(step, Back) else ""
        back_to = tuple(
            (caller, edge.to)
            for caller, go in (self.callers.get(tree, ()) if outcome else ())
            for edge in go.edges
            if edge.kind == graph.OUTCOME and edge.label == outcome and edge.to >= 0
        )
        return Link(index, decide, tuple(edge.to for edge in node.edges if edge.to >= 0), into, back_to)


def unmarked(trees: Mapping[str, Tree], graph_: Graph, names: Names) -> Iterator[Problem]:
    """Decides that have to be settled and do not say so."""
    risks = Risks.of(trees, graph_, names)
    if not risks.ids:
        return
    settled = _settled(risks)
    doubted: list[tuple[str, Node, Decide, int]] = []  # each with the names that can be close
    sets: dict[Gates, int] = {}
    for tree, one in graph_.flows.items():
        for node in one.nodes:
            if isinstance(node.step, Decide) and not node.step.must_be_settled:
                close = close_names(node.step, tree, risks)
                if close:
                    doubted.append((tree, node, node.step, close))
                    sets.setdefault(_gates(settled, tree, node, close), len(sets))
    reach, width = risks.reach(list(sets)), len(risks.ids)
    for tree, node, step, close in doubted:
        first = sets[_gates(settled, tree, node, close)] * width
        masks = [mask >> first & (1 << width) - 1 for mask in reach[tree]]
        parted = _parted(step, node, masks, tree, risks)
        if parted:
            yield _unmarked(step, risks.words(parted), names.words(close))


def _unmarked(step: Decide, risky: str, close: list[str]) -> Problem:
    which = " and ".join(f"`{name}`" for name in close)
    said = f"`{step.name}` parts a path to {risky} from one without, and {which} can be close to the line."
    return Problem(step.spot, "must-be-settled-missing", said, "Add `must be settled: yes`.")


def close_names(step: Decide, tree: str, risks: Risks) -> int:
    """Names whose closeness can leave this decide open."""
    mask = 0
    if step.table is not None:
        for column in step.table.columns:
            bit = risks.names.find(tree, column)
            mask |= 0 if bit is None else 1 << bit
        return mask & risks.uncertain
    for line in step.lines:
        if line.test is not None:
            mask |= _close_in(line.test, tree, risks)
    return mask


def _close_in(test: Test, tree: str, risks: Risks) -> int:
    if isinstance(test, AllOf | AnyOf):
        mask = 0
        for part in test.tests:
            mask |= _close_in(part, tree, risks)
        return mask
    assert isinstance(test, Compare | Is)
    return risks.names.mask(tree, in_test(test)) & risks.uncertain


def _settled(risks: Risks) -> list[tuple[tuple[str, str], int]]:
    """Decides that are settled, each with the names that can be close there."""
    return [
        ((tree, node.name), close_names(node.step, tree, risks))
        for tree, one in risks.graph.flows.items()
        for node in one.nodes
        if isinstance(node.step, Decide) and node.step.must_be_settled
    ]


def _gates(settled: list[tuple[tuple[str, str], int]], tree: str, node: Node, close: int) -> Gates:
    """Settled decides that judge all of these again, and the one that asks."""
    return frozenset([*(gate for gate, names in settled if not close & ~names), (tree, node.name)])


def _parted(step: Decide, node: Node, masks: list[int], tree: str, risks: Risks) -> int:
    """The risky things that one way leads to and another, a close call away, does not."""
    ways = {e.index: masks[e.to] for e in node.edges if e.kind in (graph.ROW, graph.LINE) and e.to >= 0}
    parted = 0
    if step.table is not None:
        close = [_is_close(column, tree, risks) for column in step.table.columns]
        for (i, a), (j, b) in combinations(enumerate(step.table.rows), 2):
            if ways.get(i, 0) != ways.get(j, 0) and _neighbours(step.table, a, b, close):
                parted |= ways.get(i, 0) ^ ways.get(j, 0)
        return parted
    for i, line in enumerate(step.lines):
        if line.test is not None and _close_in(line.test, tree, risks):
            for j in range(i + 1, len(step.lines)):
                parted |= ways.get(i, 0) ^ ways.get(j, 0)
    return parted


def _is_close(column: str, tree: str, risks: Risks) -> bool:
    bit = risks.names.find(tree, column)
    return bit is not None and bool(risks.uncertain >> bit & 1)


def _neighbours(table: Table, a: Row, b: Row, close: list[bool]) -> bool:
    """Whether a close verdict alone can turn row a into row b: all other columns can be the same."""
    for one, other, can_be_close in zip(a.cells, b.cells, close, strict=True):
        if not can_be_close and one is not None and other is not None and not one & other:
            return False
    return True

