"""How long a visit took from one decision to the next, from the stamps of its file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tui.quantity import Refused
from tui.record import Line, read


@dataclass(frozen=True, slots=True)
class Pace:
    """`since`: (circuit, TREE/STEP) of a decision to seconds of work since the visit began; `whole`: all of it.

    Seconds while nobody had the visit open do not count: the clock of a device restarts at `resumed`.
    """

    since: dict[tuple[str, str], float]
    whole: float


def pace_of(lines: Iterable[Line]) -> Pace:
    """The last time each decision was taken."""
    since: dict[tuple[str, str], float] = {}
    total = 0.0
    before: float | None = None
    for line in lines:
        if before is not None and line.event["event"] != "resumed":
            total += max(0.0, line.mono - before)
        before = line.mono
        names = line.event.get("renamed", {})
        if names:
            since = {(names.get(circuit, circuit), at): then for (circuit, at), then in since.items()}
        if line.event["event"] == "routed":
            at = f"{line.event.get('tree')}/{line.event.get('step')}"
            since[(str(line.event.get("circuit", "")), at)] = total
    return Pace(since, total)


def pace_in(path: Path | None) -> Pace:
    """Of a session's file; nothing for one that is not there or can't be read."""
    if path is None:
        return Pace({}, 0.0)
    try:
        return pace_of(read(path).lines)
    except Refused:
        return Pace({}, 0.0)
