"""The events that count: those of a walk in which nothing had ever been taken back or corrected."""

from __future__ import annotations

from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from tui.walk.history import STRICT, TOLD, WITHDRAWN
from tui.walk.inputs import apply, carry
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.core import Walk


# By walk, with how many events it had: events are only ever added, and a screen asks many times between two.
_known: WeakKeyDictionary[Walk, tuple[int, list[Event]]] = WeakKeyDictionary()


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
        again.machine.now = each.number  # each reading is wrong by itself, too
        if each.how == STRICT:
            apply(again.machine, each.event)
        else:
            carry(again.machine, each.event, in_series=each.how != WITHDRAWN, as_told=each.how == TOLD)
            if each.how == TOLD:
                again.machine.advance()
    return [walk.opening, *told]
