"""Refrigerants: names, saturation, densities, composition, safety class, GWP, LFL, each with its source.

Pressures in Pa ABSOLUTE, temperatures in K, densities in kg/m3. Figures come from checked-in tables; nothing
here imports the property library that built them.
"""

from __future__ import annotations

from tui.refrigerant.facts import Facts, Figure, annex_i, annex_ii, blend_gwp, facts, law_gwp
from tui.refrigerant.gas import molar_mass, viscosity
from tui.refrigerant.look import Look, look
from tui.refrigerant.names import UNLISTED, ids, resolve
from tui.refrigerant.nitrogen import nitrogen_pressure
from tui.refrigerant.saturation import (
    bubble_pressure,
    bubble_temperature,
    dew_pressure,
    dew_temperature,
    liquid_density,
    mid_pressure,
    mid_temperature,
    saturated_vapour_density,
    vapour_density,
)

__all__ = [
    "UNLISTED",
    "Facts",
    "Figure",
    "Look",
    "annex_i",
    "annex_ii",
    "blend_gwp",
    "bubble_pressure",
    "bubble_temperature",
    "dew_pressure",
    "dew_temperature",
    "facts",
    "ids",
    "law_gwp",
    "liquid_density",
    "look",
    "mid_pressure",
    "mid_temperature",
    "molar_mass",
    "nitrogen_pressure",
    "resolve",
    "saturated_vapour_density",
    "vapour_density",
    "viscosity",
]
