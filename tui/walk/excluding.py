"""Causes that what is known excludes, wherever the trees lead."""

from __future__ import annotations

from tui.tree.classes import EQUIPMENT
from tui.tree.model import FindingStep
from tui.walk.circuit import Circuit
from tui.walk.evaluate import YES
from tui.walk.rules import NOW
from tui.walk.world import World


def excluded(world: World, circuit: Circuit) -> frozenset[str]:
    """Those of the catalogue whose ``not when`` surely holds, or that this class of equipment does not have."""
    evaluator = world.evaluator(circuit)
    causes, class_ = world.catalogue.causes.values(), evaluator.scope.get(EQUIPMENT)
    not_here = frozenset(cause.id for cause in causes if class_ in cause.not_on)
    excluding = ((cause.id, cause.not_when) for cause in causes)
    surely = (id for id, test in excluding if test is not None and evaluator.truth(test) == YES)
    return not_here.union(surely)


def could_be(world: World, circuit: Circuit, step: FindingStep) -> tuple[str, ...]:
    """What a finding names without telling it apart; all of it where nothing would be left."""
    if world.rules < NOW or not step.could_be:
        return step.could_be
    never = excluded(world, circuit)
    return tuple(cause for cause in step.could_be if cause not in never) or step.could_be
