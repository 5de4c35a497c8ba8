"""For a close call: which readings it rests on, and whose error is the largest."""

from __future__ import annotations

from collections.abc import Iterator

from tui.tree.model import Decide
from tui.walk.circuit import Circuit, key
from tui.walk.deciding import Decision
from tui.walk.machine import Machine


def contributing(machine: Machine, circuit: Circuit, decision: Decision, instrument: str | None = None) -> list[str]:
    """Readings with an instrument (or with this one) that the close words came from, in asking order."""
    found = dict.fromkeys(
        reading
        for reading in _came_from(machine, circuit, decision)
        if (used := machine.catalogue.readings[reading].instrument) is not None
        and (instrument is None or used == instrument)
    )
    order = list(machine.catalogue.readings)
    return sorted(found, key=order.index)


def worst_instrument(machine: Machine, circuit: Circuit, decision: Decision, *, unchecked: bool) -> str:
    """The instrument with the largest share in the variance of the close words' error; empty if there is none.

    `unchecked`: only one that can be zeroed or ice-bathed and has not been. Of two as bad, the one of the reading first
    by name: a recorded visit holds the catalogue in another order than its files.
    """
    shares: dict[str, float] = {}
    for reading in sorted(contributing(machine, circuit, decision)):
        instrument = machine.catalogue.readings[reading].instrument or ""
        found = machine.catalogue.instruments.get(instrument)
        if unchecked and (found is None or not found.checked_good_to or machine.checked.get(instrument)):
            continue
        shares.setdefault(instrument, 0.0)
    for name in _words(machine, circuit, decision):
        for source, part in machine.keeper(circuit, name).errors.get(name, {}).items():
            instrument = source.split("#")[0]
            if instrument in shares:
                shares[instrument] += part**2
    return max(shares, key=lambda i: shares[i]) if shares else ""


def _words(machine: Machine, circuit: Circuit, decision: Decision) -> Iterator[str]:
    tree = circuit.frame.program.tree.name
    for name in decision.close:
        yield key(machine.catalogue, tree, name)


def _came_from(machine: Machine, circuit: Circuit, decision: Decision) -> Iterator[str]:
    step = circuit.frame.step
    assert isinstance(step, Decide)
    if step.table is not None:
        scope = machine.scope(circuit)
        for name in decision.close:
            yield from scope.came_from(name)
        return
    for line in step.lines:
        if line.test is not None and line.source in decision.close:
            evaluator = machine.evaluator(circuit)
            evaluator.truth(line.test)
            yield from evaluator.used
