"""How a circuit's leak stands after a visit: by what was found, mended and proven on it, not by an answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tui.quantity import from_json

Event = Mapping[str, Any]

SHORT = "short-of-charge"  # the cause that a leak has
OPEN, MENDED = "found but not mended", "mended"  # answers of the reading that tells it to the next visit

# what the bundled trees call the work, the readings and the tree that tell it
MENDS, REMAKES = "mends the circuit", "remakes a joint"
WHAT, HOW, KNOWN = "mended", "how-mended", "leak-known"
ONLY_DRIER, ALREADY = "only the drier", "mended already"
NOT_MENDED = ("nothing yet", "nothing but the charge")
HOLD, TIGHT, LEAKING = "nitrogen-hold", "tight", ("leaking", "seen leaking")


@dataclass(frozen=True, slots=True)
class Leak:
    """`state`: OPEN, MENDED, or empty where none is known. worked: mended, and not proven since.

    missing: gas has leaked out, and no place was found for it. held: nitrogen stood last, and showed no leak.
    """

    state: str = ""
    worked: bool = False
    missing: bool = False
    held: bool = False


def leak_of(own: Sequence[tuple[int, Event]], known: bool, weighed: int) -> Leak:
    """Of one circuit's counted events. known: it was said to have one that is open; weighed: when it was filled, or -1.

    Mended is what was worked on after it was found last, and then held tight or was filled. A new drier alone mends a
    leak only where the leak was found on this visit and the hold showed none after it.
    """
    placed = _last(own, lambda event: event["event"] == "finding" and bool(event.get("place")))
    said = _last(own, lambda event: _said(event, KNOWN) == "found")
    short = _last(own, lambda event: event["event"] == "finding" and event["cause"] == SHORT)
    found = max(placed, short, said)
    mend, drier = _mended(own)
    tight = _last(own, lambda event: _left(event, TIGHT))
    loose = _last(own, lambda event: _left(event, *LEAKING))
    proved = max(tight, -1 if drier else weighed)
    done = found < mend < proved and loose < proved and (placed >= 0 or not drier)
    again = not drier and short > mend >= 0
    if known or max(placed, said) >= 0 or again:
        worked = not drier and mend > found
        return Leak(MENDED if done else OPEN, worked and not done, held=tight > max(found, loose))
    return Leak(missing=short >= 0 and tight < short, held=tight > max(short, loose))


def _mended(own: Sequence[tuple[int, Event]]) -> tuple[int, bool]:
    """(when it was worked on last, or -1; whether that was the drier alone)."""
    done = _last(own, lambda event: event["event"] == "done" and event["work"] in (MENDS, REMAKES))
    before = _last(own, lambda event: _said(event, HOW) == ALREADY)
    said = [what for n, event in own if n > max(done, before) and (what := _said(event, WHAT))]
    if said and said[-1] in NOT_MENDED:
        return -1, False
    return max(done, before), bool(said) and said[-1] == ONLY_DRIER


def _said(event: Event, reading: str) -> str:
    """The word that was answered to a reading; empty for any other event."""
    if event["event"] not in ("answered", "told") or event.get("reading") != reading:
        return ""
    value = event.get("value")
    return str(from_json(dict(value))) if isinstance(value, Mapping) else ""


def _left(event: Event, *outcomes: str) -> bool:
    return event["event"] == "left" and event.get("tree") == HOLD and event.get("outcome") in outcomes


def _last(own: Sequence[tuple[int, Event]], is_it: Callable[[Event], bool]) -> int:
    return max((n for n, event in own if is_it(event)), default=-1)
