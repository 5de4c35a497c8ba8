"""Pictures of a walk: pure functions of what is known and of a size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.app.pictures.ladder import ladder_lines
from tui.app.sheet import Line

if TYPE_CHECKING:
    from tui.walk import Walk

#: trees while which a picture comes first
FIRST_IN = {"charge-test": "test", "leak-search": "places"}


@dataclass(frozen=True, slots=True)
class Picture:
    """`draw` gives at most so many lines of so many cells."""

    name: str
    words: str
    draw: Callable[[int, int], list[Line]]


def pictures(walk: Walk) -> tuple[Picture, ...]:
    """Those that have something to show for the circuit at hand, the most telling first."""
    from tui.app.pictures.charge import charge_lines
    from tui.app.pictures.enthalpy import can_be_drawn, enthalpy_lines
    from tui.app.pictures.places import places_lines, searched
    from tui.app.pictures.weighed import weighing_of

    found: list[Picture] = []
    if ladder_lines(walk, 80, 20):
        found.append(Picture("ladder", "temperatures", lambda width, height: ladder_lines(walk, width, height)))
    if len(weighing_of(walk).points) > 1:
        found.append(Picture("test", "weighed test", lambda width, height: charge_lines(walk, width, height)))
    if searched(walk):
        found.append(Picture("places", "places searched", lambda width, height: places_lines(walk, width, height)))
    if can_be_drawn(walk):
        found.append(Picture("cycle", "pressure-enthalpy", lambda width, height: enthalpy_lines(walk, width, height)))
    first = _first(walk)
    return tuple(sorted(found, key=lambda picture: picture.name != first))


def _first(walk: Walk) -> str:
    """The picture of the tree that is walked now, or in which the circuit's last finding was made."""
    circuit = walk.looked_at()
    trees = [frame.program.tree.name for frame in circuit.frames] if circuit is not None else []
    if walk.prompt is None:
        trees = [finding.at.partition("/")[0] for finding in walk.findings[-1:]]
    return next((FIRST_IN[tree] for tree in reversed(trees) if tree in FIRST_IN), "")


def waiting() -> bool:
    """Whether a picture is still being worked out."""
    from tui.app.pictures.enthalpy import waiting as enthalpy_waits

    return enthalpy_waits()


__all__ = ["Picture", "ladder_lines", "pictures", "waiting"]
