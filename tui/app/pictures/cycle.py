"""Pressure against enthalpy: the dome of this refrigerant, this circuit's cycle, and the one that is wanted."""

from __future__ import annotations

import atexit
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log
from typing import TYPE_CHECKING

from textual.content import Content

from tui import refrigerant as tables
from tui.app.sheet import FAINT, STRONG, Line, shown
from tui.quantity import Kind, Quantity, Refused, from_json, show, to_absolute, to_gauge, usual_unit
from tui.refrigerant.enthalpy import Enthalpies, Point

if TYPE_CHECKING:
    from tui.walk import Walk

DOME = 24  # pressures at which the dome is drawn
SUPERHEAT = 15.0  # K, of a discharge that was not measured: it is drawn vertical above the suction, to this at least
ITS, WANTED = "●", "○"


@dataclass(frozen=True, slots=True)
class Cycle:
    """Pa absolute and K: evaporating, condensing; vapour into the compressor, liquid out of the condenser."""

    low: float
    high: float
    vapour: float
    liquid: float
    discharge: float | None = None


@lru_cache(maxsize=1)
def service() -> Enthalpies:
    """The one child of this process, which ends it."""
    made = Enthalpies()
    atexit.register(made.close)
    return made


def waiting() -> bool:
    """Whether it still works on an answer."""
    return service.cache_info().currsize > 0 and service().waiting


def refrigerant_of(walk: Walk) -> str:
    found = walk.values().get("refrigerant")
    return found if isinstance(found, str) and found in tables.ids() else ""


def can_be_drawn(walk: Walk) -> bool:
    """Whether suction, head and both lines are known, of a refrigerant that is carried."""
    return bool(refrigerant_of(walk)) and cycle_of(walk) is not None


def cycle_of(walk: Walk) -> Cycle | None:
    """As measured; None while a reading is missing."""
    values = walk.values()
    air = walk.machine.at_site.atmosphere

    def pa(name: str) -> float | None:
        value = values.get(name)
        if not isinstance(value, Quantity) or value.kind is not Kind.GAUGE_PRESSURE:
            return None
        try:
            return to_absolute(value, air).si
        except Refused:
            return None

    def kelvin(*names: str) -> float | None:
        found = (values.get(name) for name in names)
        return next((v.si for v in found if isinstance(v, Quantity) and v.kind is Kind.TEMPERATURE), None)

    low, high = pa("suction"), pa("head")
    vapour, liquid = kelvin("compressor-inlet", "suction-line", "evaporator-outlet"), kelvin("condenser-outlet")
    if low is None or high is None or vapour is None or liquid is None or high <= low:
        return None
    return Cycle(low, high, vapour, liquid, kelvin("discharge-line"))


def wanted_of(walk: Walk) -> Cycle | None:
    """As it is wanted: target pressures, the edge of wanted superheat and subcooling."""
    values = walk.values()
    air = walk.machine.at_site.atmosphere
    targets = [values.get(name) for name in ("suction-target", "head-target")]
    if not all(isinstance(each, Quantity) for each in targets):
        return None
    low, high = (to_absolute(each, air).si for each in targets if isinstance(each, Quantity))
    fluid = refrigerant_of(walk)
    try:
        vapour = tables.dew_temperature(fluid, low) + _middle(walk, "superheat")
        liquid = tables.bubble_temperature(fluid, high) - _middle(walk, "subcooling")
    except Refused:
        return None
    return Cycle(low, high, vapour, liquid) if high > low else None


def _middle(walk: Walk, name: str) -> float:
    """K: the middle of what is wanted, as it was last judged; 5 where it was not."""
    judged = [e for e in walk.events if e["event"] == "judged" and e.get("name") == f"{name}-level"]
    stored = [judged[-1].get(part) for part in ("low", "high")] if judged else []
    edges = [from_json(each) for each in stored if isinstance(each, dict)]
    numbers = [edge.si for edge in edges if isinstance(edge, Quantity)]
    return sum(numbers) / len(numbers) if numbers else 5.0


# ---- what has to be asked


def points_of(fluid: str, cycles: list[Cycle]) -> tuple[list[float], list[Point]]:
    """Pressures of the dome, and the points to be asked: dome (liquid, vapour) then four or so a cycle."""
    bottom = min(cycle.low for cycle in cycles) * 0.6
    top = max(cycle.high for cycle in cycles) * 1.6
    pressures: list[float] = []
    points: list[Point] = []
    for step in range(DOME):
        pa = exp(log(bottom) + (log(top) - log(bottom)) * step / (DOME - 1))
        try:
            bubble, dew = tables.bubble_temperature(fluid, pa), tables.dew_temperature(fluid, pa)
        except Refused:
            continue
        pressures.append(pa)
        points += [("liquid", bubble, pa), ("gas", dew, pa)]
    for cycle in cycles:
        liquid = min(cycle.liquid, tables.bubble_temperature(fluid, cycle.high))
        vapour = max(cycle.vapour, tables.dew_temperature(fluid, cycle.low))
        hot = cycle.discharge or tables.dew_temperature(fluid, cycle.high) + SUPERHEAT + vapour - _dew(fluid, cycle.low)
        points += [("gas", vapour, cycle.low), ("gas", hot, cycle.high), ("liquid", liquid, cycle.high)]
    return pressures, points


