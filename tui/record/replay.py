"""From a session file back to its walk, and whether the same still comes out of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused
from tui.record.line import Event
from tui.record.reader import ALTERED, OPEN, TORN, WHOLE, Reading, read
from tui.tree.embed import Parts, extract
from tui.walk.program import TreeMissing
from tui.walk.replaying import Difference, DoesNotReplay

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk import Walk


@dataclass(frozen=True, slots=True)
class Replayed:
    """`same`: nothing differs; else `first` is the first difference. `walked_with`: which trees, in words."""

    path: str
    same: bool
    first: Difference | None
    walked_with: str


def replay(path: Path | str, *, trees: Sequence[Path] = (), recompute: bool = False) -> Replayed:
    """Walks the visit in `path` again and compares what follows from its inputs, numbers to 9 digits.

    With the trees embedded in it, or those of the folders `trees`; with its stored property results, or
    with `recompute` those of today's tables. A torn file is walked as far as it is whole, an altered one
    not at all: its first difference is where it was altered. Raises Refused for a file that is newer or
    foreign, and BrokenLibrary for trees that do not hold.
    """
    reading = read(path)
    if reading.state == ALTERED:
        altered = Difference(max(0, reading.line - 1), "the line itself", "as it was written", reading.message)
        return Replayed(str(path), False, altered, "no trees: the file is altered")
    if reading.state not in (WHOLE, OPEN, TORN):
        raise Refused(reading.state, f"{path}: {reading.message}", "See: lowside verify FILE")
    if not reading.lines:
        raise Refused("nothing-recorded", f"{path}: nothing whole is recorded in it.", "Name another file.")
    library = _library(reading, trees)
    first = _first_difference(library, reading, recompute)
    walked_with = ", ".join(map(str, trees)) or "the trees in the session"
    return Replayed(str(path), first is None, first, walked_with)


def embedded(reading: Reading) -> Parts:
    """The trees the visit has entered so far, with what they use. Raises Refused (``damaged-text``)."""
    try:
        return extract(reading.events)
    except Refused as refused:
        raise Refused(refused.code, f"{reading.path}: {refused.message}", refused.cure) from refused


def walk_again(library: Library, reading: Reading, *, recompute: bool = False) -> Walk:
    """The walk that recorded these events, standing where it stood.

    Raises DoesNotReplay where it goes another way with this library, Refused where an event is not one
    of a walk at all.
    """
    from tui.walk import Walk

    try:
        return Walk.from_events(library, reading.events, recompute=recompute)
    except (KeyError, IndexError, TypeError, ValueError, AttributeError, AssertionError) as error:
        # The chain holds, so a program wrote this, but no walk of ours.
        message = f"{reading.path}: its lines are whole, but what they say is no walk ({error!r})."
        raise Refused("not-a-walk", message, "Was it written by another program?") from error


def _library(reading: Reading, trees: Sequence[Path]) -> Library:
    from tui.tree.library import Library

    if trees:
        return Library.load(*trees)
    return Library.from_texts(embedded(reading).texts(), partial=True)


def _first_difference(library: Library, reading: Reading, recompute: bool) -> Difference | None:
    try:
        again = walk_again(library, reading, recompute=recompute)
    except DoesNotReplay as other_way:
        return other_way.difference
    except TreeMissing:
        return None  # the power went before this tree was written; all that is there holds
    more: list[Event] = again.events[len(reading.lines) :]
    if more and reading.state == WHOLE:
        return Difference(len(reading.lines), "the end", "closed", str(more[0]["event"]))
    return None
