"""Pressure against enthalpy: the dome of this refrigerant, this circuit's cycle, and the one that is wanted."""

from __future__ import annotations

import atexit
from functools import lru_cache
from itertools import pairwise
from math import floor, log, log10
from typing import TYPE_CHECKING

from tui.app.pictures.canvas import Canvas
from tui.app.pictures.cycle import Drawn, cycle_of, dome_of, drawn_of, points_of, refrigerant_of, wanted_of
from tui.app.sheet import FAINT, STRONG, Line, styled
from tui.quantity import Kind, Quantity, Refused, show, to_gauge, usual_unit
from tui.refrigerant import facts
from tui.refrigerant.enthalpy import Enthalpies

if TYPE_CHECKING:
    from tui.walk import Walk

MEASURED, WANTED, SUM, DOME = "●", "○", "◇", "·"
LINES = {MEASURED: ("─", "│", "/"), WANTED: ("-", ":", "'")}
ABOVE = 1.6  # of the highest pressure: where a low picture ends; a tall one shows the whole dome
TALL = 26  # lines
PER_LB = 2326.0  # J/kg in 1 Btu/lb, exactly (International Table Btu: NIST SP 811, appendix B.8)
LEAST = 6  # lines

Sides = list[tuple[float, float, float]]


@lru_cache(maxsize=1)
def service() -> Enthalpies:
    """The one child of this process, which ends it."""
    made = Enthalpies()
    atexit.register(made.close)
    return made


def waiting() -> bool:
    """Whether it still works on an answer."""
    return service.cache_info().currsize > 0 and service().waiting


def can_be_drawn(walk: Walk) -> bool:
    """Whether suction, head and both lines are known."""
    return cycle_of(walk) is not None


def enthalpy_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """The picture, or one line that says why there is none yet; empty while readings are missing."""
    measured = cycle_of(walk)
    if measured is None or height < 1:
        return []
    fluid = refrigerant_of(walk)
    if not fluid:
        return _say("This refrigerant is not in the tables, so its enthalpies are not known here.", width)
    wanted = wanted_of(walk)
    cycles = [measured, *([wanted] if wanted is not None else [])]
    try:
        dome = dome_of(fluid, cycles)
        points = points_of(fluid, cycles, dome, walk.units)
    except Refused as refused:
        return _say(refused.message, width)
    answer = service().of(fluid, points)
    if answer is None:
        return _say("Being worked out: the property library takes some seconds the first time.", width)
    if isinstance(answer, str):
        return _say(answer, width)
    sides, drawn = drawn_of(cycles, dome, answer, walk.units)
    if drawn[0] is None or len(sides) < 2:
        return _say("The property library has no enthalpies for these readings.", width)
    if height < LEAST:
        return _say("More lines are needed for this picture.", width)
    return _Diagram(walk, fluid, sides, drawn[0], drawn[1] if len(drawn) > 1 else None, width, height).lines()


def _say(words: str, width: int) -> list[Line]:
    """In one line of at most so many cells."""
    text = f" {words}"
    return [Line(styled(text if len(text) <= width else f"{text[: width - 3]}...", FAINT))]


