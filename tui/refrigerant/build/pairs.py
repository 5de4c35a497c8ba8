"""Binary pairs that the property library lacks, one reducing parameter each fitted to published figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from tui.refrigerant.build import library

_FITTED = "estimated: Lorentz-Berthelot, gammaT {} fitted to {} at 1 atm (2021 ASHRAE HoF ch. 29)"
_TAKEN = "estimated: Lorentz-Berthelot, betaT {:.5f} and gammaT {:.5f} as of {}/{} ({})"

# One fitted reducing parameter gammaT a pair, and the blends whose published figures it was fitted to.
FITTED: Mapping[tuple[str, str], tuple[float, str]] = {
    ("R-22", "R-124"): (0.9735, "R-401A and R-409A"),
    ("R-152a", "R-124"): (0.998, "R-401A"),
    ("R-125", "R-22"): (0.975, "R-402A and R-402B"),
}
# Isopentane is at most 0.6 % of a blend here; these pairs of it are taken to be those of n-butane.
TAKEN: Mapping[tuple[str, str], str] = {
    ("R-32", "R-601a"): "R-600",
    ("R-125", "R-601a"): "R-600",
    ("R-134a", "R-601a"): "R-600",
}


def prepare(components: Sequence[str]) -> dict[str, str]:
    """Make every pair of a blend usable; returns the source of each (``R-32/R-125`` -> literature key).

    Raises LookupError for a pair that neither the library nor this file knows.
    """
    return {f"{one}/{other}": _prepare(one, other) for one, other in combinations(components, 2)}


def _prepare(one: str, other: str) -> str:
    fitted = FITTED.get((one, other)) or FITTED.get((other, one))
    if fitted is not None:
        library.estimate_pair(one, other, 1.0, fitted[0])
        return _FITTED.format(*fitted)
    instead = TAKEN.get((one, other))
    if instead is not None:
        beta, gamma = library.pair_factors(one, instead)
        library.estimate_pair(one, other, beta, gamma)
        return _TAKEN.format(beta, gamma, one, instead, library.pair_source(one, instead))
    found = library.pair_source(one, other)
    if found is None:
        raise LookupError(f"no binary pair {one}/{other} in {library.VERSION}, and none is estimated")
    return found
