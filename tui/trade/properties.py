"""The door between sums and refrigerant data.

A sum takes every property through this door and nowhere else, so that a walk can record what it
was told and a replay can tell it the same again.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from tui import refrigerant as tables
from tui.quantity import Refused
from tui.refrigerant import Look

NITROGEN = "nitrogen"
NITROGEN_PRESSURE = "nitrogen-pressure"
MOLAR_MASS = "molar-mass"
VISCOSITY = "gas-viscosity"
LAW_GWP = "law-gwp"


class Properties(Protocol):
    """Answers in SI: Pa absolute, K, kg/m3, kg/mol, Pa s."""

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        """The property `name` at `xs`, with its slope for each x and its error (half-width).

        Raises Refused if there is none: outside the table, supercritical, unknown refrigerant.
        """
        ...

    def fact(self, name: str, refrigerant: str) -> str:
        """A published fact in words. Raises Refused.

        ``safety-class``, ``charges-as``; ``ozone-depleting`` (no, in part, all) and ``eu-annexes``
        (shares in % of Annex I and of Annex II section 1, with a blank between).
        """
        ...


class TableProperties:
    """Properties out of the checked-in tables."""

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        """See Properties. `nitrogen-pressure` takes Pa absolute, K then and K now."""
        if name == NITROGEN_PRESSURE:
            return _nitrogen_pressure(*xs)
        if name == VISCOSITY and refrigerant == NITROGEN:
            value, error = tables.viscosity(NITROGEN)
            return Look(value, (), error)
        return tables.look(name, tables.resolve(refrigerant), *xs)

    def fact(self, name: str, refrigerant: str) -> str:
        """See Properties."""
        found = _FACTS.get(name)
        if found is None:
            raise Refused("unknown-fact", f"No fact is called {name}.", f"There are: {', '.join(_FACTS)}.")
        return found(tables.facts(tables.resolve(refrigerant)))


def _ozone_depleting(facts: tables.Facts) -> str:
    if not facts.ozone_depleting:
        return "no"
    return "all" if len(facts.ozone_depleting) == len(facts.composition) else "in part"


def _eu_annexes(facts: tables.Facts) -> str:
    shares = (tables.annex_i(facts.id), tables.annex_ii(facts.id))
    return " ".join(f"{100 * share:.6g}" for share in shares)


_FACTS: dict[str, Callable[[tables.Facts], str]] = {
    "safety-class": lambda facts: facts.safety_class,
    "charges-as": lambda facts: facts.charges_as,
    "ozone-depleting": _ozone_depleting,
    "eu-annexes": _eu_annexes,
}


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
