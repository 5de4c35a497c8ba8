"""All proofs of a library, in the order in which one mistake explains another."""

from __future__ import annotations

from collections.abc import Mapping

from tui.tree.check.compiled import Compiler
from tui.tree.check.effects import Effects
from tui.tree.check.graph import Graph
from tui.tree.check.layout import act, domain_of, lay_out
from tui.tree.check.names import Names, derived_from
from tui.tree.check.overruling import overrulable
from tui.tree.check.settle import unmarked
from tui.tree.check.shape import shape
from tui.tree.check.solve import Solver, fleeting_names, starts, unsteady_names
from tui.tree.check.touched import touched
from tui.tree.check.unknown import Doubts
from tui.tree.check.use import Prover
from tui.tree.check.warn import warnings
from tui.tree.model import Catalogue, Tree
from tui.tree.spot import Problem


def prove(trees: Mapping[str, Tree], catalogue: Catalogue) -> list[Problem]:
    """Every problem of a library that was read without one, in file order.

    Errors stop; warnings do not. What is known on each path is followed only where no tree runs in
    a ring, for otherwise it has no end.
    """
    graph, names = Graph(trees), Names.of(trees, catalogue)
    problems = list(shape(trees, catalogue, graph, domain_of(catalogue)))
    if not any(problem.code == "ring" for problem in problems):
        problems += prover(trees, catalogue, graph, names).problems()
        problems += unmarked(trees, graph, names)
    problems += warnings(trees, catalogue)
    problems += overrulable(trees, names)
    return sorted(set(_without_what_follows(problems)), key=lambda problem: problem.spot)


def holds(trees: Mapping[str, Tree], catalogue: Catalogue) -> bool:
    """Whether `prove` finds no error here. Stops at the first, and looks for no way to it."""
    graph, names = Graph(trees), Names.of(trees, catalogue)
    return (
        not any(shape(trees, catalogue, graph, domain_of(catalogue)))
        and not prover(trees, catalogue, graph, names).complaints()
        and not any(unmarked(trees, graph, names))
    )


def _without_what_follows(problems: list[Problem]) -> list[Problem]:
    """A way that was left out may be the only one to a step: what can't be reached is told once it is there."""
    broken = {problem.spot.path for problem in problems if problem.code in ("outcome-missing", "unsettled-missing")}
    return [one for one in problems if one.code != "unreachable" or one.spot.path not in broken]


def prover(trees: Mapping[str, Tree], catalogue: Catalogue, graph: Graph, names: Names) -> Prover:
    """The library, solved: what is possible before every step."""
    layout = lay_out(trees, catalogue, names)
    derived = derived_from(trees, names)
    acts = {work.id: act(work, layout, derived) for work in catalogue.works.values()}
    doubts = Doubts(names)
    compiler = Compiler(catalogue, layout, acts, derived, domain_of(catalogue), doubts)
    ops = {name: compiler.tree(flow) for name, flow in graph.flows.items()}
    effects = {name: Effects(name, layout, acts, doubts) for name in trees}
    fleeting = fleeting_names(catalogue, names)
    touches = touched(ops, layout, acts, fleeting)
    solver = Solver(graph, ops, effects, layout, touches, unsteady_names(ops, layout), fleeting)
    solver.solve(starts(trees))
    return Prover(trees, catalogue, solver, layout, acts)
