"""What the ``finding`` event says: the cause, what it rests on, what was ruled out, and the sentences filled in."""

from __future__ import annotations

from collections.abc import Iterator

from tui.tree.model import FindingStep, Name
from tui.tree.scope import PLACE
from tui.walk.circuit import CANNOT_TELL, Circuit
from tui.walk.clauses import known_clauses
from tui.walk.evidence import evidence_of
from tui.walk.excluding import could_be
from tui.walk.nearest import nearest
from tui.walk.rules import NOW
from tui.walk.world import Event, World

MOST = 5  # causes that a close call names


def finding_event(world: World, circuit: Circuit, step: FindingStep) -> Event:
    """The event of a finding on this circuit, as it stands."""
    tree = circuit.frame.program.tree.name
    could = could_be(world, circuit, step)
    possible, named = circuit.still_possible, {step.cause, *could}
    event: Event = {"event": "finding", "circuit": circuit.name, "where": f"{tree}/{step.name}"}
    event |= {"cause": step.cause or CANNOT_TELL, "could_be": list(could)}
    event["evidence"] = [evidence_of(said, world.units) for said in circuit.evidence.values()]
    event["ruled_out"] = [
        {"cause": cause, "at": at}
        for cause, at in circuit.ruled_out.items()
        if cause not in possible and cause not in named
    ]
    stopped = event["cause"] == CANNOT_TELL and not step.could_be
    left = possible if stopped else frozenset().union(*circuit.kept.values())
    event["still_possible"] = sorted(left - named)
    if world.rules >= NOW:
        within = "" if step.cause is None else f"{tree}/"
        near = list(_near(circuit, named, within))
        found = list(_nearest(world, circuit, named, "" if stopped else within))
        event |= ({"near": near} if near else {}) | ({"nearest": found} if found else {})
    return event | _sentences(world, circuit, step)


def _near(circuit: Circuit, named: set[str | None], within: str) -> Iterator[Event]:
    """The close calls it stands on: where, what was near its limit, what else it would be the other way.

    within: the tree they are of, where a cause was found, for that tree's own tests came after all before it.
    """
    judged = {event["name"]: event["compared"] for event in circuit.evidence.values() if event["event"] == "judged"}
    for at, causes in circuit.kept.items():
        others = sorted(causes - named)
        close = circuit.evidence[at].get("close") if at in circuit.evidence else None
        if isinstance(close, list) and others and at.startswith(within):
            yield {"at": at, "what": [judged.get(name, name) for name in close], "causes": others}


def _nearest(world: World, circuit: Circuit, named: set[str | None], within: str) -> Iterator[Event]:
    """Of each close call: where, what was near its limit, what it could be the other way, the nearest first.

    At most MOST of them, and how many `more`; told by what is known now, so not compared when it is replayed.
    """
    judged = {event["name"]: event["compared"] for event in circuit.evidence.values() if event["event"] == "judged"}
    for at, call in circuit.close_calls.items():
        others = [cause for cause in nearest(world, circuit, call) if cause not in named]
        if others and at.startswith(within):
            what = [judged.get(name, name) for name in call.columns]
            yield {"at": at, "what": what, "causes": others[:MOST], "more": len(others[MOST:])}


def _sentences(world: World, circuit: Circuit, step: FindingStep) -> Event:
    evaluator = world.evaluator(circuit)
    said: Event = {}
    for part, text in (("seen", step.seen), ("next", step.next), ("told_apart", step.told_apart)):
        said[part] = evaluator.text(text, world.units)
    said["seen"] = known_clauses(said["seen"])
    if step.customer is not None:
        said["customer"] = evaluator.text(step.customer, world.units)
    place = circuit.frame.names.get(PLACE, "")
    if place and any(isinstance(part, Name) and part.name == PLACE for part in step.seen.parts):
        said[PLACE] = place
    taken = world.properties.taken()
    return said | ({"properties": taken} if taken else {})
