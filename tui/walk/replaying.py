"""From events back to the walk, and the first place where it goes another way."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tui.quantity import Refused, own_figures
from tui.tree.scope import PLACE
from tui.walk.clauses import known_clauses
from tui.walk.following import FOLLOWS, REMARKS
from tui.walk.inputs import INPUTS, fits
from tui.walk.program import TreeMissing
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk.core import Walk, Watch

STAMPS = ("n", "at", "mono", "prev", "hash")
UNCOMPARED = frozenset({"text", "catalogue", "properties", "digest", "edition", "beyond", "nearest"})
#: What events of older files don't have.
_NEWER = frozenset({FOLLOWS, PLACE})
#: Where a walk goes, by event: what else these hold, and other events that follow from it, is no matter to the way.
WAY = {
    "entered": frozenset({"circuit", "tree"}),
    "left": frozenset({"circuit", "tree", "outcome"}),
    "routed": frozenset({"circuit", "tree", "step", "to"}),
    "finding": frozenset({"circuit", "where", "cause", "could_be"}),
}


@dataclass(frozen=True, slots=True)
class Difference:
    """The first event that comes out otherwise: its number, what it is, then and now."""

    n: int
    what: str
    then: str
    now: str


class DoesNotReplay(Refused):
    """The events do not follow from the library; `difference` says where."""

    def __init__(self, difference: Difference) -> None:
        d = difference
        say = f"Event {d.n} ({d.what}) does not follow any more: it says {d.then}, now it is {d.now}."
        super().__init__("does-not-replay", say, "Replay it with the trees it was walked with.")
        self.difference = difference


def bare(event: Mapping[str, Any]) -> Event:
    """The event without the stamps its file gave it."""
    return {key: value for key, value in event.items() if key not in STAMPS}


def replayed(
    cls: type[Walk],
    library: Library,
    events: list[Event],
    *,
    recompute: bool,
    way_only: bool,
    watch: Watch | None = None,
) -> Walk:
    """See `Walk.from_events`. Raises TreeMissing where all holds, and it then leads into a tree not there."""
    compare = _compare_way if way_only else _compare
    events = [bare(event) for event in events]
    if not events or events[0].get("event") != "opened":
        raise Refused("foreign", "This is no session: it does not begin with an opening.", "Pick another file.")
    walk = _opened(cls, library, events, recompute)
    made = walk.gather()
    missing = _unless_missing(walk.begin)
    watch = watch or _nobody
    watch(0, walk)
    for number, event in enumerate(events[1:], 1):
        if way_only and _beside_the_way(walk, event, made):
            continue
        if event["event"] in REMARKS:  # may have been added where the power went before what was due
            missing = _feed(walk, number, event) or missing
        elif made:
            compare(number, event, made.pop(0))
            walk.events.append(event)
        elif missing is not None:
            raise DoesNotReplay(Difference(number, event["event"], _say(event), f"no tree {missing.tree}"))
        elif event["event"] in INPUTS:
            missing = _feed(walk, number, event)
            watch(number, walk)
        else:
            raise DoesNotReplay(Difference(number, event["event"], _say(event), _stands(walk)))
    if missing is not None:
        raise missing
    walk.stop_gathering()
    walk.events.extend(made)
    return walk


def _nobody(number: int, walk: Walk) -> None:
    """Nobody watches."""


def _opened(cls: type[Walk], library: Library, events: list[Event], recompute: bool) -> Walk:
    """The walk before its first tree, with what the events looked up and saw beyond it."""
    walk = cls(library, events[0])
    for event in events:
        walk.use_beyond(event.get("beyond", {}))
        if not recompute:
            walk.use_properties(event.get("properties", []))
    return walk


def _unless_missing(move: Callable[[], None]) -> TreeMissing | None:
    try:
        move()
    except TreeMissing as missing:
        return missing
    return None


def _feed(walk: Walk, number: int, event: Event) -> TreeMissing | None:
    kind = event["event"]
    if kind not in ("undone", "corrected") and not fits(walk.machine, event):
        then = f"{event.get('tree', '')}/{event.get('step', '')}"
        raise DoesNotReplay(Difference(number, kind, then, _stands(walk)))
    walk.events.append(event)
    return _unless_missing(lambda: walk.fold(number, event))


def _stands(walk: Walk) -> str:
    """What is asked for where the events go on without it."""
    prompt = walk.prompt
    if prompt is None:
        return "the end"
    missing = ", ".join(reading.id for reading in prompt.readings)
    return f"{prompt.kind} at {prompt.tree}/{prompt.step}" + (f" ({missing})" if missing else "")


def _beside_the_way(walk: Walk, event: Event, made: list[Event]) -> bool:
    """Whether the event says nothing of the way, and so was only kept for the numbers of the others."""
    while made and _no_way(made[0]):
        made.pop(0)
    if not _no_way(event):
        return False
    walk.events.append(event)
    return True


def _no_way(event: Event) -> bool:
    return event["event"] not in INPUTS and event["event"] not in WAY


def _compare_way(number: int, stored: Event, made: Event) -> None:
    if stored["event"] != made["event"]:
        raise DoesNotReplay(Difference(number, stored["event"], _say(stored), _say(made)))
    for part in sorted(WAY[made["event"]]):
        if stored.get(part) != made.get(part):
            what = f"{stored['event']} {part}"
            raise DoesNotReplay(Difference(number, what, _short(stored.get(part)), _short(made.get(part))))


def _compare(number: int, stored: Event, made: Event) -> None:
    if stored["event"] in INPUTS or stored["event"] != made["event"]:
        raise DoesNotReplay(Difference(number, stored["event"], _say(stored), _say(made)))
    for part in {**stored, **made}:
        if part in UNCOMPARED or (part in _NEWER and part not in stored):
            continue
        if not (same(stored.get(part), made.get(part)) or _as_said_now(stored.get(part), made.get(part))):
            then, now = _short(stored.get(part)), _short(made.get(part))
            raise DoesNotReplay(Difference(number, f"{stored['event']} {part}", then, now))
    _compare_properties(number, _results(stored), _results(made))


def _as_said_now(then: Any, now: Any) -> bool:
    """A sentence of an older file: with each figure in both systems, or with what was not known."""
    both = (then, own_figures(then, "US"), own_figures(then, "SI")) if isinstance(then, str) else ()
    return now in (*both, *map(known_clauses, both))


def _compare_properties(number: int, then: Mapping[str, Any], now: Mapping[str, Any]) -> None:
    """Of what both looked up: which other things a walk looks up is its own business."""
    for asked, result in then.items():
        if asked in now and not same(result, now[asked]):
            raise DoesNotReplay(Difference(number, asked, _short(result), _short(now[asked])))


def _results(event: Event) -> dict[str, Any]:
    """What was looked up, in words, and what came out."""
    return {" ".join(map(str, asked)): result for *asked, result in event.get("properties", ())}


def same(then: Any, now: Any) -> bool:
    """Equal, numbers in text to 9 digits."""
    if isinstance(then, Mapping) and isinstance(now, Mapping):
        return all(same(then.get(k), now.get(k)) for k in {**then, **now} if k not in UNCOMPARED)
    if isinstance(then, list | tuple) and isinstance(now, list | tuple):
        return len(then) == len(now) and all(map(same, then, now))
    if then == now:
        return True
    if isinstance(then, str) and isinstance(now, str):
        try:
            return math.isclose(float(then), float(now), rel_tol=1e-9, abs_tol=1e-12)
        except ValueError:
            return False
    return False


def _say(event: Event) -> str:
    for part in ("to", "verdict", "cause", "tree", "name"):
        if event.get(part):
            return f"{event['event']} {event[part]}"
    return str(event["event"])


def _short(value: Any) -> str:
    if isinstance(value, Mapping) and "value" in value:
        return f"{value['value']} {value.get('unit', '')}".strip()
    text = str(value)
    return text if len(text) <= 80 else text[:77] + "..."
