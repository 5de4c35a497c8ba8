"""What each tree has to do with, with all that it leads to: all else is the same at its every step as at its first.

So a tree that is entered with two states that differ in nothing else is solved once. Of a name that it only makes stale
it is enough to know that it does, for a name that is given; whether it was given, whoever goes there knows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tui.tree.check.compiled import BEFORE, Op, State
from tui.tree.check.layout import Act, Layout
from tui.tree.model import Decide, FindingStep, Go, Repeat


@dataclass(frozen=True, slots=True)
class Touched:
    """Of one tree: `bits` that it looks at or changes; `passing`: that names are given which it only makes stale."""

    bits: State
    passing: State = 0


def touched(ops: Mapping[str, list[Op]], layout: Layout, acts: Mapping[str, Act], fleeting: int) -> dict[str, Touched]:
    """By tree: what its steps, or those of a tree it leads to, touch."""
    stales = {tree: _made_stale(compiled, layout) for tree, compiled in ops.items()}
    leads = {tree: [to for op in compiled for to in _leads(op) if to in ops] for tree, compiled in ops.items()}
    found = _looked_at(ops, layout, acts, fleeting)
    _spread(found, leads)
    _spread(stales, leads)
    made = {}
    for tree, bits in found.items():
        names = stales[tree]
        known = names & (bits >> layout.n | layout.given_in(bits))
        bits |= layout.stale(known) | layout.given(known)
        made[tree] = Touched(bits, layout.given(names & ~known))
    return made


def _spread(found: dict[str, int], leads: Mapping[str, list[str]]) -> None:
    """To each tree what is found of those it leads to."""
    changed = True
    while changed:
        changed = False
        for tree, others in leads.items():
            mask = found[tree]
            for other in others:
                mask |= found[other]
            changed |= mask != found[tree]
            found[tree] = mask


def _made_stale(compiled: list[Op], layout: Layout) -> int:
    """Names that work or a reading taken again may leave behind."""
    names = 0
    for op in compiled:
        names |= 0 if op.act is None else op.act.changes
        for asked in op.asked:
            names |= layout.given_in(asked.hanging) | (0 if asked.act is None else asked.act.changes)
    return names


def _looked_at(
    ops: Mapping[str, list[Op]], layout: Layout, acts: Mapping[str, Act], fleeting: int
) -> dict[str, State]:
    """By tree: the bits that its own steps look at or change."""
    left = _left(layout)
    offers = left | _of_offer(layout, acts, fleeting)
    found = {}
    for tree, compiled in ops.items():
        found[tree] = layout.fields(layout.own.get(tree, 0))
        for op in compiled:
            step = op.node.step
            found[tree] |= _of_step(op, layout)
            if isinstance(step, FindingStep):
                found[tree] |= offers if step.offer else left
    return found


def _leads(op: Op) -> list[str]:
    step = op.node.step
    if isinstance(step, FindingStep):
        return [to for to in (step.go_on, step.offer) if to]
    return [step.tree] if isinstance(step, Go) else []


def _of_step(op: Op, layout: Layout) -> State:
    step = op.node.step
    if isinstance(step, Go) and step.each_circuit:
        return layout.whole  # another circuit may leave anything of the unit, and starts with all of its own
    mask = layout.whole & ~(op.met & op.keep) | op.bad | op.set | op.doubted | layout.fields(op.result)
    for bit, _ in op.uses if isinstance(step, Decide | Repeat) else ():
        mask |= layout.unknown(1 << bit)
    for move in op.moves:
        mask |= layout.whole & ~move.keep | move.set if move.slot == BEFORE else 0
    for facts in op.edge_facts:
        mask |= facts
    for names in (op.afresh, *op.stop_names):
        mask |= layout.fields(names)
    for asked in op.asked:
        mask |= layout.whole & ~asked.keep | asked.refused | asked.unfit
        mask |= 0 if asked.act is None else _of_act(asked.act, layout)
    return mask if op.act is None else mask | _of_act(op.act, layout)


def _of_act(act: Act, layout: Layout) -> State:
    mask = layout.whole & ~act.keep | act.set | act.demands
    for caution, bit in act.unwarned:
        mask |= caution | bit
    return mask | layout.done[act.work.id]


def _left(layout: Layout) -> State:
    mask = 0
    for bit in (*layout.left.values(), *layout.unwarned.values()):
        mask |= bit
    return mask


def _of_offer(layout: Layout, acts: Mapping[str, Act], fleeting: int) -> State:
    """What is left is cleared, and what is not remembered is asked again."""
    mask = layout.given(fleeting) | layout.again(fleeting)
    for thing in layout.left:
        left_on = layout.names.catalogue.left_on.get(thing)
        act = acts.get(left_on.work) if left_on is not None else None
        mask |= 0 if act is None else _of_act(act, layout) | act.given | layout.stale(act.changes)
    return mask
