"""A visit: a walk tied to its file. What the person did is on the disk before the next question is shown."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from tui.desk.lock import SessionLock
from tui.desk.store import Store, mark_unit
from tui.desk.waits import Began, Waits
from tui.quantity.refused import Refused
from tui.record import Clock, Writer, recover
from tui.record.reader import WHOLE, Reading
from tui.record.trouble import refusal
from tui.walk.kinds import UNIT

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk import Walk

T = TypeVar("T")


class Visit:
    """A walk whose events go to a file as they come; without a file they stay in memory."""

    def __init__(self, walk: Walk, clock: Clock, writer: Writer | None = None, lock: SessionLock | None = None):
        self.walk = walk
        self.clock = clock
        self.waits = Waits(clock.mono)
        self._writer = writer
        self._lock = lock
        self._handed = 0  # events the writer has taken; it keeps one that the disk would not have

    @classmethod
    def begin(cls, walk: Walk, clock: Clock, log: Path | None) -> Visit:
        """A new visit in a new file `log`. Raises Refused where it exists or cannot be written."""
        if log is None:
            return cls(walk, clock)
        lock = SessionLock(log).acquire()
        try:
            visit = cls(walk, clock, Writer.create(log, clock), lock)
        except Refused:
            lock.release()
            raise
        return visit._recorded_or_left()

    @classmethod
    def begin_in(cls, store: Store, walk: Walk, clock: Clock, unit: str) -> Visit:
        """A new visit under a new name in the user's sessions."""
        return cls.begin(walk, clock, store.new_path(clock.now(), unit))

    @property
    def path(self) -> Path | None:
        return self._writer.path if self._writer else None

    @property
    def unrecorded(self) -> int:
        """Events that are not on the disk yet: more than 0 only while it refuses."""
        if self._writer is None:
            return 0
        return len(self.walk.events) - self._handed + self._writer.held

    def act(self, intent: Callable[[Walk], T]) -> T:
        """Does something to the walk and records it.

        Raises Refused from the walk: nothing has changed. Raises Refused from the disk before the intent
        (nothing has changed) or after it (it counts, and is recorded by the next `act` or `record`):
        `unrecorded` tells. The walk does not move while the disk refuses.
        """
        self.record()
        result = intent(self.walk)
        self.record()
        return result

    def record(self) -> None:
        """Writes every event that is not on the disk yet. Raises Refused."""
        if self._writer is None:
            return
        self._writer.finish()
        while self._handed < len(self.walk.events):
            self._hand(self._writer)

    def leave(self) -> None:
        """Lets go of the file; the visit stays open and can be resumed."""
        if self._writer:
            self._writer.close()
        if self._lock:
            self._lock.release()

    def _hand(self, writer: Writer) -> None:
        try:
            writer.append(self.walk.events[self._handed])
        except Refused:
            self._handed += writer.held
            raise
        self._mark_unit(self.walk.events[self._handed])
        self._handed += 1

    def _mark_unit(self, event: Mapping[str, Any]) -> None:
        """A tag put right: later visits to that unit find this one, whose name stays, by a file beside it."""
        if self.path is not None and event["event"] == "corrected" and event.get("reading") == UNIT:
            mark_unit(self.path, str(event["value"]["value"]))

    def _recorded_or_left(self) -> Visit:
        try:
            self.record()
        except Refused:
            self.leave()
            raise
        return self


@dataclass(frozen=True, slots=True)
class Resumed:
    """A visit that goes on, and what the person should know about it."""

    visit: Visit
    notices: tuple[str, ...]


def resume(path: Path, library: Library, clock: Clock) -> Resumed:
    """Goes on where the power went: a torn end is set aside, the walk stands at the last whole line.

    `library`: today's trees; where they have changed since, the visit goes on with its own.
    Raises Refused for a file that is missing, closed, altered, newer, foreign or open elsewhere.
    """
    if not path.is_file():
        raise _no_file(path)
    lock = SessionLock(path).acquire()
    try:
        return _resumed(path, library, clock, lock)
    except Refused:
        lock.release()
        raise


def _resumed(path: Path, library: Library, clock: Clock, lock: SessionLock) -> Resumed:
    from tui.record.replay import walk_again
    from tui.walk.replaying import DoesNotReplay

    recovered = recover(path)
    reading = recovered.reading
    if reading.state == WHOLE:
        raise Refused("closed", f"{path}: this visit is closed.", "Start a new one.")
    library, changed = _library_of(reading, library)
    began = Began()
    try:
        walk = walk_again(library, reading, watch=began)
    except DoesNotReplay as other_way:
        message = f"{path}: {other_way.message}"
        raise Refused(other_way.code, message, "See: lowside replay FILE. Start a new visit to go on.") from other_way
    visit = Visit(walk, clock, Writer.resume(path, clock, reading), lock)
    visit._handed = len(reading.lines)
    waits = visit.waits.take_up(walk, began.ages(reading.lines, clock))
    walk.resumed()
    visit._recorded_or_left()
    return Resumed(visit, tuple(notice for notice in (recovered.message, changed, *waits) if notice))


def _library_of(reading: Reading, today: Library) -> tuple[Library, str]:
    """Today's library where the visit's own texts are still in it, else those laid over it, and a notice."""
    from tui.record.replay import embedded
    from tui.tree.embed import parts_of
    from tui.tree.library import BrokenLibrary, Library

    then, now = embedded(reading), parts_of(today)
    if now.under(then) == now:
        return today, ""
    try:
        own = Library.from_texts(now.under(then).texts())  # proven anew
    except BrokenLibrary as broken:
        raise Refused(
            "other-trees",
            f"{reading.path}: the trees have changed since, and the new ones do not fit those of this visit.",
            "Start a new visit; this one can still be read, verified and replayed.",
        ) from broken
    return own, "The trees have changed since this visit began; it goes on with those it began with."


def _no_file(path: Path) -> Refused:
    if path.exists():
        return Refused("not-a-file", f"{path}: this is no file.", "Name a session file.")
    return refusal(FileNotFoundError(2, "no such file"), path, "resume")
