"""Dry nitrogen in a closed volume: a standing test's pressure at another temperature, as a real gas.

Virial equation p = rho R T (1 + B rho + C rho^2), coefficients by 5 K from the equation of state.
"""

from __future__ import annotations

import json
from bisect import bisect_right

from tui.quantity import Refused
from tui.refrigerant import refusal
from tui.refrigerant.table import DATA, GAS_CONSTANT

HIGHEST_PA = 10e6  # 1450 psia; the virial equation was compared up to here

_columns: list[tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]] = []


def nitrogen_pressure(pa: float, kelvin: float, later_kelvin: float) -> float:
    """Pressure (Pa absolute) at ``later_kelvin`` of nitrogen that had ``pa`` (Pa absolute) at ``kelvin``.

    The volume is constant. Raises Refused ``not-a-pressure``, ``not-a-temperature``, ``below-table``,
    ``above-table``.
    """
    if not 0.0 < pa < float("inf"):
        raise refusal.not_a_pressure("Nitrogen", pa)
    if pa > HIGHEST_PA:
        limit = refusal.pressure(HIGHEST_PA)
        raise Refused(
            "above-table",
            f"Nitrogen: {refusal.pressure(pa)} is above {limit}, where these figures end.",
            "Check the reading: no low or high side is tested so high.",
        )
    second, third = _virials(kelvin)
    density = ideal = pa / (GAS_CONSTANT * kelvin)
    for _ in range(50):
        before, density = density, ideal / (1 + density * (second + density * third))
        if abs(density - before) <= 1e-13 * density:
            break
    second, third = _virials(later_kelvin)
    return density * GAS_CONSTANT * later_kelvin * (1 + density * (second + density * third))


def _virials(kelvin: float) -> tuple[float, float]:
    """(second in m3/mol, third in m6/mol2), linear between nodes."""
    if not _columns:
        data = json.loads((DATA / "nitrogen.json").read_text(encoding="utf-8"))
        _columns.append((tuple(data["kelvin"]), tuple(data["second_m3_mol"]), tuple(data["third_m6_mol2"])))
    nodes, seconds, thirds = _columns[0]
    if not 0.0 < kelvin < float("inf"):
        raise refusal.not_a_temperature("Nitrogen", kelvin)
    if not nodes[0] <= kelvin <= nodes[-1]:
        low = kelvin < nodes[0]
        raise Refused(
            "below-table" if low else "above-table",
            f"Nitrogen: {refusal.degrees(kelvin)} is {'below' if low else 'above'} these figures, "
            f"which go from {refusal.degrees(nodes[0])} to {refusal.degrees(nodes[-1])}.",
            "Check the reading.",
        )
    i = min(bisect_right(nodes, kelvin), len(nodes) - 1) - 1
    part = (kelvin - nodes[i]) / (nodes[i + 1] - nodes[i])
    return (
        seconds[i] + part * (seconds[i + 1] - seconds[i]),
        thirds[i] + part * (thirds[i + 1] - thirds[i]),
    )
