"""Readings that can hardly be so beside what is known: told before they are taken. Nothing is recorded or refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.quantity import Value
from tui.walk.circuit import Circuit
from tui.walk.echoing import Supposing
from tui.walk.evaluate import Evaluator
from tui.walk.looks import names_in_test

if TYPE_CHECKING:
    from tui.walk.machine import Machine


def doubts_of(machine: Machine, circuit: Circuit, reading: str, value: Value) -> tuple[str, ...]:
    """What the catalogue says of this value where it can hardly be; only beside readings that still hold."""
    if not circuit.frames:
        return ()
    evaluator = Evaluator(Supposing(machine, circuit, reading, value), machine.at_site, machine.properties)
    found = []
    for doubt in machine.catalogue.doubts.values():
        truth = evaluator.truth(doubt.when) if reading in names_in_test(doubt.when) else None
        if truth is not None and truth.likely is True and not truth.close:
            found.append(doubt.say)
    return tuple(found)
