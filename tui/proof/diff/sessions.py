"""Which recorded visits go another way with the trees of now than with those of then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tui.quantity import Refused
from tui.record.reader import ALTERED, Reading, read
from tui.record.replay import must_be_a_visit, other_way
from tui.tree.library import Library

SAME, OTHER, NEITHER = "same", "other", "neither"


@dataclass(frozen=True, slots=True)
class Parted:
    """`line` of the file where the two part, `at` the step, `then` and `now` what each comes to there."""

    line: int
    at: str
    then: str
    now: str


@dataclass(frozen=True, slots=True)
class Session:
    """state: the ``same`` way with both; an ``other`` way with the trees of now, from where `parted` says; or the way
    it was recorded with ``neither``, and so no way that could be followed.
    """

    path: str
    state: str
    parted: Parted | None = None


def session(path: Path | str, old: Library, new: Library, called: Mapping[str, Mapping[str, str]]) -> Session:
    """A visit walked with both, with the answers recorded.

    called: by tree, steps' names in `new` by those in `old`. Raises Refused for a file that is altered, newer or
    foreign, or can't be read.
    """
    reading = read(path)
    if reading.state == ALTERED:
        say = f"{path}: altered, so it was not walked. {reading.message}"
        raise Refused("altered", say, "See: lowside verify FILE")
    must_be_a_visit(reading)
    then, now = other_way(old, reading, {}), other_way(new, reading, called)
    first = min((found for found in (then, now) if found is not None), key=lambda found: found.n, default=None)
    if first is None:
        return Session(str(path), SAME)
    came, comes = (found.now if found is not None and found.n == first.n else first.then for found in (then, now))
    if came == comes:
        return Session(str(path), NEITHER)
    return Session(str(path), OTHER, Parted(first.n + 1, _place(reading, first.n), came, comes))


def _place(reading: Reading, n: int) -> str:
    """The step that the recorded event is of; the end has none."""
    event = reading.events[n] if n < len(reading.events) else {}
    if event.get("where"):
        return str(event["where"])
    return "/".join(str(event[part]) for part in ("tree", "step") if event.get(part))
