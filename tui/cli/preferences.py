"""What the commands take from the settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.quantity import Atmosphere


def atmosphere() -> Atmosphere:
    """Of the altitude in the settings; sea level where none is set."""
    from tui.quantity import Atmosphere

    return Atmosphere(101325.0, "sea level, not set")
