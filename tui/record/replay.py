"""From a session file back to its walk, and whether the same still comes out of it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused
from tui.record.line import Event
from tui.record.reader import ALTERED, OPEN, TORN, WHOLE, Reading, read
from tui.tree.embed import Parts, extract, unpack
from tui.walk.program import TreeMissing
from tui.walk.replaying import Difference, DoesNotReplay

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk import Walk
    from tui.walk.core import Watch


@dataclass(frozen=True, slots=True)
class Replayed:
    """`same`: nothing differs; else `first` is the first difference. `walked_with`: which trees, in words.

    `state` of the file: whole, open, torn (walked as far as it is whole) or altered (not walked), and `message`.
    """

    path: str
    same: bool
    first: Difference | None
    walked_with: str
    state: str
    message: str


class NotAWalk(Refused):
    """Lines that fit their hashes and yet say what no walk does; `n` is the first such event."""

    def __init__(self, path: Path, n: int, event: str) -> None:
        self.n = n
        self.event = event
        message = f"{path}: line {n + 1} fits its hash, but no walk writes such an event ({event})."
        super().__init__("not-a-walk", message, "Was it written or changed by another program?")


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
        return Replayed(str(path), False, altered, "no trees", reading.state, reading.message)
    must_be_a_visit(reading)
    library = _library(reading, trees)
    first = (None if trees else _other_text(reading)) or _first_difference(library, reading, recompute)
    walked_with = ", ".join(map(str, trees)) or "the trees in the session"
    return Replayed(str(path), first is None, first, walked_with, reading.state, reading.message)


def must_be_a_visit(reading: Reading) -> None:
    """Raises Refused for a file that is newer, foreign or empty: there is nothing in it to be walked."""
    if reading.state not in (WHOLE, OPEN, TORN):
        raise Refused(reading.state, f"{reading.path}: {reading.message}", "See: lowside verify FILE")
    if not reading.lines:
        raise Refused("nothing-recorded", f"{reading.path}: nothing whole is recorded in it.", "Name another file.")


def other_way(library: Library, reading: Reading, called: Mapping[str, Mapping[str, str]]) -> Difference | None:
    """Where this visit goes another way with this library, walked with the answers recorded; None: it doesn't.

    Only where it leads is compared: questions, destinations, trees and findings; numbers and verdicts may differ.
    called: by tree, the names that recorded steps have in this library, where they are others.
    """
    from tui.walk import Walk

    events = [_called(event, called) for event in reading.events]
    try:
        again = Walk.from_events(library, events, way_only=True)
    except DoesNotReplay as other:
        return other.difference
    except TreeMissing:
        return None  # the power went before it was entered
    except _NOT_OURS:
        return Difference(0, "the visit", "as recorded", "no event that a walk writes")
    return _goes_on(again, reading)


def _called(event: Event, called: Mapping[str, Mapping[str, str]]) -> Event:
    tree, _, step = str(event.get("where", "")).partition("/")
    names = called.get(str(event.get("tree") or tree), {})
    if not names or event["event"] == "left":
        return event
    changed: Event = {part: names.get(event[part], event[part]) for part in ("step", "to") if part in event}
    if step:
        changed["where"] = f"{tree}/{names.get(step, step)}"
    return {**event, **changed}


def embedded(reading: Reading) -> Parts:
    """The trees the visit has entered so far, with what they use. Raises Refused (``damaged-text``)."""
    try:
        return extract(reading.events)
    except Refused as refused:
        raise Refused(refused.code, f"{reading.path}: {refused.message}", refused.cure) from refused


def walked(reading: Reading) -> Walk:
    """The walk of a session file with the trees embedded in it, standing where it stood.

    Raises Refused for a file that is altered, newer, foreign or empty, and as `walk_again`.
    """
    if reading.state not in (WHOLE, OPEN, TORN) or not reading.lines:
        say = reading.message or "nothing whole is recorded in it."
        raise Refused(reading.state, f"{reading.path}: {say}", "See: lowside verify FILE")
    return walk_again(_library(reading, ()), reading)


def walk_again(
    library: Library, reading: Reading, *, recompute: bool = False, watch: Watch | None = None
) -> Walk:
    """The walk that recorded these events, standing where it stood. watch: as `Walk.from_events` has it.

    Raises DoesNotReplay where it goes another way with this library, NotAWalk where an event is not one
    of a walk at all.
    """
    from tui.walk import Walk

    events = reading.events
    try:
        return Walk.from_events(library, events, recompute=recompute, watch=watch)
    except _NOT_OURS as error:  # the chain holds, so a program wrote this, but no walk of ours
        n = bisect_left(range(len(events)), True, key=lambda n: _fails(library, events[: n + 1], recompute))
        n = min(n, len(events) - 1)
        raise NotAWalk(reading.path, n, events[n]["event"]) from error


def _fails(library: Library, events: list[Event], recompute: bool) -> bool:
    """Whether these first events are already no walk."""
    from tui.walk import Walk

    try:
        Walk.from_events(library, events, recompute=recompute)
    except _NOT_OURS:
        return True
    except (Refused, TreeMissing):
        return False
    return False


_NOT_OURS = (KeyError, IndexError, TypeError, ValueError, AttributeError, AssertionError)


def _library(reading: Reading, trees: Sequence[Path]) -> Library:
    from tui.tree.library import Library

    if trees:
        return Library.load(*trees)
    return Library.from_texts(embedded(reading).texts(), partial=True)


def _other_text(reading: Reading) -> Difference | None:
    """The first tree whose recorded text is not the one its digest was taken of."""
    for n, event in enumerate(reading.events):
        if event["event"] == "entered" and isinstance(event.get("text"), str):
            digest = sha256(unpack(event["text"]).encode()).hexdigest()
            if digest != event.get("digest"):
                then, now = str(event.get("digest"))[:12], digest[:12]
                return Difference(n, f"text of the tree {event.get('tree')}", f"digest {then}", f"digest {now}")
    return None


def _first_difference(library: Library, reading: Reading, recompute: bool) -> Difference | None:
    try:
        again = walk_again(library, reading, recompute=recompute)
    except DoesNotReplay as other_way:
        return other_way.difference
    except NotAWalk as foreign:
        return Difference(foreign.n, foreign.event, "as recorded", "no event that a walk writes")
    except TreeMissing:
        return None  # the power went before this tree was written; all that is there holds
    return _goes_on(again, reading)


def _goes_on(again: Walk, reading: Reading) -> Difference | None:
    """Where a visit that was closed does not end any more."""
    more: list[Event] = again.events[len(reading.lines) :]
    if more and reading.state == WHOLE:
        return Difference(len(reading.lines), "the end", "closed", str(more[0]["event"]))
    return None
