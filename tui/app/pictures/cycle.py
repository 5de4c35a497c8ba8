"""What goes round, in pressure and enthalpy: as measured, as wanted, and the points that have to be asked for it."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log
from typing import TYPE_CHECKING

from tui import refrigerant as tables
from tui.quantity import Kind, Quantity, Refused, from_json, to_absolute
from tui.refrigerant.enthalpy import Point

if TYPE_CHECKING:
    from tui.walk import Walk

DOME = 60  # pressures at which saturation is asked
BELOW = 0.6  # of the lowest pressure: where the picture begins
ZERO = {"US": (233.15, 0.0), "SI": (273.15, 200e3)}  # K, J/kg of saturated liquid there: ASHRAE, IIR (from memory)
AT_DEW = 0.2  # K: vapour nearer to dew is drawn at dew
USUAL = 5.0  # K of superheat and subcooling in what is wanted, where the trees have no figure for it


@dataclass(frozen=True, slots=True)
class Cycle:
    """Pa absolute and K: suction, head; vapour into the compressor, liquid out of the condenser.

    `discharge`: that of the line, None where it was not measured.
    """

    low: float
    high: float
    vapour: float
    liquid: float
    discharge: float | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """A cycle's corners in J/kg: vapour in, compressed, liquid out. `measured`: the compressed one is no sum."""

    low: float
    high: float
    vapour: float
    compressed: float
    liquid: float
    measured: bool


def refrigerant_of(walk: Walk) -> str:
    """Its id; empty where it is not known or not carried."""
    found = walk.values().get("refrigerant")
    return found if isinstance(found, str) and found in tables.ids() else ""


def cycle_of(walk: Walk) -> Cycle | None:
    """As measured; None while a reading is missing, or is of before the last work: the others are of now."""
    earlier = walk.earlier()
    values = {name: value for name, value in walk.values().items() if name not in earlier}

    def kelvin(*names: str) -> float | None:
        found = (values.get(name) for name in names)
        return next((v.si for v in found if isinstance(v, Quantity) and v.kind is Kind.TEMPERATURE), None)

    low, high = (None if name in earlier else _absolute(walk, name) for name in ("suction", "head"))
    vapour, liquid = kelvin("compressor-inlet", "suction-line", "evaporator-outlet"), kelvin("condenser-outlet")
    if low is None or high is None or vapour is None or liquid is None or high <= low:
        return None
    return Cycle(low, high, vapour, liquid, kelvin("discharge-line"))


def wanted_of(walk: Walk) -> Cycle | None:
    """As it is wanted: target pressures, and the middle of the wanted superheat and subcooling."""
    low, high = _absolute(walk, "suction-target"), _absolute(walk, "head-target")
    fluid = refrigerant_of(walk)
    if low is None or high is None or high <= low:
        return None
    try:
        vapour = tables.dew_temperature(fluid, low) + _middle(walk, "superheat-level")
        liquid = tables.bubble_temperature(fluid, high) - _middle(walk, "subcooling-level")
    except Refused:
        return None
    return Cycle(low, high, vapour, liquid)


def _absolute(walk: Walk, name: str) -> float | None:
    value = walk.values().get(name)
    if not isinstance(value, Quantity) or value.kind is not Kind.GAUGE_PRESSURE:
        return None
    try:
        return to_absolute(value, walk.machine.at_site.atmosphere).si
    except Refused:
        return None


def _middle(walk: Walk, level: str) -> float:
    """K: of what is wanted, as it was last judged."""
    circuit = walk.looked_at()
    evidence = [] if circuit is None else list(circuit.evidence.values())
    judged = [e for e in evidence if e["event"] == "judged" and e.get("name") == level]
    stored = [judged[-1].get(part) for part in ("low", "high")] if judged else []
    edges = [edge.si for each in stored if isinstance(each, dict) and isinstance(edge := from_json(each), Quantity)]
    return sum(edges) / len(edges) if edges else USUAL


def dome_of(fluid: str, cycles: list[Cycle]) -> list[float]:
    """Pressures from a little below the lowest up to where the tables end, evenly by their logarithm."""
    bottom, top = min(cycle.low for cycle in cycles) * BELOW, max(cycle.high for cycle in cycles)
    while _saturated(fluid, top * 1.02) and top < 1e8:
        top *= 1.02
    steps = (exp(log(bottom) + (log(top) - log(bottom)) * step / (DOME - 1)) for step in range(DOME))
    return [pa for pa in steps if _saturated(fluid, pa)]


def _saturated(fluid: str, pa: float) -> bool:
    try:
        tables.bubble_temperature(fluid, pa)
        tables.dew_temperature(fluid, pa)
    except Refused:
        return False
    return True


def points_of(fluid: str, cycles: list[Cycle], dome: list[float], units: str) -> list[Point]:
    """What has to be asked: the zero, two for each pressure of the dome, three for each cycle.

    Raises Refused where a pressure has no saturation.
    """
    zero = ZERO[units][0]
    points: list[Point] = [("bubble", zero, 0.0, 0.0)]
    for pa in dome:
        points.append(("bubble", tables.bubble_temperature(fluid, pa), pa, pa))
        points.append(("dew", tables.dew_temperature(fluid, pa), pa, pa))
    for cycle in cycles:
        bubble = tables.bubble_temperature(fluid, cycle.high)
        liquid = "liquid" if cycle.liquid < bubble else "bubble"
        dew = tables.dew_temperature(fluid, cycle.low)
        points.append(_gas(fluid, cycle.vapour, cycle.low))
        if cycle.discharge is None:
            points.append(("compressed", max(cycle.vapour, dew + AT_DEW), cycle.low, cycle.high))
        else:
            points.append(_gas(fluid, cycle.discharge, cycle.high))
        points.append((liquid, min(cycle.liquid, bubble), cycle.high, cycle.high))
    return points


def _gas(fluid: str, kelvin: float, pa: float) -> Point:
    """Vapour, at dew where it is as good as that: a reading a hair under it is still vapour."""
    dew = tables.dew_temperature(fluid, pa)
    return ("gas", kelvin, pa, pa) if kelvin > dew + AT_DEW else ("dew", dew, pa, pa)


def drawn_of(
    cycles: list[Cycle], dome: list[float], answers: list[float | None], units: str
) -> tuple[list[tuple[float, float, float]], list[Drawn | None]]:
    """(Pa, J/kg of bubble, J/kg of dew) of the dome, and each cycle, None where an enthalpy of it is missing."""
    at_zero = answers[0]
    shift = 0.0 if at_zero is None else ZERO[units][1] - at_zero
    own = [None if each is None else each + shift for each in answers[1:]]
    sides = []
    for place, pa in enumerate(dome):
        bubble, dew = own[2 * place], own[2 * place + 1]
        if bubble is not None and dew is not None:
            sides.append((pa, bubble, dew))
    found: list[Drawn | None] = []
    for place, cycle in enumerate(cycles):
        start = 2 * len(dome) + 3 * place
        vapour, compressed, liquid = own[start : start + 3]
        if vapour is None or compressed is None or liquid is None:
            found.append(None)
        else:
            found.append(Drawn(cycle.low, cycle.high, vapour, compressed, liquid, cycle.discharge is not None))
    return sides, found
