"""Reads a session file and says what state it is in. Never writes.

The chain shows damage and edits in part. Whoever can compute SHA-256 can write the whole file anew, and
lines cut off the end of an open one leave no trace: only a signature shows that.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from tui.quantity.refused import Refused
from tui.record.line import (
    FORMAT,
    FORMAT_VERSION,
    LONGEST,
    START,
    Event,
    Fault,
    Line,
    hashes,
    parse,
    read_line,
    version_of,
)
from tui.record.trouble import refusal

WHOLE, OPEN, TORN, ALTERED, NEWER, FOREIGN = "whole", "open", "torn", "altered", "newer", "foreign"
LARGEST = 256 * 2**20  # bytes of a session that is read into memory; verify has no such bound

_MARKS = (b'"event":"opened"', b'"format":"lowside-session ', b'"hash":"', b'"prev":"', b'"mono":')
_CLOSING = frozenset({"closed"})
_AFTERWARDS = frozenset({"noted", "photographed"})  # what may still be added to a closed visit
_BEGINNING = b'{"at":"'


@dataclass(frozen=True, slots=True)
class Verdict:
    """`state`: whole, open, torn, altered, newer or foreign; `line`: where it shows, from 1, 0 = no line."""

    path: str
    state: str
    line: int
    message: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a file holds up to its first fault.

    lines: the whole lines. size: their bytes. torn_bytes: bytes after them, of a torn file.
    """

    path: Path
    state: str
    line: int
    message: str
    lines: tuple[Line, ...]
    size: int
    torn_bytes: int

    @property
    def events(self) -> list[Event]:
        """The walk's events, unstamped, in order."""
        return [line.event for line in self.lines]


def verify(path: Path | str) -> Verdict:
    """The state of a file, line by line in bounded memory. Raises Refused when it cannot be read at all."""
    found = _look(Path(path), lambda line: None)
    return Verdict(str(path), found.state, found.line, found.message)


def read(path: Path | str) -> Reading:
    """The events of a file and its state. Raises Refused when it cannot be read, or is over 256 MiB."""
    lines: list[Line] = []
    path = Path(path)
    found = _look(path, lines.append, largest=LARGEST)
    torn = found.length - found.size if found.state == TORN else 0
    return Reading(path, found.state, found.line, found.message, tuple(lines), found.size, torn)


def is_ours(path: Path | str) -> bool:
    """Whether the first line may be that of a session, of this program's format or a newer one."""
    try:
        with Path(path).open("rb") as stream:
            _check_first(stream.readline(LONGEST + 1))
    except _Stop as stop:
        return stop.found.state != FOREIGN
    except OSError:
        return False
    return True


@dataclass(slots=True)
class _Found:
    state: str
    line: int
    message: str
    size: int = 0
    length: int = 0


class _Stop(Exception):
    def __init__(self, state: str, line: int, message: str) -> None:
        self.found = _Found(state, line, message)


def _look(path: Path, keep: Callable[[Line], None], largest: int | None = None) -> _Found:
    try:
        length, kind = _measure(path)
        if kind:
            return _Found(FOREIGN, 0, f"{kind}, not a session file.")
        if largest is not None and length > largest:
            limit = f"{largest // 2**20} MiB"
            raise Refused("too-big", f"{path}: larger than {limit}: no session is.", "Name a session file.")
        with path.open("rb") as stream:
            found = _go_through(stream, keep)
    except OSError as error:
        raise refusal(error, path, "read") from error
    found.length = max(length, found.size)
    return found


def _measure(path: Path) -> tuple[int, str]:
    """Length in bytes, and what it is where it is no ordinary file."""
    try:
        about = os.stat(path)
    except ValueError as error:  # a NUL or half a character in the name
        raise Refused("bad-name", f"{str(path)!r}: {error}.", "Check the name.") from error
    if stat.S_ISDIR(about.st_mode):
        return 0, "A folder"
    if not stat.S_ISREG(about.st_mode):
        return 0, "A device or a pipe"
    return about.st_size, ""


