"""Builds the viscosity of each refrigerant and of nitrogen as a gas at 20 °C and 1 atm.

Blends by Wilke (J. Chem. Phys. 18, 1950, 517). Two components have no viscosity in the property library: they
get the middle of what the other halogenated ones have, and the blend an error as wide as that guess is.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from typing import Any

from tui.refrigerant.build import library
from tui.refrigerant.build.tables import mole_fractions
from tui.refrigerant.facts import entries

KELVIN = 293.15
PA = 101325.0
NITROGEN = "nitrogen"
# Relative half-widths, our judgement: the library's correlations for a gas; Wilke's rule on top of them.
_PURE, _BLEND = 0.03, 0.05
_HALOGENATED = ("R-12", "R-22", "R-32", "R-124", "R-125", "R-134a", "R-143a", "R-152a", "R-227ea")


def build() -> dict[str, Any]:
    """By refrigerant: [Pa s, relative half-width]."""
    found: dict[str, Any] = {
        "library": library.VERSION,
        "library_git": library.REVISION,
        "kelvin": KELVIN,
        "pa": PA,
        NITROGEN: [_digits(library.gas_viscosity("Nitrogen", KELVIN, PA)), _PURE],
    }
    for name, entry in entries().items():
        viscosity, error = _of(entry["composition"])
        found[name] = [_digits(viscosity), round(error, 3)]
    return found


def _of(composition: Mapping[str, float]) -> tuple[float, float]:
    moles = mole_fractions(composition)
    parts = [(x, library.molar_mass(name), *_component(name)) for name, x in zip(composition, moles, strict=True)]
    if len(parts) == 1:
        return parts[0][2], _PURE
    guessed = sum(x * error for x, _, _, error in parts)
    return wilke([(x, mass, viscosity) for x, mass, viscosity, _ in parts]), max(_BLEND, _BLEND + guessed)


def _component(name: str) -> tuple[float, float]:
    """(Pa s, relative half-width of a guess or 0)."""
    try:
        return library.gas_viscosity(name, KELVIN, PA), 0.0
    except ValueError:
        known = [library.gas_viscosity(other, KELVIN, PA) for other in _HALOGENATED]
        low, high = min(known), max(known)
        return (low + high) / 2, (high - low) / (high + low)


def wilke(parts: list[tuple[float, float, float]]) -> float:
    """Viscosity of a gas mixture (Pa s) from (mole fraction, molar mass, viscosity) of its parts."""
    total = 0.0
    for x, mass, viscosity in parts:
        weighed = sum(
            other_x * (1 + sqrt(viscosity / other) * (other_mass / mass) ** 0.25) ** 2
            / sqrt(8 * (1 + mass / other_mass))
            for other_x, other_mass, other in parts
        )
        total += x * viscosity / weighed
    return total


def _digits(viscosity: float) -> float:
    return float(f"{viscosity:.5g}")
