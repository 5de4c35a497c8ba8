"""Builds nitrogen's virial coefficients, enough for a standing test far above its critical temperature."""

from __future__ import annotations

from typing import Any

from tui.refrigerant.build import library
from tui.refrigerant.build.library import State

KELVIN = tuple(float(t) for t in range(220, 361, 5))


def build() -> dict[str, Any]:
    """Second (m3/mol) and third (m6/mol2) virial coefficient by 5 K."""
    state = State(["Nitrogen"], [])
    virials = [state.virials(t) for t in KELVIN]
    return {
        "library": library.VERSION,
        "library_git": library.REVISION,
        "kelvin": KELVIN,
        "second_m3_mol": [float(f"{b:.7g}") for b, _ in virials],
        "third_m6_mol2": [float(f"{c:.7g}") for _, c in virials],
    }