def _dew(fluid: str, pa: float) -> float:
    return tables.dew_temperature(fluid, pa)


# ---- drawing


def cycle_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """The picture, or one line that says why there is none yet."""
    fluid = refrigerant_of(walk)
    measured = cycle_of(walk)
    if measured is None:
        return []
    wanted = wanted_of(walk)
    cycles = [measured, *([wanted] if wanted is not None else [])]
    try:
        pressures, points = points_of(fluid, cycles)
    except Refused as refused:
        return [Line(Content(shown(f" {refused.message}"[:width])))]
    found = service().of(fluid, points)
    if found is None:
        say = " Being worked out: the property library takes some seconds the first time."
        return [Line(Content.styled(say[:width], FAINT))]
    if isinstance(found, str):
        return [Line(Content(shown(f" {found}"[:width])))]
    return _drawn(walk, cycles, pressures, found, width, height)


def _drawn(
    walk: Walk, cycles: list[Cycle], pressures: list[float], found: list[float | None], width: int, height: int
) -> list[Line]:
    label = 11
    inner, tall = max(10, width - label - 2), max(4, height - 3)
    known = [h for h in found if h is not None]
    if len(known) < 4:
        return [Line(Content(" The property library has no enthalpies here."[:width]))]
    left, right = min(known), max(known)
    bottom, top = log(min(pressures + [c.low for c in cycles])), log(max(pressures + [c.high for c in cycles]))
    grid = [[" "] * inner for _ in range(tall)]

    def cell(enthalpy: float, pa: float) -> tuple[int, int]:
        row = round((top - log(pa)) / max(top - bottom, 1e-9) * (tall - 1))
        return max(0, min(tall - 1, row)), round((enthalpy - left) / max(right - left, 1e-9) * (inner - 1))

    for place, pa in enumerate(pressures):
        for enthalpy in found[2 * place : 2 * place + 2]:
            if enthalpy is not None:
                row, column = cell(enthalpy, pa)
                grid[row][column] = "·"
    start = 2 * len(pressures)
    for number, cycle in reversed(list(enumerate(cycles))):
        corners = found[start + 3 * number : start + 3 * number + 3]
        if None not in corners:
            vapour, hot, liquid = (float(each) for each in corners if each is not None)
            ring = [(vapour, cycle.low), (hot, cycle.high), (liquid, cycle.high), (liquid, cycle.low)]
            _ring(grid, [cell(*corner) for corner in ring], ITS if number == 0 else WANTED)
    labels = {cell(left, cycle.low)[0]: _gauge(walk, cycle.low) for cycle in reversed(cycles)}
    labels |= {cell(left, cycle.high)[0]: _gauge(walk, cycle.high) for cycle in reversed(cycles)}
    title = f" {refrigerant_of(walk)}  ● measured" + ("  ○ wanted" if len(cycles) > 1 else "") + "  · saturated"
    lines = [Line(Content.styled(title[:width], STRONG))]
    for number, cells in enumerate(grid):
        lines.append(Line(Content(f"{labels.get(number, ''):>{label}} │{''.join(cells)}".rstrip()[:width])))
    foot = f"enthalpy, {_enthalpy(walk, right - left)} from edge to edge; pressure by its logarithm"
    lines.append(Line(Content.styled(f"{'':>{label}} └{foot:─<{inner}}"[:width], FAINT)))
    return lines[:height]


def _ring(grid: list[list[str]], corners: list[tuple[int, int]], sign: str) -> None:
    for (row, column), (to_row, to_column) in zip(corners, [*corners[1:], corners[0]], strict=True):
        steps = max(abs(to_row - row), abs(to_column - column), 1)
        for step in range(steps + 1):
            at = round(row + (to_row - row) * step / steps), round(column + (to_column - column) * step / steps)
            if grid[at[0]][at[1]] in " ·":
                grid[at[0]][at[1]] = "─" if to_row == row else "│" if to_column == column else "·"
    for row, column in corners:
        grid[row][column] = sign


def _gauge(walk: Walk, pa: float) -> str:
    value = to_gauge(Quantity(Kind.ABSOLUTE_PRESSURE, pa), walk.machine.at_site.atmosphere)
    return show(value, usual_unit(value, walk.units))


def _enthalpy(walk: Walk, joules: float) -> str:
    """kJ/kg, or Btu/lb (1 Btu/lb is 2.326 kJ/kg exactly, NIST SP 811)."""
    return f"{joules / 2326:.0f} Btu/lb" if walk.units == "US" else f"{joules / 1000:.0f} kJ/kg"
