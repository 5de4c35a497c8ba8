"""A child process that answers enthalpies: one JSON line in, one out, until its input ends.

In: {"refrigerant": id, "points": [[phase, K, Pa absolute], ...]}, phase ``gas`` or ``liquid``.
Out: {"enthalpies": [J/kg or null, ...]}, null where the property library has no answer; or {"problem": text}.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from tui.refrigerant.build import pairs
from tui.refrigerant.build.library import State
from tui.refrigerant.build.tables import mole_fractions
from tui.refrigerant.facts import facts


def states_of(refrigerant: str) -> dict[str, State]:
    """One state object a phase. Raises ValueError where the library lacks the fluid."""
    known = facts(refrigerant)
    if known.made in ("pure", "pseudo-pure"):
        return {phase: State([refrigerant], [1.0], phase) for phase in ("gas", "liquid")}
    components = list(known.composition)
    pairs.prepare(components)
    fractions = mole_fractions(known.composition)
    return {phase: State(components, fractions, phase) for phase in ("gas", "liquid")}


def answer(asked: dict[str, Any]) -> dict[str, Any]:
    """The enthalpies of one request."""
    try:
        states = states_of(asked["refrigerant"])
    except (KeyError, ValueError) as problem:
        return {"problem": str(problem)}
    found: list[float | None] = []
    for phase, kelvin, pa in asked["points"]:
        try:
            found.append(states[phase].enthalpy(pa, kelvin))
        except ValueError:
            found.append(None)
    return {"enthalpies": found}


def main() -> None:
    """Answers until the asker is gone."""
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
