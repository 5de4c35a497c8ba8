"""The events that count: those of a walk in which nothing had ever been taken back or corrected."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any
from weakref import WeakKeyDictionary

from tui.walk.history import STRICT, TOLD, WITHDRAWN
from tui.walk.inputs import apply, carry
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.core import Walk


# By walk, with how many events it had: events are only ever added, and a screen asks many times between two.
_known: WeakKeyDictionary[Walk, tuple[int, list[Event]]] = WeakKeyDictionary()


FOLLOWS = frozenset({"routed", "judged", "worked-out", "left", "finding"})
_PLACE = ("event", "circuit", "tree", "step", "where")


def origins(events: Iterable[Mapping[str, Any]]) -> list[int]:
    """For each event the number that a step back counts it by: its own, but for what a correction decided anew.

    That counts as what it replaced, for it follows from the same answers; what replaced nothing as what stands before
    it there.
    """
    found: list[int] = []
    standing: list[tuple[int, tuple[Any, ...]]] = []  # number and place of what follows from the answers
    anew: dict[tuple[Any, ...], list[int]] | None = None  # after a correction: what it replaces, by place
    last = 0
    for number, event in enumerate(events):
        kind, counts = event["event"], number
        if kind == "corrected":
            last, anew = int(event["event_no"]) + 1, {}
            for each, place in standing:
                if each >= last:
                    anew.setdefault(place, []).append(each)
            standing = [(each, place) for each, place in standing if each < last]
        elif kind in FOLLOWS or kind == "entered":
            place = tuple(event.get(part) for part in _PLACE)
            if anew is not None:
                replaced = anew.get(place)
                last = counts = max(last, replaced.pop(0)) if replaced else last
            standing.append((counts, place))
        elif kind == "undone":
            standing = [(each, place) for each, place in standing if each < int(event["back_to"])]
            anew = None
        else:
            anew = None
        found.append(counts)
    return found


def counted_events(walk: Walk) -> list[Event]:
    """Inputs and what follows from them, in order; a corrected reading has its new value, one taken back is gone.

    Work that was done stays, as it does in the walk. The events themselves where nothing was ever changed.
    """
    if not any(event["event"] in ("undone", "corrected") for event in walk.events):
        return walk.events
    count, known = _known.get(walk, (0, []))
    if count != len(walk.events):
        known = _gone_through(walk)
        _known[walk] = len(walk.events), known
    return known


def _gone_through(walk: Walk) -> list[Event]:
    """Its inputs as they count now, once more from the beginning, with what follows from them."""
    again = type(walk)(walk.library, walk.opening, embed_texts=False)
    for event in walk.events:
        again.use_properties(event.get("properties", []))
    told = again.gather()
    again.begin()
    for each in walk.inputs:
        if each.how != WITHDRAWN:
            told.append(each.event)
        if each.how == STRICT:
            apply(again.machine, each.event)
        else:
            carry(again.machine, each.event, in_series=each.how != WITHDRAWN, as_told=each.how == TOLD)
            if each.how == TOLD:
                again.machine.advance()
    return [walk.opening, *told]
