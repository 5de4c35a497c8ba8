"""Pictures of a walk: pure functions of what is known and of a size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.app.pictures.ladder import ladder_lines
from tui.app.sheet import Line

if TYPE_CHECKING:
    from tui.walk import Walk


@dataclass(frozen=True, slots=True)
class Picture:
    """`draw` gives at most so many lines of so many cells."""

    name: str
    words: str
    draw: Callable[[int, int], list[Line]]


def pictures(walk: Walk) -> tuple[Picture, ...]:
    """Those that have something to show, the most telling first."""
    from tui.app.pictures.charge import charge_lines, points_of
    from tui.app.pictures.cycle import can_be_drawn, cycle_lines
    from tui.app.pictures.places import looked_at, places_lines

    found: list[Picture] = []
    if len(points_of(walk)) > 1:
        found.append(Picture("test", "weighed test", lambda width, height: charge_lines(walk, width, height)))
    if looked_at(walk):
        found.append(Picture("places", "places searched", lambda width, height: places_lines(walk, width, height)))
    if ladder_lines(walk, 80, 20):
        found.append(Picture("ladder", "temperatures", lambda width, height: ladder_lines(walk, width, height)))
    if can_be_drawn(walk):
        found.append(Picture("cycle", "pressure-enthalpy", lambda width, height: cycle_lines(walk, width, height)))
    return tuple(found)


def waiting() -> bool:
    """Whether a picture is still being worked out."""
    from tui.app.pictures.cycle import waiting as cycle_waits

    return cycle_waits()


__all__ = ["Picture", "ladder_lines", "pictures", "waiting"]
