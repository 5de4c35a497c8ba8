"""Proofs over the graphs alone: every step reached, every path ends, no ring, outcomes, left things."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tui.tree.check import graph
from tui.tree.check.graph import Flow, Graph
from tui.tree.check.names import Use, every_step, step_uses, written
from tui.tree.check.stated import Domain, implies
from tui.tree.model import (
    Ask,
    Catalogue,
    Decide,
    Expression,
    FindingStep,
    Go,
    Is,
    Judge,
    Line,
    Name,
    OfSeries,
    Step,
    Test,
    Tree,
    Work,
    WorkOut,
)
from tui.tree.printing import print_test
from tui.tree.spot import Problem, Spot


def shape(
    trees: Mapping[str, Tree], catalogue: Catalogue, graph_: Graph, domain: Domain
) -> Iterator[Problem]:
    """Every problem that can be seen without following what is known."""
    for one in graph_.flows.values():
        yield from _outcomes(trees, one)
        yield from _unreachable(trees, one)
        yield from _dead_ends(one)
        yield from _circuits(trees, one)
        yield from _circuit_names(catalogue, one)
        local = local_domain(one.tree, domain)
        for node in one.nodes:
            if isinstance(node.step, Decide):
                yield from _passed_over(node.step.lines, local)
    yield from rings(trees)
    yield from _left_on(catalogue)


# ---- ends


def _dead_ends(one: Flow) -> Iterator[Problem]:
    for index in sorted(one.reachable()):
        node = one.nodes[index]
        if not any(edge.to == graph.OFF_THE_END for edge in node.edges) or _unit_ends(one, node.step):
            continue
        said = f"The tree falls off its end after `{node.name}`."
        cure = "End every path in a `finding` or a `back`, or send it to a step below with `then:`."
        yield Problem(node.step.spot, "dead-end", said, cure)


def _unit_ends(one: Flow, step: Step) -> bool:
    """A unit's walk is over once all its circuits are."""
    return one.tree.of == "unit" and isinstance(step, Go) and step.each_circuit


def _unreachable(trees: Mapping[str, Tree], one: Flow) -> Iterator[Problem]:
    reached = set(one.reachable())
    for node in one.nodes:  # what an unknown outcome leads to is told there
        if isinstance(node.step, Go):
            for destination in node.step.comes_back.values():
                if destination in one.at:
                    reached |= one.reachable(one.at[destination])
    dead = [i for i, node in enumerate(one.nodes) if i not in reached and not node.turns]
    led_to = {edge.to for i in dead for edge in one.nodes[i].edges}
    for index in dead:
        if index not in led_to or index == dead[0]:
            node = one.nodes[index]
            said = f"No path leads to `{node.name}`{_because(trees, one, index)}."
            yield Problem(node.step.spot, "unreachable", said, "Send a row or a line to it, or take it out.")


def _because(trees: Mapping[str, Tree], one: Flow, index: int) -> str:
    above = one.nodes[index - 1].step if index else None
    if isinstance(above, Go) and above.tree in trees and not trees[above.tree].outcomes:
        return f": `{above.tree}` above it never comes back"
    return ""


def _passed_over(lines: tuple[Line, ...], domain: Domain) -> Iterator[Problem]:
    """Lines that can never hold, because one above holds whenever they would."""
    above: list[Test] = []
    words: dict[str, Is] = {}
    for line in lines:
        if line.test is None:
            continue
        for earlier in (*above, *words.values()):
            if implies(line.test, True, earlier, domain):
                said = f"This line can never be taken: `{print_test(earlier)}` above it always holds first."
                yield Problem(line.spot, "unreachable", said, "Move it up, or take it out.")
                break
        above.append(line.test)
        if isinstance(line.test, Is) and not line.test.negated:
            key = written(line.test.subject)
            known = words[key].words if key in words else ()
            words[key] = Is(line.test.subject, (*known, *line.test.words), False, line.spot)


def local_domain(tree: Tree, domain: Domain) -> Domain:
    """As `domain`, for the names a tree gives itself too."""
    own: dict[str, frozenset[str]] = {}
    for step in every_step(tree.steps):
        if isinstance(step, Judge):
            own[step.result] = frozenset(step.sides)
        elif isinstance(step, WorkOut) and step.answers:
            own[step.result] = frozenset(step.answers)

    def local(e: Expression) -> frozenset[str] | None:
        found = domain(e)
        return own.get(e.name) if found is None and isinstance(e, Name | OfSeries) else found

    return local


# ---- other trees


def _outcomes(trees: Mapping[str, Tree], one: Flow) -> Iterator[Problem]:
    for node in one.nodes:
        step = node.step
        if not isinstance(step, Go) or step.tree not in trees:
            continue
        possible = () if step.each_circuit else trees[step.tree].outcomes
        for outcome in step.comes_back:
            if outcome not in possible:
                yield _unknown_outcome(step, outcome, possible)
        for outcome in possible:
            if outcome not in step.comes_back:
                said = f"`{step.tree}` can come back with `{outcome}`, and nothing says where that leads."
                cure = f"Add `{outcome}: STEP` under `comes back:`."
                yield Problem(step.spot, "outcome-missing", said, cure)


