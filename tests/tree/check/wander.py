"""Random walks over a library with plain sets for a memory: what the proofs prove, looked at from below.

Nothing of the proofs' masks is used; only the graph (where a step can lead) and `implies` are shared. Words are
drawn at random each time, so a walk may be one that no real unit gives; the proofs hold for those too.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from random import Random

from tui.tree.check.graph import Edge, Graph
from tui.tree.check.layout import domain_of
from tui.tree.check.names import Use, every_step, in_result, in_test, step_uses
from tui.tree.check.stated import implies, row_tests
from tui.tree.check.unknown import may_refuse
from tui.tree.model import (
    UNKNOWN,
    AllOf,
    AnyOf,
    Ask,
    Back,
    Binary,
    Call,
    Catalogue,
    CautionStep,
    Compare,
    Decide,
    Do,
    Expression,
    FindingStep,
    Go,
    Is,
    Judge,
    Name,
    Negative,
    OfSeries,
    Repeat,
    Row,
    Step,
    Test,
    Wait,
    Work,
    WorkOut,
)
from tui.walk.deciding import Decision, by_lines, by_table
from tui.walk.evaluate import NO, OPEN, YES, Truth

MOST_STEPS, DRAWS, RARELY = 400, 6, 0.01
SKIPPED = 0.25  # what is only done at times; what is skipped is unknown, and too much unknown leads nowhere
Break = tuple[str, str, str]  # code, tree, step
Place = tuple[str, int]  # tree, node


@dataclass
class Common:
    """What walks over the same trees have in common, wherever they begin.

    ahead: what lies ahead of a place, by the calls it stands in. pull: 1 where none has been, then 1/2, 1/4 ...
    seen: the steps they came to.
    """

    ahead: dict[tuple[Place, tuple[Place, ...]], frozenset[Place]] = field(default_factory=dict)
    pull: defaultdict[Place, float] = field(default_factory=lambda: defaultdict(lambda: 1.0))
    seen: set[tuple[str, str]] = field(default_factory=set)


@dataclass
class Memory:
    """One circuit and its unit, as a person standing there would know them."""

    unknown: set[str] = field(default_factory=set)
    given: set[str] = field(default_factory=set)
    stale: set[str] = field(default_factory=set)
    again: set[str] = field(default_factory=set)
    disturbed: set[str] = field(default_factory=set)
    came_from: dict[str, set[str]] = field(default_factory=dict)
    acknowledged: set[str] = field(default_factory=set)
    done: set[str] = field(default_factory=set)
    left: set[str] = field(default_factory=set)
    running: bool = True
    stated: list[tuple[Test, bool, set[str]]] = field(default_factory=list)


@dataclass
class Wanderer:
    """Walks one library; `breaks` are the rules it saw broken."""

    graph: Graph
    catalogue: Catalogue
    random: Random
    memory: Memory = field(default_factory=Memory)
    breaks: set[Break] = field(default_factory=set)
    shared: set[str] | None = None
    own: dict[str, set[str]] = field(default_factory=dict)
    yes: float = 0.5  # how likely a test holds in the draw being made
    common: Common = field(default_factory=Common)
    tree: str = ""
    frames: list[tuple[str, int]] = field(default_factory=list)

    def walk(self, tree: str) -> None:
        """From a tree's first step to an end, or until it has gone on long enough."""
        self.memory = Memory()
        shared, stay = self._shared(), self._staying()
        self.memory.given |= {r.id for r in self.catalogue.readings.values() if r.set_} | shared | stay
        self.memory.unknown |= shared  # until some circuit gives them
        self.memory.unknown |= {name for name in sorted(stay) if self.random.random() < 0.5}  # or known from before
        self.frames.clear()  # a walk that went on too long leaves some
        self._enter(tree)
        at = 0
        for _ in range(MOST_STEPS):
            following = self._step(at)
            if following is None:
                return
            at = following

    def _staying(self) -> set[str]:
        """Results that stay: somebody who goes on after a finding has them, or not."""
        return {reading.id for reading in self.catalogue.readings.values() if reading.stays and reading.ask is None}

    def _shared(self) -> set[str]:
        """Results of the unit that trees of a circuit give."""
        if self.shared is None:
            trees = (tree for tree in self.graph.trees.values() if tree.of == "circuit")
            made = {s.result for tree in trees for s in every_step(tree.steps) if isinstance(s, WorkOut | Judge)}
            known = (self.catalogue.readings.get(name) for name in made)
            self.shared = {reading.id for reading in known if reading is not None and reading.of == "unit"}
        return self.shared

    def _enter(self, tree: str) -> None:
        self.tree = tree
        own = {name for name in self.memory.given if name.startswith(f"{tree}/")}
        for names in (self.memory.given, self.memory.stale, self.memory.unknown):
            names -= own

    def _break(self, code: str, step: Step) -> None:
        self.breaks.add((code, self.tree, step.name))

    # ---- names

    def _key(self, name: str) -> str | None:
        if name in self.catalogue.readings:
            return name
        return None if name in self.catalogue.figures else f"{self.tree}/{name}"

    def _spread(self, use: Use) -> list[str]:
        figure = self.catalogue.figures.get(use.name)
        if figure is None:
            key = self._key(use.name)
            return [] if key is None else [key]
        return list(figure.table.columns) if figure.table is not None else []

    def _use(self, step: Step, use: Use, known_names: set[str]) -> None:
        for name in self._spread(use):
            if "/" in name and name not in known_names:
                continue  # an answer word
            if name not in self.memory.given:
                self._break("not-asked", step)
                self.memory.given.add(name)
            elif name in self.memory.stale and not use.first:
                self._break("stale", step)
                self.memory.stale.discard(name)

    def _hanging(self, name: str) -> set[str]:
        found, todo = {name}, [name]
        while todo:
            one = todo.pop()
            new = {result for result, sources in self.memory.came_from.items() if one in sources} - found
            found |= new
            todo.extend(new)
        return found

    def _forget(self, names: set[str]) -> None:
        self.memory.stated = [said for said in self.memory.stated if not said[2] & names]

    def _make_stale(self, name: str) -> None:
        hanging = self._hanging(name)
        self.memory.stale |= hanging & self.memory.given
        self._forget(hanging)

    # ---- one step

    def _step(self, at: int) -> int | None:
        node = self.graph.flows[self.tree].nodes[at]
        step = node.step
        self.common.seen.add((self.tree, step.name))
        self.common.pull[self.tree, at] /= 2
        names = self._own_names()
        if node.turns:
            assert isinstance(step, Repeat)
            for line in step.stops:
                for use in in_test(line.test):
                    self._use(step, use, names)
            return self._round(step, node.edges, again=True)
        for use in step_uses(step, self.catalogue):
            self._use(step, use, names)
        if step.only_when is not None:
            if self.random.random() < SKIPPED:
                return self._skip(step, node.edges)
            self._say(step.only_when, True)
        return self._act(step, at, node.edges)

    def _own_names(self) -> set[str]:
        if self.tree in self.own:
            return self.own[self.tree]
        tree = self.graph.trees[self.tree]
        names = self.own.setdefault(self.tree, set())
        for step in every_step(tree.steps):
            if isinstance(step, WorkOut | Judge):
                names.add(f"{self.tree}/{step.result}")
            elif isinstance(step, Repeat) and step.places is not None:
                names |= {f"{self.tree}/{name}" for name in ("place", *self.catalogue.places.kinds)}
        return names

    def _skip(self, step: Step, edges: tuple[Edge, ...]) -> int:
        if isinstance(step, Ask):
            fresh = self.memory.given - self.memory.stale - self.memory.again
            results = [reading for reading in step.readings if reading not in fresh]
        else:
            results = [self._key(step.result) or ""] if isinstance(step, WorkOut | Judge) else []
        for name in results:
            self._had(name, unknown=True)
        return _to(edges, "skip")

    def _act(self, step: Step, at: int, edges: tuple[Edge, ...]) -> int | None:
        if isinstance(step, Ask):
            return self._ask(step, edges)
        if isinstance(step, CautionStep):
            self.memory.acknowledged |= set(step.cautions)
        elif isinstance(step, Do):
            return self._do(step, edges)
        elif isinstance(step, Wait):
            if step.couldnt and self.random.random() < RARELY:
                return _to(edges, "couldn't")
            self.memory.disturbed.clear()
            if step.cut_short and self.random.random() < RARELY:
                return _to(edges, "cut short")
        elif isinstance(step, WorkOut | Judge):
            self._result(step)
        elif isinstance(step, Decide):
            return self._decide(step, edges)
        elif isinstance(step, Repeat):
            return self._round(step, edges, again=False)
        elif isinstance(step, Go):
            self.frames.append((self.tree, at))
            self._enter(step.tree)
            return 0
        elif isinstance(step, Back):
            return self._back(step)
        elif isinstance(step, FindingStep):
            return self._finding(step)
        return _to(edges, "next")

    # ---- asking and working

    def _wanted(self, name: str) -> bool:
        memory = self.memory
        return name not in memory.given or name in memory.stale or name in memory.again or name in memory.unknown

    def _had(self, name: str, *, unknown: bool) -> None:
        memory = self.memory
        memory.given.add(name)
        memory.stale.discard(name)
        memory.again.discard(name)
        memory.disturbed.discard(name)
        (memory.unknown.add if unknown else memory.unknown.discard)(name)

    def _ask(self, step: Ask, edges: tuple[Edge, ...]) -> int:
        missed = False
        for name in step.readings:
            if not self._wanted(name):
                continue
            reading = self.catalogue.readings[name]
            if reading.work is not None:
                self._demand(step, self.catalogue.works[reading.work])
                self._work(self.catalogue.works[reading.work])
            if reading.while_ is not None and (reading.while_ == "running") != self.memory.running:
                self._break("wrong-compressor", step)
            if reading.settles and name in self.memory.disturbed:
                self._break("not-settled", step)
            if name in self.memory.again:
                for one in self._hanging(name) - {name}:
                    self.memory.stale.add(one)
            self._forget(self._hanging(name))
            missing = not reading.must and self.random.random() < RARELY
            self._had(name, unknown=missing)
            missed |= missing
        return _to(edges, "couldn't" if missed and step.couldnt else "next")

    def _do(self, step: Do, edges: tuple[Edge, ...]) -> int:
        work = self.catalogue.works[step.work]
        if step.once and step.work in self.memory.done:
            return _to(edges, "next")
        self._demand(step, work)
        if step.couldnt and self.random.random() < RARELY:
            return _to(edges, "couldn't")
        self._work(work)
        return _to(edges, "next")

    def _demand(self, step: Step, work: Work) -> None:
        memory = self.memory
        if not set(work.after_cautions) <= memory.acknowledged:
            self._break("caution-missing", step)
        if not all(memory.done & set(group) for group in work.after_work):
            self._break("work-missing", step)
        if any(name not in memory.given or name in memory.stale | memory.unknown for name in work.needs):
            self._break("need-missing", step)
        if not all(self._is_stated(part) for test in work.only_if for part in _parts(test)):
            self._break("only-if-missing", step)

    def _is_stated(self, fact: Test) -> bool:
        domain = domain_of(self.catalogue)
        return any(implies(test, holds, fact, domain) for test, holds, _ in self.memory.stated)

    def _work(self, work: Work) -> None:
        memory = self.memory
        for name in work.changes:
            self._make_stale(name)
            memory.disturbed.add(name)
        memory.done.add(work.id)
        memory.done -= set(work.undoes)
        memory.left = memory.left - set(work.clears) | set(work.leaves)
        if work.compressor is not None:
            memory.running = work.compressor == "running"

    def _result(self, step: WorkOut | Judge) -> None:
        name = self._key(step.result) or ""
        sources = {n for use in in_result(step) if not use.first for n in self._spread(use)}
        self._forget({name})
        parts = [step.expression] if isinstance(step, WorkOut) else [step.compare, step.target, step.band]
        parts += [] if isinstance(step, WorkOut) else [step.on_from, step.on_to]
        self._had(name, unknown=any(self._is_unknown(part) for part in parts))
        self.memory.came_from[name] = sources - {name}

    def _is_unknown(self, e: Expression | None) -> bool:
        if isinstance(e, Name | OfSeries):
            return any(name in self.memory.unknown for name in self._spread(Use(e.name, e.spot)))
        if isinstance(e, Binary):
            return self._is_unknown(e.left) or self._is_unknown(e.right)
        if isinstance(e, Negative):
            return self._is_unknown(e.operand)
        if not isinstance(e, Call):
            return False
        parts = [self._is_unknown(argument) for argument in e.arguments]
        if e.function == "first-known":
            return all(parts)
        return any(parts) or (may_refuse(e.function) and self.random.random() < RARELY)

    # ---- ways

    def _decide(self, step: Decide, edges: tuple[Edge, ...]) -> int:
        if step.must_be_settled and self.random.random() < 0.03:
            return _to(edges, "unsettled")
        draws = [self._draw(step) for _ in range(DRAWS)]
        pulls = self._pulls({self._target(edges, found) for found, _ in draws})
        found, said = max(draws, key=lambda draw: pulls[self._target(edges, draw[0])])
        for test, holds in said if found.to is not None else ():
            self._say(test, holds)
        return self._target(edges, found)

    def _target(self, edges: tuple[Edge, ...], found: Decision) -> int:
        return _to(edges, "unsettled") if found.to is None else _labelled(edges, found.rows[0])

    def _pulls(self, targets: set[int]) -> dict[int, float]:
        """The higher, the more little-visited steps lie this way and not every way: walks are drawn to them."""
        ahead = {at: self._all_ahead((self.tree, at), tuple(self.frames)) for at in targets}
        common = frozenset.intersection(*ahead.values())
        return {at: sum(map(self.common.pull.__getitem__, found - common)) for at, found in ahead.items()}

    def _all_ahead(self, place: Place, frames: tuple[Place, ...]) -> frozenset[Place]:
        """What lies ahead of a place in its tree, in those it leads to, and in those that called it."""
        if (place, frames) not in self.common.ahead:
            found = self._lies_ahead(place)
            if frames:
                caller, go = frames[-1]
                steps = (self.graph.flows[tree].nodes[at].step for tree, at in found if tree == place[0])
                outcomes = {step.outcome for step in steps if isinstance(step, Back)}
                for edge in self.graph.flows[caller].nodes[go].edges:
                    if edge.label in outcomes:
                        found |= self._all_ahead((caller, edge.to), frames[:-1])
            self.common.ahead[place, frames] = found
        return self.common.ahead[place, frames]

    def _lies_ahead(self, place: Place) -> frozenset[Place]:
        found, todo = {place}, [place]
        while todo:
            tree, at = todo.pop()
            node = self.graph.flows[tree].nodes[at]
            led = [(tree, edge.to) for edge in node.edges if edge.to >= 0]
            led += [(node.step.tree, 0)] if isinstance(node.step, Go) else []
            led += [(node.step.go_on, 0)] if isinstance(node.step, FindingStep) and node.step.go_on else []
            todo.extend(one for one in led if one not in found)
            found.update(led)
        return frozenset(found)

    def _draw(self, step: Decide) -> tuple[Decision, list[tuple[Test, bool]]]:
        """One decision over words drawn at random, with what it states."""
        self.yes = self.random.choice((0.1, 0.5, 0.9))
        if step.table is not None:
            found = by_table(step.table, lambda column: (self._word(step, column), ()))
            taken: list[Row] = [row for row in step.table.rows if row.source in found.rows]
            return found, [(test, True) for row in taken if len(taken) == 1 for test in row_tests(step.table, row)]
        truths: dict[int, Truth] = {}
        found = by_lines(step.lines, lambda test: truths.setdefault(id(test), self._truth(test)))
        said: list[tuple[Test, bool]] = []
        for line in step.lines:
            if line.test is None or truths.get(id(line.test), OPEN) is OPEN:
                break
            said.append((line.test, truths[id(line.test)] is YES))
            if truths[id(line.test)] is YES:
                break
        return found, said

    def _word(self, step: Decide, column: str) -> str:
        if (self._key(column) or "") in self.memory.unknown:
            return UNKNOWN
        assert step.table is not None
        return self.random.choice(step.table.domains[step.table.columns.index(column)])

    def _truth(self, test: Test) -> Truth:
        if isinstance(test, AllOf | AnyOf):
            parts = [self._truth(part) for part in test.tests]
            ends = NO if isinstance(test, AllOf) else YES
            if ends in parts:
                return ends
            return OPEN if OPEN in parts else (YES if ends is NO else NO)
        unknown = any(self._is_unknown(e) for e in _sides(test))
        if unknown and isinstance(test, Is) and UNKNOWN in test.words:
            return NO if test.negated else YES
        if unknown:
            return OPEN
        if isinstance(test, Is) and set(test.words) == {UNKNOWN}:
            return YES if test.negated else NO
        return YES if self.random.random() < self.yes else NO

    def _say(self, test: Test, holds: bool) -> None:
        if (isinstance(test, AllOf) and holds) or (isinstance(test, AnyOf) and not holds):
            for part in test.tests:  # each outlives a change of what only another part goes by
                self._say(part, holds)
            return
        names = {name for use in in_test(test) for name in self._spread(use)}
        self.memory.stated.append((test, holds, names))

    def _round(self, step: Repeat, edges: tuple[Edge, ...], *, again: bool) -> int:
        for edge in edges:
            if edge.kind == "stop" and self._may_stop(step, edge) and self.random.random() < 0.2:
                return edge.to
        if again and self.random.random() < 0.3:
            return _to(edges, "out")
        for inner in every_step(step.steps):
            if isinstance(inner, Ask):
                self.memory.again |= set(inner.readings) & self.memory.given
        if step.places is not None:
            for name in ("place", *self.catalogue.places.kinds):
                self._had(f"{self.tree}/{name}", unknown=False)
        return _to(edges, "round")

    def _may_stop(self, step: Repeat, edge: Edge) -> bool:
        uses = in_test(step.stops[edge.index].test)
        return all(n in self.memory.given and n not in self.memory.unknown for u in uses for n in self._spread(u))

    def _back(self, step: Back) -> int | None:
        if not self.frames:
            if self.memory.left:
                self._break("left-on", step)
            return None
        tree, at = self.frames.pop()
        self.tree = tree
        return _labelled(self.graph.flows[tree].nodes[at].edges, step.outcome)

    def _finding(self, step: FindingStep) -> int | None:
        self.frames.clear()
        if step.go_on:
            self._enter(step.go_on)
            return 0
        for thing in sorted(self.memory.left - set(step.leaving)):
            work = self.catalogue.works[self.catalogue.left_on[thing].work]
            self._demand(step, work)
            self._work(work)
        if step.offer and self.random.random() < 0.5:
            self._enter(step.offer)
            return 0
        return None


def _to(edges: tuple[Edge, ...], kind: str) -> int:
    return next(edge.to for edge in edges if edge.kind == kind)


def _labelled(edges: tuple[Edge, ...], label: str) -> int:
    return next(edge.to for edge in edges if edge.label == label)


def _parts(test: Test) -> tuple[Test, ...]:
    return test.tests if isinstance(test, AllOf) else (test,)


def _sides(test: Compare | Is) -> tuple[Expression, ...]:
    return (test.left, test.right) if isinstance(test, Compare) else (test.subject,)
