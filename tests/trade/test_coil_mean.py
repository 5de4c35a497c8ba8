"""Is the mean of an evaporator a third of the glide below dew, within the give that is carried?

Worked out with the property library: temperature along the coil against enthalpy, from where flashed
liquid enters to where the last of it has gone. Condensing at 85 and 115 °F, liquid 5 K colder.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import CoolProp.CoolProp as Library
import pytest

from tests.trade.asking import SEA_LEVEL, work_out
from tui.quantity import to_absolute
from tui.refrigerant import facts
from tui.refrigerant.build.library import molar_mass, spelling
from tui.trade.targets import BELOW_DEW, BELOW_DEW_GIVE

BLENDS = ("R-407A", "R-407C", "R-407F", "R-448A", "R-449A", "R-452A", "R-454C", "R-455A")
SUBCOOLED = 5.0  # K
POINTS = 20
library: Any = Library


def fluid(refrigerant: str) -> Any:
    moles = {name: share / molar_mass(name) for name, share in facts(refrigerant).composition.items()}
    state = library.AbstractState("HEOS", "&".join(spelling(name) for name in moles))
    state.set_mole_fractions([part / sum(moles.values()) for part in moles.values()])
    return state


def along_the_coil(state: Any, evaporating: float, condensing: float) -> Sequence[tuple[float, float]]:
    """(J/kg, K) from the inlet to dew at one pressure."""
    state.update(library.PQ_INPUTS, condensing, 0.0)
    inlet = state.hmass() - SUBCOOLED * state.cpmass()
    points = []
    for step in range(POINTS + 1):
        state.update(library.PQ_INPUTS, evaporating, step / POINTS)
        points.append((state.hmass(), state.T()))
    (h0, t0), (h1, t1) = next(pair for pair in pairwise(points) if pair[1][0] > inlet)
    first = (inlet, t0 + (t1 - t0) * (inlet - h0) / (h1 - h0))
    return [first, *(point for point in points if point[0] > inlet)]


def share_below_dew(state: Any, evaporating: float, condensing: float) -> float:
    path = along_the_coil(state, evaporating, condensing)
    area = sum((t0 + t1) / 2 * (h1 - h0) for (h0, t0), (h1, t1) in pairwise(path))
    mean, dew = area / (path[-1][0] - path[0][0]), path[-1][1]
    state.update(library.PQ_INPUTS, evaporating, 0.0)
    return float((dew - mean) / (dew - state.T()))


@pytest.mark.parametrize("refrigerant", BLENDS)
def test_a_third_of_the_glide_within_the_give(refrigerant: str) -> None:
    state = fluid(refrigerant)
    for coil in ("-20 °F", "20 °F"):
        evaporating = to_absolute(work_out("suction-wanted", coil, refrigerant), SEA_LEVEL.atmosphere).si
        for condenser in ("85 °F", "115 °F"):
            condensing = to_absolute(work_out("head-wanted", condenser, refrigerant), SEA_LEVEL.atmosphere).si
            share = share_below_dew(state, evaporating, condensing)
            assert share == pytest.approx(BELOW_DEW, abs=BELOW_DEW_GIVE)
