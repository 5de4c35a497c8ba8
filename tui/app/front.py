"""What stands before a visit: where things lie, how a visit is begun or gone on with. Given by the command."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.desk.session import Visit
    from tui.tree.library import Library

Begun = tuple["Visit", tuple[str, ...]]

PLANNED = "planned-check"  # the tree of a visit without a complaint


@dataclass(frozen=True, slots=True)
class New:
    """A visit to begin: the unit's tag, empty for none, and the tree, empty for the usual call."""

    unit: str
    tree: str = ""


@dataclass(frozen=True, slots=True)
class Front:
    """`start` begins a visit to the unit with that tag, in the tree named or the usual; `resume` goes on with a file.

    Both give the visit and what a person should be told, and raise Refused. `today`: an ISO date, asked anew
    each time, for a screen may stand overnight.
    """

    sessions: Path
    settings: Path
    today: Callable[[], str]
    start: Callable[[Library, str, str], Begun]
    resume: Callable[[Library, Path], Begun]
    keys: Mapping[str, str] = field(default_factory=dict)
    laid_over: Callable[[], tuple[str, ...]] = tuple  # in words: what lies over the trees of lowside
