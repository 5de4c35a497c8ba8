"""The clocks of waits: each begins when its circuit comes to it, and runs on whatever is done meanwhile.

Over a break of the visit too: then by the stamps of its file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from tui.quantity import clock_span
from tui.walk.kinds import WAIT
from tui.walk.prompt import Prompt

if TYPE_CHECKING:
    from datetime import datetime

    from tui.record import Clock, Line
    from tui.walk import Walk
    from tui.walk.waiting import Waiting


class Waits:
    """`mono` gives seconds that never jump."""

    def __init__(self, mono: Callable[[], float]) -> None:
        self._mono = mono
        self._since: dict[Waiting, float] = {}
        self._now: Mapping[Waiting, float] = {}
        self._rung: set[Waiting] = set()

    def look(self, walk: Walk) -> None:
        """The walk has moved: a wait it came to begins; one it is still at, or is at again, runs on."""
        self._now = walk.waiting()
        for each in self._now:
            if each not in self._since:
                self._since[each] = self._mono()

    @property
    def any(self) -> bool:
        return bool(self._now)

    def waited(self, prompt: Prompt) -> float:
        """Seconds since this wait began."""
        here = (prompt.circuit, prompt.tree, prompt.step)
        found = next((each for each in self._now if (each.circuit, each.tree, each.step) == here), None)
        return max(0.0, self._mono() - self._since[found]) if found is not None and prompt.kind == WAIT else 0.0

    def left(self, prompt: Prompt) -> float:
        """Seconds it has still to run; below zero when it is over."""
        return (prompt.seconds or 0.0) - self.waited(prompt)

    def ring(self) -> list[str]:
        """Circuits whose wait has just come to its end; each is said once."""
        now = self._mono()
        over = [
            each
            for each, seconds in self._now.items()
            if each not in self._rung and now - self._since[each] >= seconds > 0
        ]
        self._rung.update(over)
        return [each.circuit for each in over]

    def take_up(self, walk: Walk, ages: Mapping[Waiting, Age]) -> tuple[str, ...]:
        """Waits that began before a break go on; what is told of each of them."""
        self._since |= {each: self._mono() - age.seconds for each, age in ages.items()}
        self.look(walk)
        return tuple(_told(each, ages[each], seconds) for each, seconds in self._now.items() if each in ages)


def _told(wait: Waiting, age: Age, seconds: float) -> str:
    circuit = f"{wait.circuit}: " if wait.circuit not in ("", "main") else ""
    return (
        f"{circuit}The wait runs on. {clock_span(age.seconds)} of {clock_span(seconds)} are over, "
        f"{clock_span(age.closed)} of it while the visit was closed, by this device's clock."
    )


@dataclass(frozen=True, slots=True)
class Age:
    """Seconds since a wait began, and how many of them the visit was closed: those are the wall clock's."""

    seconds: float
    closed: float


class Began:
    """For a visit walked again: at which line each wait began that it stands at in the end."""

    def __init__(self) -> None:
        self.lines: dict[Waiting, int] = {}

    def __call__(self, number: int, walk: Walk) -> None:
        """The event of this number has been walked."""
        for each in walk.waiting():
            self.lines.setdefault(each, number)

    def ages(self, lines: Sequence[Line], clock: Clock) -> dict[Waiting, Age]:
        """As the stamps have it, for a visit whose last line is the last of these."""
        return {each: age_of(lines[number:], clock.now()) for each, number in self.lines.items() if number < len(lines)}


def age_of(lines: Sequence[Line], now: datetime) -> Age:
    """Since the first of these lines. Within one sitting the clock that never jumps counts, over a break the wall's.

    A wall clock that went back adds nothing; the whole is never more than it says.
    """
    from tui.record import moment  # only a visit that is taken up again needs it

    counted = closed = 0.0
    moments = [moment(line.at) for line in lines]
    for (before, line), (then, since) in zip(pairwise(lines), pairwise(moments), strict=True):
        if line.event["event"] == "resumed":
            closed += max(0.0, (since - then).total_seconds())
        else:
            counted += max(0.0, line.mono - before.mono)
    closed += max(0.0, (now - moments[-1]).total_seconds())
    most = max(0.0, (now - moments[0]).total_seconds())
    return Age(min(counted + closed, most), min(closed, most))
