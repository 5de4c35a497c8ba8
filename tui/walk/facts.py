"""What is known of one circuit, or of the whole unit: values, their freshness, the work done."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from tui.quantity import Quantity, Value
from tui.tree.model import Judge, WorkOut


@dataclass(slots=True)
class Result:
    """A worked-out or judged name: its step, the readings it came from, the circuit it was worked out on.

    `takes`: how often each reading behind it had been taken then.
    """

    tree: str
    step: WorkOut | Judge
    came_from: frozenset[str]
    circuit: str = ""
    takes: dict[str, int] = field(default_factory=dict)


@dataclass(slots=True)
class Facts:
    """`values` maps a name to its value, or None where it could not be had.

    `series` keeps every take; `fresh` holds readings still true of the circuit as it is now;
    `others` the other verdicts of a close one; `errors` a verdict's signed errors by instrument;
    `left` things left on, oldest first; `compressor` as work last left it, empty if none touched it;
    `settled` false since work changed readings and nothing was waited for; `rested` seconds of the longest
    wait since then; `ages` seconds waited since a reading was taken; `before` what this visit did not take
    itself, with the day of the visit that did.
    """

    values: dict[str, Value | None] = field(default_factory=dict)
    series: dict[str, list[Value | None]] = field(default_factory=dict)
    fresh: set[str] = field(default_factory=set)
    others: dict[str, tuple[str, ...]] = field(default_factory=dict)
    errors: dict[str, dict[str, float]] = field(default_factory=dict)
    results: dict[str, Result] = field(default_factory=dict)
    acknowledged: set[str] = field(default_factory=set)
    done: set[str] = field(default_factory=set)
    left: list[str] = field(default_factory=list)
    compressor: str = ""
    settled: bool = True
    rested: float = 0.0
    ages: dict[str, float] = field(default_factory=dict)
    before: dict[str, str] = field(default_factory=dict)

    def know(self, name: str, value: Value, visit: str = "") -> None:
        """Keep what was known before this visit began; `visit` is the day it was taken, empty if not known."""
        self.take(name, value)
        self.before[name] = visit

    def take(self, name: str, value: Value | None, *, replaces: bool = False) -> bool:
        """Keep a reading. True if it stands in for a fresh one: what came from it must be redone.

        Taken again while fresh, a number is averaged (the calibration error stays as it is), unless
        the two cannot both be right: then, or if it `replaces` or was known before this visit, the new one
        takes its place.
        """
        again = name in self.fresh
        replaces = self.before.pop(name, None) is not None or replaces
        series = self.series.setdefault(name, [])
        if again and series:
            before = self.values.get(name)
            if not replaces:
                value = _mean(before, value)
            series[-1] = value
        else:
            series.append(value)
        self.values[name] = value
        self.fresh.add(name)
        self.ages.pop(name, None)
        return again

    def grow_older(self, seconds: float, good_for: Callable[[str], Quantity | None]) -> None:
        """`seconds` have passed: a reading that is good for no longer than its age is stale."""
        for name in list(self.fresh):
            longest = good_for(name)
            if longest is None:
                continue
            self.ages[name] = self.ages.get(name, 0.0) + seconds
            if self.ages[name] >= longest.si:
                self.fresh.discard(name)

    def keep(self, name: str, value: Value | None, result: Result, *, redo: bool) -> None:
        """Keep a result; `redo` replaces the last of its series."""
        series = self.series.setdefault(name, [])
        if redo and series:
            series[-1] = value
        else:
            series.append(value)
        self.values[name] = value
        self.results.pop(name, None)
        self.results[name] = result

    def derived(self, name: str) -> list[str]:
        """Results that came from this reading, in the order they were worked out."""
        return [key for key, result in self.results.items() if name in result.came_from]


def agree(before: Value | None, now: Value | None) -> bool:
    """Can both be takes of the same thing, given their instruments? Numbers within twice their U."""
    if isinstance(before, Quantity) and isinstance(now, Quantity):
        return abs(before.si - now.si) <= 2 * (before.U + now.U)
    return before is None or before == now


def _mean(before: Value | None, now: Value | None) -> Value | None:
    """Of two takes that agree, their mean; else the newer one."""
    if isinstance(before, Quantity) and isinstance(now, Quantity) and agree(before, now):
        return replace(now, si=(before.si + now.si) / 2)
    return now
