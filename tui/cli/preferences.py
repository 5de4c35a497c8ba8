"""What the commands take from the settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.desk.settings import Settings
    from tui.quantity import Atmosphere


def settings() -> Settings:
    """The user's settings. Raises Refused with every mistake in their file."""
    from tui.desk.home import home
    from tui.desk.settings import load

    return load(home().settings)


def atmosphere() -> Atmosphere:
    """Of the altitude or barometer in the settings; sea level where none is set."""
    return settings().atmosphere
