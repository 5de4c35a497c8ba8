"""Working out and judging: from an expression to a value or a verdict, with its event."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tui.quantity import Comparison, Quantity, Value, compare, to_json
from tui.tree.model import Judge, Name, WorkOut
from tui.walk.evaluate import Evaluator
from tui.walk.facts import Facts, Result


@dataclass(frozen=True, slots=True)
class Outcome:
    """`value` is what the name now is; for a judge, `measured`, its limits and the comparison too.

    `doubted`: other words that a sum leaves possible.
    """

    value: Value | None
    measured: Quantity | None = None
    low: Quantity | None = None
    high: Quantity | None = None
    comparison: Comparison | None = None
    doubted: tuple[str, ...] = ()

    def keep(self, facts: Facts, name: str, result: Result, *, redo: bool) -> None:
        """Put it into the facts, with what it came from."""
        facts.keep(name, self.value, result, redo=redo)
        facts.errors[name] = _shares(self.measured, self.low if self.low is not None else self.high)
        facts.others[name] = self.comparison.others if self.comparison is not None else self.doubted


def _shares(measured: Quantity | None, limit: Quantity | None) -> dict[str, float]:
    shares = {} if measured is None else dict(measured.errors)
    for source, part in ({} if limit is None else limit.errors).items():
        shares[source] = shares.get(source, 0.0) - part
    return shares


def outcome(evaluator: Evaluator, step: WorkOut | Judge, *, doubt: bool = True) -> Outcome:
    """Evaluate a work-out or a judge; unknown in, unknown out. Without `doubt` the word of a sum is sure."""
    if isinstance(step, WorkOut):
        doubted = evaluator.doubted(step.expression) if doubt else ()
        return Outcome(evaluator.value(step.expression), doubted=doubted)
    measured = evaluator.quantity(step.compare)
    low, high = limits(evaluator, step)
    wanted = [limit for limit, side in ((low, "low"), (high, "high")) if side in step.sides]
    if measured is None or any(limit is None for limit in wanted):
        return Outcome(None, measured, low, high)
    comparison = compare(measured, low, high)
    return Outcome(comparison.verdict, measured, low, high, comparison)


def limits(evaluator: Evaluator, step: Judge) -> tuple[Quantity | None, Quantity | None]:
    """The edges of *on*: target less and plus the band, or on-from and on-to."""
    if step.target is None:
        return evaluator.quantity(step.on_from), evaluator.quantity(step.on_to)
    target, band = evaluator.quantity(step.target), evaluator.quantity(step.band)
    if target is None or band is None:
        return None, None
    return target - band, target + band


def judged_event(found: Outcome, step: WorkOut | Judge) -> dict[str, Any]:
    """The event of a result; numbers as exact text."""
    if isinstance(step, WorkOut):
        event: dict[str, Any] = {"event": "worked-out", "name": step.result}
        event["value"] = None if found.value is None else to_json(found.value)
        if isinstance(found.value, Quantity):
            event["u"] = repr(found.value.u)
        return event | ({"close": " or ".join(found.doubted)} if found.doubted else {})
    compared = step.compare.name if isinstance(step.compare, Name) else step.result
    event = {"event": "judged", "name": step.result, "compared": compared, "verdict": found.value}
    for part, value in (("value", found.measured), ("low", found.low), ("high", found.high)):
        event[part] = None if value is None else to_json(value)
    if found.comparison is not None:
        event |= {"u": repr(found.comparison.u), "close": " or ".join(found.comparison.others) or False}
    return event
