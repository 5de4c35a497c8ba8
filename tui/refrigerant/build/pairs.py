"""Binary pairs that the property library lacks, each with one reducing parameter fitted to published figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from tui.refrigerant.build import library

_FITTED = "estimated: Lorentz-Berthelot with gammaT {} fitted to 1 atm bubble and dew of {} in 2021 ASHRAE HoF"
_BUTANE = "estimated: Lorentz-Berthelot with gammaT {}, taken over from {} / n-butane"

# (one, other): (gammaT, where it comes from)
ESTIMATED: Mapping[frozenset[str], tuple[float, str]] = {
    frozenset({"R-22", "R-124"}): (0.9735, _FITTED.format(0.9735, "R-401A, R-409A")),
    frozenset({"R-152a", "R-124"}): (0.998, _FITTED.format(0.998, "R-401A")),
    frozenset({"R-125", "R-22"}): (0.975, _FITTED.format(0.975, "R-402A, R-408A")),
}


def prepare(components: Sequence[str]) -> dict[str, str]:
    """Make every pair of a blend usable; returns the source of each (``R-32/R-125`` -> literature key)."""
    sources = {}
    for one, other in combinations(components, 2):
        name = f"{one}/{other}"
        known = ESTIMATED.get(frozenset({one, other}))
        if known is not None:
            library.estimate_pair(one, other, known[0])
            sources[name] = known[1]
            continue
        found = library.pair_source(one, other)
        if found is None:
            raise LookupError(f"no binary pair {name} in {library.VERSION}, and none is estimated")
        sources[name] = found
    return sources
