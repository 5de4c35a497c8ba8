"""A walk begun anew in other trees, with the answers of the old one as far as they still fit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tui.quantity import Quantity, Refused, from_json
from tui.walk.core import Walk
from tui.walk.history import STRICT, TOLD
from tui.walk.inputs import INPUTS, TAKEN, fits
from tui.walk.reading import parse_reading
from tui.walk.replaying import bare
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.tree.library import Library

#: What answers nothing, and what ends a visit: the new one is still to go on.
_BESIDE = frozenset(
    {"own-finding", "noted", "photographed", "resumed", "undone", "corrected", "closing", "closed"}
)


def refit(library: Library, walk: Walk, waiting: Sequence[Event] = ()) -> tuple[Walk, list[Event]]:
    """The walk in `library`, at the first thing that none of the old answers fits, and the answers left over.

    waiting: answers left over before; they may fit where the new trees ask for them again. Raises Refused where
    the tree it began in is gone.
    """
    from tui.walk.opening import has_tree

    has_tree(library, walk.opening["tree"])
    anew = Walk(library, dict(walk.opening) | {"library": library.digest}, embed_texts=False)
    anew.begin()
    old = [i.event for i in walk.inputs if i.how in (STRICT, TOLD) and i.event["event"] in INPUTS - _BESIDE]
    return anew, go_on(anew, [*(bare(event) for event in old), *waiting])


def go_on(walk: Walk, waiting: Sequence[Event]) -> list[Event]:
    """Give the walk every answer that it asks for, in their order; those left over."""
    left = list(waiting)
    while (found := _next(walk, left)) is not None:
        del left[found]
    return left


def _next(walk: Walk, left: Sequence[Event]) -> int | None:
    """The place of the answer that was taken. What was told out of turn waits for what came before it."""
    in_turn = [n for n, event in enumerate(left) if event["event"] != "told" or not n]
    others = [n for n in range(1, len(left)) if n not in in_turn]
    return next((n for n in (*in_turn, *others) if _taken(walk, left[n])), None)


def _taken(walk: Walk, event: Event) -> bool:
    """Takes the answer, if it is one to what is asked now."""
    prompt = walk.prompt
    if prompt is None:
        return False
    here = _here(walk, event)
    try:
        if here["event"] == "told":
            return _told(walk, here)
        if not fits(walk.machine, here) or not _still_valid(walk, here):
            return False
        walk.again(here)
    except Refused:
        return False
    return True


def _told(walk: Walk, event: Event) -> bool:
    """What was told out of turn is told again once its circuit is there."""
    circuit = event.get("circuit", "")
    if circuit and circuit not in walk.circuits:
        return False
    value = from_json(event["value"])
    walk.tell(event["reading"], value if isinstance(value, Quantity) else str(value), circuit or None)
    return True


def _here(walk: Walk, event: Event) -> Event:
    """The event as one of the step asked now, where it answers what that step asks: steps get other names."""
    prompt = walk.prompt
    assert prompt is not None
    asked = {reading.id for reading in prompt.readings}
    readings = {*event.get("readings", ()), *([event["reading"]] if event.get("reading") else ())}
    same_work = event["event"] == "done" and event.get("work") and event["work"] == prompt.work
    if event.get("circuit", "") == prompt.circuit and ((readings and readings <= asked) or same_work):
        return event | {"tree": prompt.tree, "step": prompt.step}
    return event


def _still_valid(walk: Walk, event: Event) -> bool:
    """Whether the reading takes this value yet: its answers, kind or range may be others now. Raises Refused."""
    reading = walk.library.catalogue.readings.get(event.get("reading", ""))
    if event["event"] not in TAKEN or reading is None:
        return True
    value = from_json(event["value"])
    parse_reading(None, reading, value if isinstance(value, Quantity) else str(value))
    return True
