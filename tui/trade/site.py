"""Where and when a visit happens, as far as sums need it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from tui.quantity import Atmosphere


@dataclass(frozen=True, slots=True)
class Site:
    """`atmosphere`: what gauge pressures stand on. `today`: None if nobody said.

    `region`: whose published rules apply; empty means that no rules are loaded.
    """

    atmosphere: Atmosphere
    today: date | None = None
    region: str = ""
