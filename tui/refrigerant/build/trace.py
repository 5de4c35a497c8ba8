"""Traces a mixture's saturation line over the whole range by continuation.

The library's own flash gives up some kelvin below the top of a blend. Newton's method on the conditions of
equilibrium (equal fugacity of each component, equal pressure, fractions that add up to 1), started from the
neighbouring temperature, does not.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, isfinite, log

from tui.refrigerant.build.library import State

START_K = 250.0
LOWEST_DENSITY_RATIO = 1.5  # nearer to the critical point the two phases cannot be told apart safely


class Lost(Exception):
    """The line could not be followed any further."""


class Point:
    """One point of a line: pressure (Pa), liquid and vapour density (mol/m3)."""

    __slots__ = ("liquid", "pa", "vapour")

    def __init__(self, pa: float, liquid: float, vapour: float) -> None:
        self.pa, self.liquid, self.vapour = pa, liquid, vapour


class Tracer:
    """Follows bubble (quality 0) or dew (quality 1) of one composition (mole fractions)."""

    def __init__(self, components: Sequence[str], fractions: Sequence[float], quality: float) -> None:
        self._whole = list(fractions)
        self._quality = quality
        self._liquid = State(components, fractions, "liquid")
        self._vapour = State(components, fractions, "gas")
        first = State(components, fractions)
        _, liquid, vapour = first.saturate(START_K, quality)
        self._start = [log(liquid), log(vapour), *first.coexisting(quality)]

    def line(self, kelvin: Sequence[float]) -> dict[float, Point]:
        """Points at the temperatures wanted (rising; START_K among them), as far as the line goes."""
        at = list(kelvin).index(START_K)
        found = self._follow(kelvin[at::-1])
        found.update(self._follow(kelvin[at:]))
        return found

    def _follow(self, kelvin: Sequence[float]) -> dict[float, Point]:
        found: dict[float, Point] = {}
        before: list[float] | None = None
        guess = self._start
        for t in kelvin:
            try:
                here = self._settle(t, guess)
            except Lost:
                break
            if exp(here[0] - here[1]) < LOWEST_DENSITY_RATIO:
                break
            found[t] = Point(self._pressure(t, here), exp(here[0]), exp(here[1]))
            guess = here if before is None else [2 * h - b for h, b in zip(here, before, strict=True)]
            before = here
        return found

    def _pressure(self, kelvin: float, unknowns: Sequence[float]) -> float:
        self._misfit(kelvin, unknowns)
        return self._vapour_pa

    def _misfit(self, kelvin: float, unknowns: Sequence[float]) -> list[float]:
        """ln f(liquid) - ln f(vapour) of each component, pressure difference, fractions beyond 1."""
        forming = list(unknowns[2:])
        liquid, vapour = (forming, self._whole) if self._quality > 0.5 else (self._whole, forming)
        try:
            liquid_pa = self._liquid.at_density(kelvin, exp(unknowns[0]), liquid)
            self._vapour_pa = self._vapour.at_density(kelvin, exp(unknowns[1]), vapour)
            ratios = [
                log(a / b) for a, b in zip(self._liquid.fugacities(), self._vapour.fugacities(), strict=True)
            ]
        except (ValueError, OverflowError, ZeroDivisionError) as reason:
            raise Lost(str(reason)) from reason
        return [*ratios, (liquid_pa - self._vapour_pa) / self._vapour_pa, sum(forming) - 1.0]

    def _settle(self, kelvin: float, guess: Sequence[float]) -> list[float]:
        """Newton's method from a near guess. Raises Lost when it does not settle."""
        here = list(guess)
        for _ in range(25):
            misfit = self._misfit(kelvin, here)
            step = solve(_slopes(lambda u: self._misfit(kelvin, u), here, misfit), [-m for m in misfit])
            if not all(map(isfinite, step)):
                raise Lost("step is not a number")
            shrink = min(1.0, 0.3 / max(map(abs, step)))
            here = [h + shrink * s for h, s in zip(here, step, strict=True)]
            if max(map(abs, step)) < 1e-10:
                return here
        raise Lost(f"no settling at {kelvin} K")


def _slopes(
    function: Callable[[Sequence[float]], list[float]], at: Sequence[float], value: Sequence[float]
) -> list[list[float]]:
    """Matrix of forward differences: row i is how value i changes with each unknown."""
    columns = []
    for j in range(len(at)):
        moved = list(at)
        step = 1e-7 * max(abs(moved[j]), 1e-3)
        moved[j] += step
        columns.append([(m - v) / step for m, v in zip(function(moved), value, strict=True)])
    return [list(row) for row in zip(*columns, strict=True)]


def solve(matrix: list[list[float]], right: Sequence[float]) -> list[float]:
    """Gaussian elimination with row exchange; a handful of unknowns. Raises Lost on a singular matrix."""
    n = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for i in range(n):
        pivot = max(range(i, n), key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        if rows[i][i] == 0.0:
            raise Lost("singular")
        for r in range(i + 1, n):
            factor = rows[r][i] / rows[i][i]
            rows[r] = [a - factor * b for a, b in zip(rows[r], rows[i], strict=True)]
    answer = [0.0] * n
    for i in reversed(range(n)):
        rest = sum(rows[i][k] * answer[k] for k in range(i + 1, n))
        answer[i] = (rows[i][n] - rest) / rows[i][i]
    return answer
