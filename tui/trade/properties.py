"""The door between sums and refrigerant data.

A sum takes every property through this door and nowhere else, so that a walk can record what it
was told and a replay can tell it the same again.
"""

from __future__ import annotations

from typing import Protocol

from tui import refrigerant as tables
from tui.quantity import Refused
from tui.refrigerant import Look

NITROGEN = "nitrogen"
NITROGEN_PRESSURE = "nitrogen-pressure"


class Properties(Protocol):
    """Answers in SI: Pa absolute, K, kg/m3."""

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        """The property `name` at `xs`, with its slope for each x and its error (half-width).

        Raises Refused if there is none: outside the table, supercritical, unknown refrigerant.
        """
        ...

    def fact(self, name: str, refrigerant: str) -> str:
        """A published fact in words: ``safety-class``, ``charges-as``. Raises Refused."""
        ...


class TableProperties:
    """Properties out of the checked-in tables."""

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        """See Properties. `nitrogen-pressure` takes Pa absolute, K then and K now."""
        if name == NITROGEN_PRESSURE:
            return _nitrogen_pressure(*xs)
        return tables.look(name, tables.resolve(refrigerant), *xs)

    def fact(self, name: str, refrigerant: str) -> str:
        """See Properties."""
        facts = tables.facts(tables.resolve(refrigerant))
        if name == "safety-class":
            return facts.safety_class
        if name == "charges-as":
            return facts.charges_as
        raise Refused("unknown-fact", f"No fact is called {name}.", "safety-class or charges-as")


def _nitrogen_pressure(pressure: float, then: float, now: float) -> Look:
    """Slopes by central difference: the curve is so nearly straight that it costs nothing."""
    at = tables.nitrogen_pressure
    dp, dt = pressure * 1e-4, 0.05
    slopes = (
        (at(pressure + dp, then, now) - at(pressure - dp, then, now)) / (2 * dp),
        (at(pressure, then + dt, now) - at(pressure, then - dt, now)) / (2 * dt),
        (at(pressure, then, now + dt) - at(pressure, then, now - dt)) / (2 * dt),
    )
    return Look(at(pressure, then, now), slopes, 0.0)
