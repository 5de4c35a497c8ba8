"""Walks a recorded visit again and names the first thing that comes out otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from tui.quantity.refused import Refused
from tui.record.compare import Difference, first_difference
from tui.record.line import Event
from tui.record.reader import OPEN, TORN, WHOLE, read
from tui.tree.embed import extract

if TYPE_CHECKING:
    from tui.tree.library import Library


@dataclass(frozen=True, slots=True)
class Replayed:
    """`same`: nothing differs; else `first` is the first difference. `walked_with`: which trees, in words."""

    path: str
    same: bool
    first: Difference | None
    walked_with: str


@dataclass(frozen=True, slots=True)
class Again:
    """What came out: the events, and why it stopped before the end, where it did."""

    events: Sequence[Event]
    stopped: str = ""


class Rebuild(Protocol):
    """Walks recorded events again: inputs are given, what follows from them is worked out anew."""

    def __call__(self, library: Library, events: Sequence[Event], *, recompute: bool) -> Again: ...


def replay(
    path: Path | str,
    rebuild: Rebuild,
    *,
    trees: Sequence[Path] = (),
    recompute: bool = False,
) -> Replayed:
    """Walks the visit in `path` again.

    With the trees embedded in it, or those of the folders `trees`; with its stored property results, or
    with `recompute` those of today's tables. A torn file is walked as far as it is whole. Raises Refused
    for a file that is altered, newer or foreign, and BrokenLibrary for trees that do not hold.
    """
    reading = read(path)
    if reading.state not in (WHOLE, OPEN, TORN):
        raise Refused(reading.state, f"{path}: {reading.message}", "See: lowside verify FILE")
    if not reading.lines:
        raise Refused("nothing-recorded", f"{path}: nothing whole is recorded in it.", "Name another file.")
    events = reading.events
    library = _library(events, trees)
    again = rebuild(library, events, recompute=recompute)
    first = first_difference(events, again.events)
    if again.stopped and (first is None or first.n >= len(again.events)):
        first = Difference(len(again.events), "accepted", "yes", again.stopped)
    walked_with = ", ".join(map(str, trees)) or "the trees in the session"
    return Replayed(str(path), first is None, first, walked_with)


def _library(events: Sequence[Event], trees: Sequence[Path]) -> Library:
    from tui.tree.library import Library

    if trees:
        return Library.load(*trees)
    return Library.from_texts(extract(events), partial=True)
