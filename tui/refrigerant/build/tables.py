"""Builds one refrigerant's table: saturation by 1 K, densities, the vapour grid, and their sources."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, floor
from typing import Any

from tui.refrigerant.build import library, pairs
from tui.refrigerant.build.library import State
from tui.refrigerant.build.trace import Point, Tracer
from tui.refrigerant.table import GAS_CONSTANT, Line

LOWEST_K = 200.0  # -99.7 °F: below any evaporator, and where the pseudo-pure equations begin
FINE_K = 5.0  # the last kelvins under a critical point bend: nodes by a quarter there
NEARNESS = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0)
GRID_ROWS = 24
GRID_CROWDING = 2.0
DIGITS = 8

# Half-width of the saturation temperature's error in K, by how the table is made. Pure: agreement with
# independent sources. Blends: at least this, and never less than the distance to the published figures.
LEAST_ERROR_K = {"pure": 0.06, "pseudo-pure": 0.2, "mixture": 0.3, "estimated": 1.11}
OWN_ERROR_K = {
    "R-408A": 1.67,  # the one blend whose fit stays 1 K off at 1 atm
    "R-1270": 0.12,  # independent correlations of propylene differ among themselves by this much
}


def build(refrigerant: str, facts: Mapping[str, Any]) -> dict[str, Any]:
    """The table of one refrigerant as plain JSON data; ``facts`` is its entry in facts.json."""
    made = facts["made"]
    if made in ("mixture", "estimated"):
        return _blend(refrigerant, facts)
    return _one_fluid(refrigerant, facts)


def _one_fluid(refrigerant: str, facts: Mapping[str, Any]) -> dict[str, Any]:
    """A pure fluid, or a blend that the library carries as one (its bubble and dew lines are fitted)."""
    state = State([refrigerant], [])
    critical_K, critical_pa, triple_K = state.limits()
    pure = facts["made"] == "pure"
    kelvin = _nodes(triple_K if pure else LOWEST_K, critical_K, pure)
    bubble = [Point(*state.saturate(t, 0.0)) for t in kelvin]
    dew = [Point(*state.saturate(t, 1.0)) for t in kelvin] if not pure else bubble
    gas = State([refrigerant], [], "gas")
    limits = {"critical_K": critical_K, "critical_pa": critical_pa, "triple_K": triple_K if pure else None}
    return _assemble(refrigerant, facts, kelvin, bubble, dew, gas, limits, {})


def _nodes(lowest: float, critical: float, pure: bool) -> list[float]:
    """Every kelvin; for a pure fluid the triple point too, and quarter kelvins near the critical one."""
    first = max(LOWEST_K, lowest)
    whole = [float(t) for t in range(ceil(first), floor(critical - (0.25 if pure else 1.0)) + 1)]
    if first > LOWEST_K and first < whole[0]:
        whole.insert(0, first)
    if not pure:
        return whole
    quarters = [q / 4 for q in range(ceil((critical - FINE_K) * 4), floor((critical - 0.1) * 4) + 1)]
    return sorted({*whole, *quarters})


def _blend(refrigerant: str, facts: Mapping[str, Any]) -> dict[str, Any]:
    """A blend through the mixture model, each line followed by continuation as far as both go."""
    components = list(facts["composition"])
    fractions = mole_fractions(facts["composition"])
    sources = pairs.prepare(components)
    wanted = [float(t) for t in range(int(LOWEST_K), 420)]
    bubble = Tracer(components, fractions, 0.0).line(wanted)
    dew = Tracer(components, fractions, 1.0).line(wanted)
    kelvin = sorted(bubble.keys() & dew.keys())
    gas = State(components, fractions, "gas")
    limits = {"critical_K": None, "critical_pa": None, "triple_K": None}
    lines = [bubble[t] for t in kelvin], [dew[t] for t in kelvin]
    return _assemble(refrigerant, facts, kelvin, *lines, gas, limits, sources)


def mole_fractions(mass_percent: Mapping[str, float]) -> list[float]:
    """Nominal mass composition (%) to mole fractions."""
    moles = [share / library.molar_mass(name) for name, share in mass_percent.items()]
    return [n / sum(moles) for n in moles]


def _assemble(
    refrigerant: str,
    facts: Mapping[str, Any],
    kelvin: Sequence[float],
    bubble: Sequence[Point],
    dew: Sequence[Point],
    gas: State,
    limits: Mapping[str, float | None],
    pair_sources: Mapping[str, str],
) -> dict[str, Any]:
    molar_mass = gas.molar_mass()
    made = facts["made"]
    at_1_atm = _at_1_atm(kelvin, bubble, dew, facts.get("published_1atm"))
    return {
        "refrigerant": refrigerant,
        "made": made,
        "estimated": made == "estimated",
        "error_K": OWN_ERROR_K.get(refrigerant) or _error(made, at_1_atm),
        "library": library.VERSION,
        "library_git": library.REVISION,
        "composition_mass_percent": facts["composition"],
        "pair_sources": pair_sources,
        "at_1_atm": at_1_atm,
        "molar_mass_kg_mol": molar_mass,
        **limits,
        "kelvin": kelvin,
        "bubble_pa": None if dew is bubble else _rounded(p.pa for p in bubble),
        "dew_pa": _rounded(p.pa for p in dew),
        "liquid_kg_m3": _rounded(p.liquid * molar_mass for p in bubble),
        "vapour_kg_m3": _rounded(p.vapour * molar_mass for p in dew),
        "vapour_shape": _shape(kelvin, dew, gas),
    }


def _at_1_atm(
    kelvin: Sequence[float],
    bubble: Sequence[Point],
    dew: Sequence[Point],
    published: Mapping[str, Any] | None,
) -> dict[str, Any] | None:
    """Built bubble and dew in °C at 101.325 kPa beside the published ones."""
    if dew[0].pa > 101325:
        return None
    built = [
        round(Line(tuple(kelvin), tuple(p.pa for p in line)).temperature(101325)[0] - 273.15, 2)
        for line in (bubble, dew)
    ]
    return {"built_bubble_C": built[0], "built_dew_C": built[1], "published": published}


def _error(made: str, at_1_atm: Mapping[str, Any] | None) -> float:
    """Half-width in K: the least of its kind, or the distance to the published figures, whichever is more."""
    least = LEAST_ERROR_K[made]
    published = at_1_atm and at_1_atm["published"]
    if not at_1_atm or not published:
        return least
    off: float = max(abs(at_1_atm[f"built_{end}_C"] - published[f"{end}_C"]) for end in ("bubble", "dew"))
    return max(least, round(off, 2))


def _shape(kelvin: Sequence[float], dew: Sequence[Point], gas: State) -> dict[str, Any]:
    """h = (1 - Z) / (1 - Zdew) / r over temperature and nearness s = sqrt(1 - r), r = p/pdew.

    In s the bend of a vapour close to its critical point is nearly straight; rows lie closer there too.
    """
    last = len(kelvin) - 1
    rows = sorted({round(last * (1 - (1 - i / (GRID_ROWS - 1)) ** GRID_CROWDING)) for i in range(GRID_ROWS)})
    shape = []
    for i in rows:
        specific = GAS_CONSTANT * kelvin[i]
        z_dew = dew[i].pa / (dew[i].vapour * specific)
        row = [1.0]
        for nearness in NEARNESS[1:-1]:
            ratio = 1 - nearness**2
            density = gas.vapour_density(ratio * dew[i].pa, kelvin[i], dew[i].vapour)
            z = ratio * dew[i].pa / (density * specific)
            row.append(round((1 - z) / (1 - z_dew) / ratio, 5))
        thin = -gas.virials(kelvin[i])[0] * dew[i].pa / specific  # (1 - Z)/r where r goes to nothing
        shape.append([*row, round(thin / (1 - z_dew), 5)])
    return {"kelvin": [kelvin[i] for i in rows], "nearness": NEARNESS, "h": shape}


def _rounded(values: Iterable[float]) -> list[float]:
    return [float(f"{v:.{DIGITS}g}") for v in values]
