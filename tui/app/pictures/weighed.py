"""What the weighed test has shown so far: a point a round, what is wanted, and where it stops."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tui.quantity import Kind, Quantity, Refused, from_json
from tui.trade import SUMS
from tui.tree.model import Repeat
from tui.walk.counted import counted_events

if TYPE_CHECKING:
    from tui.walk import Walk

TREE = "charge-test"
NET, STEP, PLATE = "net-added", "step", "nameplate-charge"
CONNECTS, ADDS, ENDS = "connects a cylinder", "adds refrigerant", "takes the cylinder off"


@dataclass(frozen=True, slots=True)
class Watched:
    """One of the four: the values it is read from, the verdict on it, what puts that verdict's edges into its kind.

    `stop`: the judgement that ends the test, with the side of it that does.
    """

    words: str
    sources: tuple[str, ...]
    level: str
    into: str = ""
    stop: tuple[str, str] | None = None


WATCHED = (
    Watched("suction", ("suction", "evaporating-now"), "suction-level", "suction-wanted"),
    Watched("head", ("head", "condensing-now"), "head-level", "head-wanted", ("head-top", "high")),
    Watched("superheat", ("superheat",), "superheat-level", stop=("superheat-floor", "low")),
    Watched("subcooling", ("subcooling",), "subcooling-level", stop=("subcooling-top", "high")),
)
VALUES = frozenset(source for each in WATCHED for source in each.sources)


@dataclass(frozen=True, slots=True)
class Point:
    """After a round: what had gone in by then, and each value."""

    net: Quantity
    values: dict[str, Quantity]


@dataclass(slots=True)
class Weighing:
    """One test. `edges` and `verdicts` by the name of the judgement, the latest of it; `rounds` at most, if known."""

    points: list[Point] = field(default_factory=list)
    edges: dict[str, dict[str, Quantity]] = field(default_factory=dict)
    verdicts: dict[str, str] = field(default_factory=dict)
    plate: Quantity | None = None
    step: Quantity | None = None
    rounds: int | None = None

    @property
    def most(self) -> Quantity | None:
        """What it adds at most, by the number of its rounds."""
        if self.step is None or self.rounds is None:
            return None
        return Quantity(Kind.MASS, self.step.si * self.rounds)


def weighing_of(walk: Walk) -> Weighing:
    """That of the circuit at hand, the latest if there were several; without points where there was none."""
    circuit = walk.looked_at()
    name = "" if circuit is None else circuit.name
    test, over = Weighing(), False
    now: dict[str, Quantity] = {}
    for event in counted_events(walk):
        if event.get("circuit", "") not in (name, ""):
            continue
        work = event.get("work") if event["event"] == "done" and event.get("tree") == TREE else ""
        if work == CONNECTS:
            test, over = Weighing(), False
        over = over or work == ENDS
        if over:
            continue
        _note(test, now, event)
        if work == ADDS and not test.points:
            test.points = [Point(Quantity(Kind.MASS, 0.0), _watched(now))]
        if event["event"] == "worked-out" and event.get("name") == NET and test.points and NET in now:
            test.points.append(Point(now[NET], _watched(now)))
    test.plate, test.step, test.rounds = now.get(PLATE), now.get(STEP), _rounds(walk)
    return test


def _note(test: Weighing, now: dict[str, Quantity], event: dict[str, Any]) -> None:
    """Keep what an event gives; what could not be had is not known any more."""
    if event["event"] == "judged":
        name = str(event["name"])
        sides = {side: _quantity(event.get(side)) for side in ("low", "high")}
        test.edges[name] = {side: value for side, value in sides.items() if value is not None}
        test.verdicts[name] = str(event.get("verdict") or "")
        return
    for reading in event.get("readings", ()) if event["event"] == "couldn't" else ():
        now.pop(reading, None)
    name, value = str(event.get("reading") or event.get("name") or ""), _quantity(event.get("value"))
    if value is not None:
        now[name] = value
    elif event["event"] == "worked-out":
        now.pop(name, None)


def _watched(now: dict[str, Quantity]) -> dict[str, Quantity]:
    return {name: value for name, value in now.items() if name in VALUES}


def _quantity(stored: object) -> Quantity | None:
    value = from_json(stored) if isinstance(stored, dict) else None
    return value if isinstance(value, Quantity) else None


def _rounds(walk: Walk) -> int | None:
    tree = walk.library.trees.get(TREE)
    repeats = (step for step in tree.named.values() if isinstance(step, Repeat)) if tree is not None else iter(())
    return next((each.most for each in repeats if each.most is not None), None)


def source_of(watched: Watched, test: Weighing) -> str:
    """Which of its values this was read from at every round; empty where none was had."""
    return next((s for s in watched.sources if all(s in point.values for point in test.points[-2:])), "")


def wanted_of(walk: Walk, watched: Watched, test: Weighing, kind: Kind) -> list[Quantity]:
    """The edges of what is wanted in that kind, the lower first; none without a verdict."""
    edges = list(test.edges.get(watched.level, {}).values())
    if edges and edges[0].kind is not kind:
        edges = _put_into(walk, watched, edges)
    return sorted((edge for edge in edges if edge.kind is kind), key=lambda edge: edge.si)


def _put_into(walk: Walk, watched: Watched, edges: list[Quantity]) -> list[Quantity]:
    """Temperatures of a coil as the pressures that a gauge shows."""
    refrigerant = walk.values().get("refrigerant")
    if not watched.into or not isinstance(refrigerant, str):
        return []
    machine = walk.machine
    with machine.properties.aside():
        try:
            found = [SUMS[watched.into].call(machine.at_site, machine.properties, edge, refrigerant) for edge in edges]
        except Refused:
            return []
    return [each for each in found if isinstance(each, Quantity)]


def stop_of(watched: Watched, test: Weighing, kind: Kind) -> Quantity | None:
    """Where the test ends for it, if that is known."""
    if watched.stop is None:
        return None
    found = test.edges.get(watched.stop[0], {}).get(watched.stop[1])
    return found if found is not None and found.kind is kind else None