def _go_through(stream: BinaryIO, keep: Callable[[Line], None]) -> _Found:
    size, number, raw, last, closed = 0, 0, b"", None, False
    try:
        for number, raw in enumerate(_raw_lines(stream), start=1):
            last = _next_line(raw, number, last)
            keep(last)
            size += len(raw)
            closed = last.event["event"] in _CLOSING or (closed and last.event["event"] in _AFTERWARDS)
    except _Stop as stop:
        stop.found.size = size
        # A block that never reached the disk comes back as zeros; no line of ours holds one.
        if stop.found.state == ALTERED and b"\0" in raw and not stream.read(1):
            stop.found.state = TORN
        return stop.found
    if last is None:
        return _Found(TORN, 0, "Empty: the power went before the first line was written.")
    if closed:
        return _Found(WHOLE, 0, f"{number} lines, closed.", size)
    return _Found(OPEN, 0, f"{number} lines, each as it was written; not closed yet.", size)


def _raw_lines(stream: BinaryIO) -> Iterator[bytes]:
    while raw := stream.readline(LONGEST + 1):
        yield raw


def _next_line(raw: bytes, number: int, before: Line | None) -> Line:
    if number == 1:
        _check_first(raw)
    if not raw.endswith(b"\n"):
        raise _unfinished(raw, number)
    try:
        line = read_line(raw[:-1])
        if number == 1 and line.event["event"] != "opened" and line.n == 0:
            raise Fault(f"is {line.event['event']!r}: a session begins with 'opened'")
    except Fault as fault:
        raise _Stop(ALTERED, number, f"Line {number} {fault}.") from None
    _check_chain(line, number, before)
    return line


def _unfinished(raw: bytes, number: int) -> _Stop:
    if len(raw) > LONGEST:
        return _Stop(ALTERED, number, f"Line {number} is longer than any line of a session.")
    whole = {1: "Nothing before it", 2: "1 line is whole"}.get(number, f"{number - 1} lines are whole")
    return _Stop(TORN, number, f"Line {number} is torn: its end was not written. {whole}.")


def _check_first(raw: bytes) -> None:
    """Is this file ours at all? One flipped byte must not make it a stranger, so any two marks do."""
    ours = sum(mark in raw for mark in _MARKS) >= 2
    unfinished = not raw.endswith(b"\n") and raw[: len(_BEGINNING)] == _BEGINNING[: len(raw)]
    if not ours and not unfinished:
        raise _Stop(FOREIGN, 1, "Not a session file: its first line is not the opening of one.")
    try:
        body = parse(raw.rstrip(b"\n"))
        version = version_of(body)
        newer = version is not None and version > FORMAT_VERSION
        newer = newer and not hashes(body | {"format": FORMAT})  # else its digit was flipped
    except Fault:
        return  # said with its line later
    if newer:
        message = f"Written in session format {version}; this program reads up to {FORMAT_VERSION}."
        raise _Stop(NEWER, 1, f"{message} Get a newer lowside.")
    if body.get("n") == 0 and version != FORMAT_VERSION and raw.endswith(b"\n"):
        raise _Stop(ALTERED, 1, "Line 1 states no session format that ever was.")


def _check_chain(line: Line, number: int, before: Line | None) -> None:
    due = number - 1
    if line.n > due:
        gone = line.n - due
        what = "1 line was" if gone == 1 else f"{gone} lines were"
        message = f"Before line {number}, {what} removed, or moved: its n is {line.n}, {due} was due."
        raise _Stop(ALTERED, number, message)
    if line.n < due:
        raise _Stop(ALTERED, number, f"Line {number} was put in or moved: its n is {line.n}, {due} was due.")
    if line.prev == (before.hash if before else START):
        return
    if before is None:
        raise _Stop(ALTERED, 1, "Line 1 does not begin a chain: lines before it were removed.")
    message = f"Line {due} was changed or replaced: the prev of line {number} does not fit it."
    raise _Stop(ALTERED, due, message)
