"""How long a visit took up to each of its events, from the stamps of its file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tui.quantity import Refused
from tui.record import Line, read


@dataclass(frozen=True, slots=True)
class Pace:
    """`since`: the number of an event to seconds of work since the visit began; `whole`: all of it.

    Seconds while nobody had the visit open do not count: the clock of a device restarts at `resumed`.
    """

    since: dict[int, float]
    whole: float


def pace_of(lines: Iterable[Line]) -> Pace:
    """Of a session's lines, each an event."""
    since: dict[int, float] = {}
    total = 0.0
    before: float | None = None
    for number, line in enumerate(lines):
        if before is not None and line.event["event"] != "resumed":
            total += max(0.0, line.mono - before)
        before = line.mono
        since[number] = total
    return Pace(since, total)


def pace_in(path: Path | None) -> Pace:
    """Of a session's file; nothing for one that is not there or can't be read."""
    if path is None:
        return Pace({}, 0.0)
    try:
        return pace_of(read(path).lines)
    except Refused:
        return Pace({}, 0.0)
