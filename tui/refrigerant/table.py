"""One refrigerant's saturation table: read once, never changed, so threads may share it.

Between two nodes ln p is a straight line over 1/T (Clausius-Clapeyron with a constant heat of vaporisation
over 1 K), so a look-up and its inverse undo each other exactly.
Vapour density follows Z = 1 - (1 - Zdew(T)) r h(T, r) with r = p/pdew: Zdew by 1 K, h from a coarse grid.
"""

from __future__ import annotations

import json
from bisect import bisect_right
from collections.abc import Mapping
from math import exp, log, sqrt
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
SATURATION = DATA / "saturation"
GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact there


class Line:
    """A saturation line, bubble or dew: pressure (Pa absolute) over temperature (K), both ways."""

    __slots__ = ("_inverse", "_kelvin", "_log", "_slope", "high", "low")

    def __init__(self, kelvin: tuple[float, ...], pa: tuple[float, ...]) -> None:
        self._kelvin = kelvin
        self._log = tuple(map(log, pa))
        self._inverse = tuple(1.0 / t for t in kelvin)
        steps = range(len(kelvin) - 1)
        self._slope = tuple(
            (self._log[i + 1] - self._log[i]) / (self._inverse[i + 1] - self._inverse[i]) for i in steps
        )
        self.low, self.high = pa[0], pa[-1]

    def temperature(self, pa: float) -> tuple[float, float]:
        """(T in K, dT/dp in K/Pa) at a pressure inside ``low``..``high`` (Pa absolute)."""
        x = log(pa)
        i = min(bisect_right(self._log, x), len(self._slope)) - 1
        i = max(i, 0)
        slope = self._slope[i]
        kelvin = 1.0 / (self._inverse[i] + (x - self._log[i]) / slope)
        kelvin = min(max(kelvin, self._kelvin[0]), self._kelvin[-1])  # rounding never leaves the table
        return kelvin, -kelvin * kelvin / (slope * pa)

    def pressure(self, kelvin: float) -> tuple[float, float]:
        """(p in Pa absolute, dp/dT in Pa/K) at a temperature inside the table (K)."""
        i = min(bisect_right(self._kelvin, kelvin), len(self._slope)) - 1
        i = max(i, 0)
        slope = self._slope[i]
        pa = exp(self._log[i] + (1.0 / kelvin - self._inverse[i]) * slope)
        pa = min(max(pa, self.low), self.high)
        return pa, -slope * pa / (kelvin * kelvin)


class Table:
    """All lines of one refrigerant. Temperatures in K, pressures in Pa absolute, densities in kg/m3."""

    __slots__ = (
        "bubble", "critical_K", "critical_pa", "dew", "error_K", "grid", "high_K", "id", "kelvin",
        "liquid", "low_K", "made", "molar_mass", "triple_K", "z_dew",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any]) -> None:
        self.id: str = data["refrigerant"]
        self.made: str = data["made"]  # pure, pseudo-pure, mixture or estimated
        self.kelvin: tuple[float, ...] = tuple(data["kelvin"])
        self.low_K, self.high_K = self.kelvin[0], self.kelvin[-1]
        self.dew = Line(self.kelvin, tuple(data["dew_pa"]))
        bubble = data.get("bubble_pa")
        self.bubble = self.dew if bubble is None else Line(self.kelvin, tuple(bubble))
        self.liquid: tuple[float, ...] = tuple(data["liquid_kg_m3"])
        self.grid = Grid(data["vapour_shape"])
        self.molar_mass: float = data["molar_mass_kg_mol"]
        # Z bends far less than density between two nodes, and density follows from it without loss.
        states = zip(data["dew_pa"], data["vapour_kg_m3"], self.kelvin, strict=True)
        self.z_dew = tuple(pa / (density * self._specific(t)) for pa, density, t in states)
        self.critical_K: float | None = data["critical_K"]
        self.critical_pa: float | None = data["critical_pa"]
        self.triple_K: float | None = data["triple_K"]
        self.error_K: float = data["error_K"]

    def along(self, column: tuple[float, ...], kelvin: float) -> tuple[float, float]:
        """(value, d value/dT) of a column by 1 K, linear over T, at a temperature inside the table."""
        nodes = self.kelvin
        i = max(min(bisect_right(nodes, kelvin), len(nodes) - 1) - 1, 0)
        slope = (column[i + 1] - column[i]) / (nodes[i + 1] - nodes[i])
        return column[i] + slope * (kelvin - nodes[i]), slope

    def _specific(self, kelvin: float) -> float:
        """R T / M in J/kg."""
        return GAS_CONSTANT * kelvin / self.molar_mass

    def saturated_vapour(self, kelvin: float) -> tuple[float, float]:
        """(density of vapour at dew in kg/m3, its slope over temperature) inside the table."""
        pa, pa_slope = self.dew.pressure(kelvin)
        z, z_slope = self.along(self.z_dew, kelvin)
        density = pa / (z * self._specific(kelvin))
        return density, density * (pa_slope / pa - z_slope / z - 1.0 / kelvin)

    def vapour_density(self, pa: float, kelvin: float) -> float:
        """Vapour density (kg/m3) at ``pa`` (Pa absolute, at most dew) and ``kelvin``, inside the table."""
        dew_pa = self.dew.pressure(kelvin)[0]
        z_dew = self.along(self.z_dew, kelvin)[0]
        ratio = min(pa / dew_pa, 1.0)
        z = 1.0 - (1.0 - z_dew) * ratio * self.grid.at(kelvin, ratio)
        return pa / (z * self._specific(kelvin))


class Grid:
    """h(T, r): how a vapour leaves the ideal gas on its way to dew (h = 1); bilinear in T and sqrt(1 - r)."""

    __slots__ = ("_kelvin", "_nearness", "_rows")

    def __init__(self, data: Mapping[str, Any]) -> None:
        self._kelvin: tuple[float, ...] = tuple(data["kelvin"])
        self._nearness: tuple[float, ...] = tuple(data["nearness"])
        self._rows: tuple[tuple[float, ...], ...] = tuple(map(tuple, data["h"]))

    def at(self, kelvin: float, ratio: float) -> float:
        """h at a temperature (K) and pressure ratio 0..1."""
        nearness = sqrt(1.0 - ratio)
        i = max(min(bisect_right(self._kelvin, kelvin), len(self._kelvin) - 1) - 1, 0)
        j = max(min(bisect_right(self._nearness, nearness), len(self._nearness) - 1) - 1, 0)
        low_t, low_s = self._kelvin[i], self._nearness[j]
        a = (kelvin - low_t) / (self._kelvin[i + 1] - low_t)
        b = (nearness - low_s) / (self._nearness[j + 1] - low_s)
        below, above = self._rows[i], self._rows[i + 1]
        return (1 - a) * ((1 - b) * below[j] + b * below[j + 1]) + a * ((1 - b) * above[j] + b * above[j + 1])


_tables: dict[str, Table] = {}


def table(refrigerant: str) -> Table:
    """The table of a refrigerant by its id (``R-134a``), read from the package on first use.

    Raises KeyError for what is no id: ``resolve`` comes first for what a person typed.
    """
    found = _tables.get(refrigerant)
    if found is None:
        # Two threads may both read the file; both results are equal and the last one stays.
        found = _tables[refrigerant] = Table(json.loads(read(refrigerant)))
    return found


def read(refrigerant: str) -> str:
    """The checked-in text of a refrigerant's table. Raises KeyError where there is none."""
    try:
        return (SATURATION / f"{refrigerant}.json").read_text(encoding="utf-8")
    except FileNotFoundError:
        raise KeyError(refrigerant) from None
