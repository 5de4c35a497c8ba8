"""A correction tried out on a copy: what it would change, in words, before anything is written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.quantity import Quantity, Refused, Value, show, to_json
from tui.walk import history, showing
from tui.walk.machine import Machine
from tui.walk.prompt import Change, spoken
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.core import Walk


def proposal(walk: Walk, number: int, event: Event, value: Value) -> Change:
    """The Change that `Walk.correct` shows. Raises Refused if the text says the same as before."""
    stored = to_json(value)
    if stored == event["value"]:
        raise Refused("same", "That is what it says already.", "Type the right figure.")
    now = walk.trial(number, event | {"value": stored})
    differences = tuple(_differences(walk.machine, now))
    was = showing.given_value(walk.machine, event)
    say = showing.given_value(now, event | {"value": stored})
    text = str(stored.get("typed") or value)
    if isinstance(value, Quantity) and not value.typed:
        text = show(value, value.unit or None)
    return Change(number, event["reading"], was, say, differences, text, len(walk.events))


def _differences(was: Machine, now: Machine) -> list[str]:
    """Verdicts, ways, findings and the next question that would be others."""
    found: list[str] = []
    for name, circuit in was.circuits.items():
        other = now.circuits.get(name)
        if other is None:
            continue
        for at, event in circuit.evidence.items():
            found += _verdict(at, event, other.evidence.get(at))
    before = [(f["circuit"], f["where"]) for f in was.findings]
    after = [(f["circuit"], f["where"]) for f in now.findings]
    if before != after:
        found.append(f"findings: {_names(before)} -> {_names(after)}")
    first, second = showing.prompt_of(was), showing.prompt_of(now)
    if (first and (first.tree, first.step)) != (second and (second.tree, second.step)):
        found.append(f"next: {second.words if second else 'the end'}")
    return found


def _verdict(at: str, was: Event, now: Event | None) -> list[str]:
    if now is None:
        return [f"{at}: would not be reached"]
    part = "verdict" if was["event"] == "judged" else "to"
    if was[part] == now[part]:
        return []
    name = spoken(was.get("name", at))
    return [f"{name}: {was[part] or 'unknown'} -> {now[part] or 'unknown'}"]


def _names(findings: list[tuple[str, str]]) -> str:
    return ", ".join(at for _, at in findings) or "none yet"


__all__ = ["history", "proposal"]
