"""The property library, behind the few typed calls that the build needs. SI: Pa, K, mol/m3, kg/mol.

What a call raises is the library's own ValueError.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import CoolProp
import CoolProp.CoolProp as _untyped

_library: Any = _untyped
VERSION = f"CoolProp {CoolProp.__version__}"
REVISION = str(CoolProp.__gitrevision__)

# Our component ids where the library's own spelling differs.
_SPELLING = {
    "R-290": "n-Propane",
    "R-600": "n-Butane",
    "R-600a": "IsoButane",
    "R-601a": "Isopentane",
    "R-744": "CarbonDioxide",
    "R-717": "Ammonia",
    "R-1270": "Propylene",
    "R-227ea": "R227EA",
}


def spelling(component: str) -> str:
    """The library's name of a component: ``R-134a`` -> ``R134a``."""
    return _SPELLING.get(component, component.replace("-", "", 1))


def molar_mass(component: str) -> float:
    """kg/mol."""
    return float(_library.PropsSI("M", spelling(component)))


def gas_viscosity(component: str, kelvin: float, pa: float) -> float:
    """Pa s of a pure gas at ``kelvin`` and ``pa``, or at nine tenths of its saturation if that is less."""
    name = spelling(component)
    with suppress(ValueError):  # above its critical temperature there is no saturation
        pa = min(pa, 0.9 * float(_library.PropsSI("P", "T", kelvin, "Q", 1, name)))
    return float(_library.PropsSI("V", "T", kelvin, "P|gas", pa, name))


def _cas(component: str) -> str:
    return str(_library.get_fluid_param_string(spelling(component), "CAS"))


def pair_source(one: str, other: str) -> str | None:
    """The library's literature key for a binary pair, or None where it has no such pair."""
    for pair in ((one, other), (other, one)):
        try:
            return str(_library.get_mixture_binary_pair_data(_cas(pair[0]), _cas(pair[1]), "BibTeX"))
        except ValueError:
            continue
    return None


def pair_factors(one: str, other: str) -> tuple[float, float]:
    """(betaT, gammaT) of a pair in the order asked; betaT turns into its inverse in the other order."""
    return _factor(one, other, "betaT"), _factor(one, other, "gammaT")


def _factor(one: str, other: str, name: str) -> float:
    try:
        return float(_library.get_mixture_binary_pair_data(_cas(one), _cas(other), name))
    except ValueError:
        swapped = float(_library.get_mixture_binary_pair_data(_cas(other), _cas(one), name))
        return 1.0 / swapped if name == "betaT" else swapped


def estimate_pair(one: str, other: str, beta: float, gamma: float) -> None:
    """Give the library a pair it lacks: Lorentz-Berthelot rule with our betaT and gammaT for this order."""
    if pair_source(one, other) is None:
        _library.apply_simple_mixing_rule(_cas(one), _cas(other), "Lorentz-Berthelot")
    try:
        _set_factors(one, other, beta, gamma)
    except ValueError:
        _set_factors(other, one, 1.0 / beta, gamma)


def _set_factors(one: str, other: str, beta: float, gamma: float) -> None:
    for name, value in (("betaT", beta), ("gammaT", gamma)):
        _library.set_mixture_binary_pair_data(_cas(one), _cas(other), name, value)


class State:
    """One state object; never share one between threads (the library then answers wrongly in silence)."""

    def __init__(self, components: Sequence[str], fractions: Sequence[float], phase: str = "") -> None:
        self._state: Any = _library.AbstractState("HEOS", "&".join(map(spelling, components)))
        self.count = len(components)
        if self.count > 1:
            self._state.set_mole_fractions(list(fractions))
        if phase:
            self._state.specify_phase(getattr(CoolProp, f"iphase_{phase}"))

    def saturate(self, kelvin: float, quality: float) -> tuple[float, float, float]:
        """(p, liquid mol/m3, vapour mol/m3) at bubble (quality 0) or dew (1)."""
        self._state.update(_library.QT_INPUTS, quality, kelvin)
        liquid = self._state.saturated_liquid_keyed_output(_library.iDmolar)
        vapour = self._state.saturated_vapor_keyed_output(_library.iDmolar)
        return self._state.p(), liquid, vapour

    def coexisting(self, quality: float) -> list[float]:
        """Mole fractions of the phase that is just forming, after ``saturate``."""
        state = self._state
        return list(state.mole_fractions_liquid() if quality > 0.5 else state.mole_fractions_vapor())

    def at_density(self, kelvin: float, density: float, fractions: Sequence[float] = ()) -> float:
        """Pressure at a temperature and a density in mol/m3, the phase being imposed."""
        if fractions:
            self._state.set_mole_fractions(list(fractions))
        self._state.update(_library.DmolarT_INPUTS, density, kelvin)
        return float(self._state.p())

    def fugacities(self) -> list[float]:
        """Fugacity of every component (Pa) in the state last set."""
        return [self._state.fugacity(i) for i in range(self.count)]

    def vapour_density(self, pa: float, kelvin: float, dew_density: float) -> float:
        """mol/m3 of vapour at a pressure below dew, by halving between nothing and the density at dew.

        The library's own solver for given pressure and temperature gives up close to a blend's top.
        Up to dew the pressure of a vapour rises with its density, so halving cannot miss.
        """
        low, high = 0.0, dew_density
        while high - low > 1e-12 * high:
            middle = (low + high) / 2
            if self.at_density(kelvin, middle) < pa:
                low = middle
            else:
                high = middle
        return high

    def enthalpy(self, pa: float, kelvin: float) -> float:
        """J/kg, from the library's own zero, the phase being imposed."""
        self._state.update(_library.PT_INPUTS, pa, kelvin)
        return float(self._state.hmass())

    def enthalpy_at(self, kelvin: float, density: float) -> float:
        """J/kg at a temperature and a density in kg/m3: worked out directly, so nothing has to be searched for."""
        self._state.update(_library.DmolarT_INPUTS, density / self.molar_mass(), kelvin)
        return float(self._state.hmass())

    def entropy(self, pa: float, kelvin: float) -> float:
        """J/(kg K), from the library's own zero, the phase being imposed."""
        self._state.update(_library.PT_INPUTS, pa, kelvin)
        return float(self._state.smass())

    def virials(self, kelvin: float) -> tuple[float, float]:
        """Second (m3/mol) and third (m6/mol2) virial coefficient."""
        self._state.update(_library.DmolarT_INPUTS, 1e-6, kelvin)
        return float(self._state.Bvirial()), float(self._state.Cvirial())

    def limits(self) -> tuple[float, float, float]:
        """(critical K, critical Pa, triple point K) of a pure fluid."""
        return self._state.T_critical(), self._state.p_critical(), self._state.Ttriple()

    def molar_mass(self) -> float:
        """kg/mol."""
        return float(self._state.molar_mass())