def _unknown_outcome(step: Go, outcome: str, possible: tuple[str, ...]) -> Problem:
    if step.each_circuit:
        said = "Circuits are walked each to its own end; they don't come back one by one."
        return Problem(step.spot, "outcome-unknown", said, "Take `comes back:` out.")
    if not possible:
        said = f"`{step.tree}` has no `back`, so it never comes back with `{outcome}`."
        return Problem(step.spot, "outcome-unknown", said, "Take `comes back:` out.")
    said = f"`{step.tree}` never comes back with `{outcome}`."
    return Problem(step.spot, "outcome-unknown", said, f"It comes back with: {', '.join(possible)}.")


def _circuits(trees: Mapping[str, Tree], one: Flow) -> Iterator[Problem]:
    """A unit's tree goes to a circuit's tree for each circuit; a circuit's never to a unit's."""
    for node in one.nodes:
        for _, name, each in _leads(node.step):
            target = trees.get(name)
            if target is None or node.turns:
                continue
            said = cure = ""
            if one.tree.of == "unit" and target.of == "circuit" and not each:
                said = f"`{name}` is a tree of one circuit, and `{one.tree.name}` is of the unit."
                cure = "Go to it with `for each: circuit`."
            elif one.tree.of == "circuit" and target.of == "unit":
                said = f"`{name}` is a tree of the unit, and `{one.tree.name}` is of one circuit."
                cure = "Lead to a tree of one circuit."
            elif each and (one.tree.of == "circuit" or target.of == "unit"):
                said = "`for each: circuit` leads from a tree of the unit to a tree of one circuit."
                cure = "Take `for each: circuit` out, or say what each tree is `of:`."
            if said:
                yield Problem(node.step.spot, "wrong-of", said, cure)


def _circuit_names(catalogue: Catalogue, one: Flow) -> Iterator[Problem]:
    """A tree of the unit has no circuit to read from."""
    told: set[str] = set()
    for step in every_step(one.tree.steps) if one.tree.of == "unit" else ():
        asked = (Use(name, step.spot) for name in step.readings) if isinstance(step, Ask) else ()
        for use in (*asked, *step_uses(step, catalogue)):
            reading = catalogue.readings.get(use.name)
            if reading is not None and reading.of == "circuit" and use.name not in told:
                told.add(use.name)
                said = f"`{use.name}` is a reading of one circuit, and `{one.tree.name}` is of the unit."
                yield Problem(use.spot, "wrong-of", said, "Ask it in a tree of one circuit.")


def _leads(step: Step) -> Iterator[tuple[str, str, bool]]:
    if isinstance(step, Go):
        yield "go", step.tree, step.each_circuit
    elif isinstance(step, FindingStep):
        if step.go_on:
            yield "go on", step.go_on, False
        if step.offer:
            yield "offer", step.offer, False


def rings(trees: Mapping[str, Tree]) -> Iterator[Problem]:
    """Trees that lead back to themselves with no person's yes on the way."""
    ways: dict[str, list[tuple[str, Spot]]] = {}
    for name, tree in trees.items():
        leads = ((step, lead) for step in every_step(tree.steps) for lead in _leads(step))
        ways[name] = [(to, step.spot) for step, (word, to, _) in leads if word != "offer" and to in trees]
    done: set[str] = set()
    for name in trees:
        yield from _ring(name, ways, [], done)


def _ring(
    name: str, ways: Mapping[str, list[tuple[str, Spot]]], above: list[str], done: set[str]
) -> Iterator[Problem]:
    if name in done:
        return
    for to, spot in ways[name]:
        if to in (*above, name):
            ring = [*above, name, to]
            said = f"The trees run in a ring: {' > '.join(ring[ring.index(to) :])}."
            cure = "Use `offer:` (which needs a person's yes), or end in a finding."
            yield Problem(spot, "ring", said, cure)
        else:
            yield from _ring(to, ways, [*above, name], done)
    done.add(name)


# ---- left things


def _left_on(catalogue: Catalogue) -> Iterator[Problem]:
    for left in catalogue.left_on.values():
        cleared_by = catalogue.works.get(left.work)
        if cleared_by is not None and left.id not in cleared_by.clears:
            said = f"`{left.work}` is to clear `{left.id}`, but its `clears:` does not say so."
            yield Problem(left.spot, "left-on", said, f"Add `clears: {left.id}` to `{left.work}`.")
        elif cleared_by is not None and not _always_possible(catalogue, left.id, cleared_by):
            said = f"`{left.id}` must always be cleared, and `{left.work}` demands more than cautions first."
            yield Problem(left.spot, "left-on", said, f"Take `needs`, `only if` or `after work` off `{left.work}`.")


def _always_possible(catalogue: Catalogue, thing: str, clearing: Work) -> bool:
    """Whether a clearing asks for nothing but cautions and the work that left the thing."""
    leaving = {work.id for work in catalogue.works.values() if thing in work.leaves}
    done = all(leaving <= set(group) for group in clearing.after_work)
    return done and not clearing.needs and not clearing.only_if
