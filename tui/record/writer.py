"""Writes a session file: one event, one line, one write, one fsync, before anything else happens."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

from tui.quantity.refused import Refused
from tui.record.line import LONGEST, START, write_line
from tui.record.reader import OPEN, TORN, WHOLE, Reading, read
from tui.record.trouble import refusal

_BEGINS = frozenset({"opened", "resumed"})


class Clock(Protocol):
    """The two clocks a record needs: the wall's, with its offset, and one that never jumps, in seconds."""

    def now(self) -> datetime: ...

    def mono(self) -> float: ...


class Writer:
    """One open session file. Nothing in it is ever edited; the caller holds the session's lock.

    When the disk refuses, the event is *held*: it is the next thing written, by `finish` or by the next
    `append`, in the same place, so half a line is completed and never followed by another.
    """

    def __init__(self, path: Path, handle: int, clock: Clock, after: Reading | None = None) -> None:
        self.path = path
        self._handle = handle
        self._clock = clock
        last = after.lines[-1] if after else None
        self._n = last.n + 1 if last else 0
        self._prev = last.hash if last else START
        self._end = after.size if after else 0  # bytes of whole, fsynced lines
        self._reach = self._end  # how far a failed attempt may have got
        self._zero = clock.mono() - (last.mono if last else 0.0)
        self._held = b""

    @classmethod
    def create(cls, path: Path | str, clock: Clock) -> Writer:
        """A new file. Raises Refused when it exists already, or its folder cannot be written."""
        path = Path(path)
        handle = _open(path, os.O_CREAT | os.O_EXCL, "create")
        try:
            sync_folder(path.parent)
        except OSError as error:
            os.close(handle)
            with suppress(OSError):
                path.unlink()  # ours, and still empty: the name is free for another try
            raise refusal(error, path.parent, "write") from error
        return cls(path, handle, clock)

    @classmethod
    def resume(
        cls, path: Path | str, clock: Clock, reading: Reading | None = None, *, closed_too: bool = False
    ) -> Writer:
        """Goes on after the last line of an open file. Raises Refused for any other state.

        closed_too: a closed visit also, to add notes and photos.
        """
        path = Path(path)
        reading = reading or read(path)
        if reading.state != OPEN and not (closed_too and reading.state == WHOLE):
            raise _cannot_go_on(reading)
        return cls(path, _open(path, 0, "write"), clock, reading)

    @property
    def held(self) -> bool:
        """Whether an event waits for the disk to take it."""
        return bool(self._held)

    def append(self, event: Mapping[str, Any]) -> None:
        """Stamps, writes and fsyncs one event, after any that is held.

        Raises Refused with place and cure: the event is then held, not lost; or, with the code
        ``unrecordable``, it has no exact form and was not taken.
        """
        self.finish()
        self._held = self._stamped(event)
        self.finish()

    def finish(self) -> None:
        """Writes what is held, if anything. Raises Refused while the disk still says no."""
        if not self._held:
            return
        try:
            self._check_place()
            os.lseek(self._handle, self._end, os.SEEK_SET)
            self._reach = self._end + len(self._held)
            written = os.write(self._handle, self._held)
            if written == len(self._held):
                os.fsync(self._handle)
        except OSError as error:
            raise refusal(error, self.path, "write") from error
        if written < len(self._held):
            raise _short(self.path)
        self._end = self._reach
        self._held = b""

    def close(self) -> None:
        """Lets go of the file. What is held stays unwritten."""
        if self._handle >= 0:
            handle, self._handle = self._handle, -1
            os.close(handle)

    def __enter__(self) -> Writer:
        return self

    def __exit__(self, *exc: object) -> None:
        self.close()

    def _stamped(self, event: Mapping[str, Any]) -> bytes:
        if event.get("event") in _BEGINS:
            self._zero = self._clock.mono()
        at = self._clock.now().isoformat(timespec="milliseconds")
        mono = round(max(0.0, self._clock.mono() - self._zero), 3)
        try:
            line, digest = write_line(event, self._n, at, mono, self._prev)
        except (ValueError, RecursionError) as error:
            raise Refused(
                "unrecordable", f"{self.path}: this cannot be recorded: {error}.", "Type it differently."
            ) from error
        if len(line) > LONGEST:
            message = f"{self.path}: one event of {len(line)} bytes is too long to record."
            raise Refused("unrecordable", message, "Shorten the text.")
        self._n += 1
        self._prev = digest
        return line

    def _check_place(self) -> None:
        """The file must still be the one at its path, and as long as we left it."""
        ours = os.fstat(self._handle)
        try:
            there = os.stat(self.path)
        except FileNotFoundError:
            there = None
        if there is None or (there.st_dev, there.st_ino) != (ours.st_dev, ours.st_ino):
            raise Refused(
                "gone",
                f"{self.path}: the session file is no longer there: it or its folder was moved or removed.",
                "Put it back, then go on: the answer is kept and will be written.",
            )
        if not self._end <= ours.st_size <= self._reach:
            raise Refused(
                "changed-outside",
                f"{self.path}: another program has changed this file while the visit was going on.",
                "Leave the visit, then look at the file with: lowside verify FILE",
            )


def _open(path: Path, flags: int, doing: str) -> int:
    try:
        return os.open(path, os.O_WRONLY | flags | getattr(os, "O_BINARY", 0), 0o644)
    except OSError as error:
        raise refusal(error, path, doing) from error
    except ValueError as error:  # a NUL or half a character in the name
        raise Refused("bad-name", f"{str(path)!r}: {error}.", "Choose another name.") from error


def sync_folder(folder: Path) -> None:
    """Makes a new name in a folder last; Windows has no such call and needs none."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _short(path: Path) -> Refused:
    return Refused(
        "disk-full",
        f"{path}: cannot write: the disk took only a part of the last event.",
        "Make room on that disk, then go on: the rest is kept and will be written.",
    )


def _cannot_go_on(reading: Reading) -> Refused:
    if reading.state == WHOLE:
        return Refused("closed", f"{reading.path}: this visit is closed.", "Start a new one.")
    if reading.state == TORN:
        return Refused("torn", f"{reading.path}: {reading.message}", "Resume it: the torn end is set aside.")
    cure = "Lines before it can be read; start a new visit to go on." if reading.state == "altered" else ""
    return Refused(reading.state, f"{reading.path}: {reading.message}", cure)
