"""Where a destination of a tree leads, in the words of the step that stands there."""

from __future__ import annotations

import textwrap

from tui.tree.model import Ask, Back, CautionStep, Decide, Do, FindingStep, Go, Judge, Repeat, Step, Wait, WorkOut
from tui.walk.circuit import Circuit
from tui.walk.excluding import could_be
from tui.walk.kinds import spoken
from tui.walk.machine import Machine

LONGEST = 70  # letters of one answer
MOST = 3  # causes that are named


def leads_to(machine: Machine, circuit: Circuit, step: Decide | Wait, destination: str | None) -> str:
    """What comes after `step` that way; None: where the tree goes with what is left open."""
    tree = circuit.frame.program.tree
    open_ = step.unsettled if isinstance(step, Decide) else None
    to = destination or open_ or tree.unsettled or "carry on"
    if to == "go round":
        return "another round"
    program = circuit.frame.program
    found = program.below.get(step.name) if to == "carry on" else program.steps.get(to)
    while isinstance(found, CautionStep | WorkOut | Judge):
        found = program.below.get(found.name)
    if found is None:
        return "on with the next round" if program.inside.get(step.name) else spoken(to)
    said = textwrap.shorten(_words(machine, circuit, found).rstrip("."), LONGEST, placeholder="...")
    return f"{said[:-3].rstrip(' ,-')} ..." if said.endswith("...") else said


def _words(machine: Machine, circuit: Circuit, step: Step) -> str:
    if isinstance(step, FindingStep):
        return _finding(machine, circuit, step)
    if isinstance(step, Do):
        told = machine.evaluator(circuit).text(step.tell, machine.units).split(". ")[0]
        return told.split(" - ")[0] if "unknown" in told else told  # what is worked out only on the way there
    if isinstance(step, Go):
        return f"on with: {machine.library.trees[step.tree].title}" if step.tree in machine.library.trees else step.tree
    if isinstance(step, Back):
        return f"{spoken(circuit.frame.program.tree.name)} ends: {spoken(step.outcome)}"
    if isinstance(step, Ask):
        asked = machine.catalogue.readings[step.readings[0]]
        return f"asks {asked.ask or spoken(asked.id)}" if len(step.readings) == 1 else "takes more readings"
    if isinstance(step, Wait):
        return "a wait, then on"
    if isinstance(step, Repeat):
        return _words(machine, circuit, step.steps[0])
    return f"looks further: {spoken(step.name)}"


def _finding(machine: Machine, circuit: Circuit, step: FindingStep) -> str:
    causes = machine.catalogue.causes
    if step.cause is not None and step.cause in causes:
        return f"found: {causes[step.cause].say}"
    could = [spoken(cause) for cause in could_be(machine, circuit, step)]
    if could:
        return f"ends, not told apart: {', '.join(could[:MOST])}{' ...' if len(could) > MOST else ''}"
    return f"ends here: {spoken(step.name)}"
