"""A child process that answers enthalpies: one JSON line in, one out, until its input ends.

In: {"refrigerant": id, "points": [point, ...]}, each [what, K, Pa absolute, Pa absolute]; what it is:
``bubble`` and ``dew`` (saturated at that temperature), ``liquid`` and ``gas`` (at temperature and first pressure),
``compressed`` (gas of that state, brought to the second pressure without loss).
Out: {"enthalpies": [J/kg or null, ...]} from the library's own zero, null where it has no answer; or {"problem": text}.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping
from typing import Any

from tui.quantity import Refused
from tui.refrigerant import saturation
from tui.refrigerant.build import pairs
from tui.refrigerant.build.library import State
from tui.refrigerant.build.tables import mole_fractions
from tui.refrigerant.facts import facts

HOTTER = 250.0  # K: no compressor makes more in one go
HALVINGS = 40


class Fluid:
    """One refrigerant with a state object a phase. Raises ValueError or LookupError where the library lacks it."""

    def __init__(self, refrigerant: str) -> None:
        self.id = refrigerant
        known = facts(refrigerant)
        components, fractions = [refrigerant], [1.0]
        if known.made not in ("pure", "pseudo-pure"):
            components = list(known.composition)
            pairs.prepare(components)
            fractions = mole_fractions(known.composition)
        self._gas = State(components, fractions, "gas")
        self._liquid = State(components, fractions, "liquid")

    def enthalpy(self, what: str, kelvin: float, pa: float, to_pa: float) -> float:
        """J/kg. Raises ValueError where the library has none, Refused outside the tables, KeyError for another word."""
        return _WHAT[what](self, kelvin, pa, to_pa)

    def bubble(self, kelvin: float, pa: float, to_pa: float) -> float:
        """By the density of the tables: the library's own search gives up near a blend's top, they do not."""
        return self._liquid.enthalpy_at(kelvin, saturation.liquid_density(self.id, kelvin))

    def dew(self, kelvin: float, pa: float, to_pa: float) -> float:
        return self._gas.enthalpy_at(kelvin, saturation.saturated_vapour_density(self.id, kelvin))

    def liquid(self, kelvin: float, pa: float, to_pa: float) -> float:
        return self._liquid.enthalpy(pa, kelvin)

    def gas(self, kelvin: float, pa: float, to_pa: float) -> float:
        return self._gas.enthalpy(pa, kelvin)

    def compressed(self, kelvin: float, pa: float, to_pa: float) -> float:
        """At equal entropy, found by halving; at dew where it would end wet."""
        entropy = self._gas.entropy(pa, kelvin)
        cold = saturation.dew_temperature(self.id, to_pa)
        low, high = cold, cold + HOTTER
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            if self._gas.entropy(to_pa, middle) < entropy:
                low = middle
            else:
                high = middle
        return self.dew(cold, to_pa, to_pa) if low == cold else self._gas.enthalpy(to_pa, high)


_WHAT: Mapping[str, Callable[[Fluid, float, float, float], float]] = {
    "bubble": Fluid.bubble,
    "dew": Fluid.dew,
    "liquid": Fluid.liquid,
    "gas": Fluid.gas,
    "compressed": Fluid.compressed,
}


def answer(asked: dict[str, Any]) -> dict[str, Any]:
    """The enthalpies of one request."""
    try:
        fluid = Fluid(asked["refrigerant"])
    except (LookupError, ValueError) as problem:
        return {"problem": str(problem)}
    found: list[float | None] = []
    for what, kelvin, pa, to_pa in asked["points"]:
        try:
            found.append(fluid.enthalpy(what, kelvin, pa, to_pa))
        except (ValueError, Refused):
            found.append(None)
    return {"enthalpies": found}


def main() -> None:
    """Answers until the asker is gone."""
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
