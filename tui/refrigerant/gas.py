"""What a sum of leaks needs of a gas: molar mass (kg/mol) and viscosity at 20 °C and 1 atm (Pa s).

The viscosities are built ahead like the tables; up to some bar the viscosity of a gas hardly hangs on its
pressure, so that one figure does for a leak.
"""

from __future__ import annotations

import json
from typing import Any

from tui.refrigerant.table import DATA, table

NITROGEN = "nitrogen"

# Relative half-width of a blend's molar mass: what the composition tolerances of ANSI/ASHRAE 34 leave (from memory).
_BLEND = 0.01

_data: dict[str, Any] = {}


def molar_mass(refrigerant: str) -> tuple[float, float]:
    """(kg/mol, half-width of its error) by id. Raises KeyError for what is no id."""
    found = table(refrigerant)
    return found.molar_mass, 0.0 if found.made == "pure" else _BLEND * found.molar_mass


def viscosity(gas: str) -> tuple[float, float]:
    """(Pa s, half-width of its error) by id, or of ``nitrogen``. Raises KeyError for what is no id."""
    if not _data:
        _data.update(json.loads((DATA / "viscosity.json").read_text(encoding="utf-8")))
    found = _data[gas]
    if not isinstance(found, list):
        raise KeyError(gas)
    return float(found[0]), float(found[0] * found[1])