class _Diagram:
    """One picture being drawn: title, the drawing with its pressures, the axis of enthalpy, what is taken up."""

    def __init__(
        self, walk: Walk, fluid: str, sides: Sides, own: Drawn, wanted: Drawn | None, width: int, height: int
    ) -> None:
        self.walk, self.fluid, self.own, self.wanted = walk, fluid, own, wanted
        cycles = [own, *([wanted] if wanted is not None else [])]
        self.bottom = min(sides[0][0], *(each.low for each in cycles))
        most = max(each.high for each in cycles)
        self.top = max(most, sides[-1][0] if height >= TALL else min(sides[-1][0], ABOVE * most))
        self.sides = [each for each in sides if each[0] <= self.top]
        inside = [h for _, bubble, dew in self.sides for h in (bubble, dew)]
        inside += [h for each in cycles for h in (each.vapour, each.compressed, each.liquid)]
        self.left_h, self.right_h = min(inside), max(inside)
        self.tall = height - (4 if height >= 12 else 3)
        self.under = height >= 12
        labelled = [self.bottom, self.top, *(pa for each in cycles for pa in (each.low, each.high))]
        self.left = max(len(self._gauge(pa)) for pa in labelled) + 4
        self.canvas = Canvas(width, height)
        self.inner = max(4, width - self.left - 1)

    def lines(self) -> list[Line]:
        self._title()
        for row in range(self.tall):
            self.canvas.put(row + 1, self.left - 1, "│")
        self._saturation()
        if self.wanted is not None:
            self._ring(self.wanted, WANTED, FAINT)
        self._ring(self.own, MEASURED, "")
        self._pressures()
        self._axis()
        if self.under:
            self.canvas.put(self.tall + 3, 1, self._taken_up(), FAINT)
        return self.canvas.lines()

    def _title(self) -> None:
        estimated = ", estimated" if facts(self.fluid).estimated else ""
        parts = [f"{self.fluid}{estimated}", f"{MEASURED} measured"]
        parts += [f"{WANTED} wanted"] if self.wanted is not None else []
        parts += [f"{DOME} saturated"]
        parts += [] if self.own.measured else [f"{SUM} if nothing were lost"]
        self.canvas.put(0, 1, "  ".join(parts), STRONG)

    def _row(self, pa: float) -> int:
        share = (log(self.top) - log(pa)) / max(log(self.top) - log(self.bottom), 1e-9)
        return 1 + max(0, min(self.tall - 1, round(share * (self.tall - 1))))

    def _column(self, enthalpy: float) -> int:
        share = (enthalpy - self.left_h) / max(self.right_h - self.left_h, 1e-9)
        return self.left + max(0, min(self.inner - 1, round(share * (self.inner - 1))))

    def _saturation(self) -> None:
        """Both sides of the dome without a hole: from each asked pressure straight to the next."""
        for side in (1, 2):
            cells = [(self._row(each[0]), self._column(each[side])) for each in self.sides]
            for start, end in pairwise(cells):
                self._straight(start, end, (DOME, DOME, DOME), FAINT)

    def _ring(self, cycle: Drawn, sign: str, style: str) -> None:
        low, high = self._row(cycle.low), self._row(cycle.high)
        vapour, hot, liquid = (self._column(h) for h in (cycle.vapour, cycle.compressed, cycle.liquid))
        corners = [(low, vapour), (high, hot), (high, liquid), (low, liquid)]
        for start, end in pairwise([*corners, corners[0]]):
            self._straight(start, end, LINES[sign], style)
        for place, corner in enumerate(corners):
            own = sign if place != 1 or cycle.measured or sign == WANTED else SUM
            self.canvas.put(*corner, own, STRONG if sign == MEASURED else style)

    def _straight(self, start: tuple[int, int], end: tuple[int, int], signs: tuple[str, str, str], style: str) -> None:
        """A line from cell to cell with signs for level, upright and slanting."""
        (row, column), (to_row, to_column) = start, end
        steps = max(abs(to_row - row), abs(to_column - column))
        sign = signs[0] if row == to_row else signs[1] if column == to_column else signs[2]
        for step in range(steps + 1):
            at = step / max(steps, 1)
            self.canvas.put(round(row + (to_row - row) * at), round(column + (to_column - column) * at), sign, style)

    def _pressures(self) -> None:
        """Measured, then wanted, then the edges, as far as rows are free."""
        marked = [(self.own.high, MEASURED), (self.own.low, MEASURED)]
        marked += [(self.wanted.high, WANTED), (self.wanted.low, WANTED)] if self.wanted is not None else []
        taken: set[int] = set()
        for pa, sign in [*marked, (self.top, " "), (self.bottom, " ")]:
            row = self._row(pa)
            if row not in taken:
                taken.add(row)
                text = f"{self._gauge(pa)} {sign}"
                self.canvas.put(row, self.left - 1 - len(text), text, STRONG if sign == MEASURED else "")

    def _axis(self) -> None:
        """Round numbers of enthalpy under the drawing, its unit at the end."""
        row = self.tall + 1
        self.canvas.put(row, self.left - 1, "└" + "─" * self.inner)
        size, unit = (PER_LB, "Btu/lb") if self.walk.units == "US" else (1000.0, "kJ/kg")
        low, high = self.left_h / size, self.right_h / size
        step = _round_step((high - low) / max(1, self.inner // 12))
        end = self.left + self.inner - len(unit)
        self.canvas.put(row + 1, 1, "enthalpy", FAINT)
        self.canvas.put(row + 1, end, unit, FAINT)
        tick = (floor(low / step) + 1) * step
        while tick <= high:
            column, text = self._column(tick * size), f"{tick:g}"
            start = column - len(text) // 2
            if start >= max(self.left - 1, 10) and start + len(text) < end:
                self.canvas.put(row, column, "┴")
                self.canvas.put(row + 1, start, text, FAINT)
            tick += step

    def _taken_up(self) -> str:
        said = f"From liquid to suction it takes up {self._enthalpy(self.own.vapour - self.own.liquid)}"
        if self.wanted is None:
            return f"{said}."
        return f"{said}, wanted {self._enthalpy(self.wanted.vapour - self.wanted.liquid)}."

    def _gauge(self, pa: float) -> str:
        value = to_gauge(Quantity(Kind.ABSOLUTE_PRESSURE, pa), self.walk.machine.at_site.atmosphere)
        return show(value, usual_unit(value, self.walk.units))

    def _enthalpy(self, joules: float) -> str:
        return f"{joules / PER_LB:.1f} Btu/lb" if self.walk.units == "US" else f"{joules / 1000:.0f} kJ/kg"


def _round_step(least: float) -> float:
    """The smallest of 1, 2, 5, 10, 20 ... that is not smaller."""
    ten = 10.0 ** floor(log10(max(least, 1e-6)))
    return float(next(each * ten for each in (1, 2, 5, 10) if each * ten >= least * 0.999))
