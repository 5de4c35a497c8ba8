"""A correction tried out on a copy: what it would change, in words, before anything is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from tui.quantity import Quantity, Refused, Value, show, to_json
from tui.walk import history, inputs, showing
from tui.walk.kinds import AGAIN, BETTER, GO_ON, SITE, UNIT, ZERO, spoken
from tui.walk.machine import Machine
from tui.walk.opening import as_reading
from tui.walk.prompt import Change, Given
from tui.walk.rows import verdict_word
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.core import Walk


NEVER_HAD = "never had"
NOT_HAD = "not had"


def given_in(walk: Walk, everything: list[history.Input]) -> list[Given]:
    """See `Walk.given`."""
    there = ("", *walk.machine.names())
    counted = sorted((each for each in everything if _counts(walk, each)), key=lambda each: each.number)
    asked = ((each.number, as_reading(each.event)) for each in counted)
    return [
        Given(
            number,
            event["circuit"],
            event["reading"],
            _shown(walk, event),
            event.get("place", ""),
            event["value"] is not None,
        )
        for number, event in asked
        if event["circuit"] in there
    ]


def _counts(walk: Walk, each: history.Input) -> bool:
    """A reading of the catalogue that was given, or one that could not be had and is not known since."""
    event, readings = each.event, walk.library.catalogue.readings
    if event["event"] != "couldn't":
        known = event.get("reading") in readings and event["reading"] not in SITE
        return known and "value" in event and each.how != history.WITHDRAWN
    names = event.get("readings", ())
    if each.how != history.STRICT or len(names) != 1 or names[0] not in readings:
        return False
    facts = walk.machine.holder(inputs.circuit_of(walk.machine, event), names[0])
    return facts.values.get(names[0]) is None


def _shown(walk: Walk, event: Event) -> str:
    return NOT_HAD if event["value"] is None else showing.given_value(walk.machine, event)


def _only_names(names: Mapping[str, str]) -> Iterator[str]:
    for was, now in names.items():
        yield f"{was} is called {now}: only the name changes, what was answered stays with it"


def proposal(walk: Walk, number: int, event: Event, value: Value | None, items: tuple[Event, ...] = ()) -> Change:
    """The Change that `Walk.correct` shows; value: None if it was never had. Raises Refused if it says the same.

    items: what earlier visits know of the unit of that tag.
    """
    stored = None if value is None else to_json(value)
    if stored == event["value"]:
        raise Refused("same", "That is what it says already.", "Type the right figure.")
    names = walk.renames(event, stored)
    now = walk.machine if names else walk.trial(number, event | {"value": stored, "history": list(items)})
    changes = tuple(_only_names(names) if names else differences(walk.machine, now))
    if event["reading"] == UNIT:
        count = f"{len(items)} readings" if items else "nothing"
        changes = (f"from earlier visits to that unit: {count}; the file keeps its name", *changes)
    was = _shown(walk, event)
    at = len(walk.events)
    if stored is None:
        return Change(number, event["reading"], was, NEVER_HAD, changes, "", at, event["circuit"], struck=True)
    say = showing.given_value(now, event | {"value": stored})
    text = str(stored.get("typed") or value)
    if isinstance(value, Quantity) and not value.typed:
        text = show(value, value.unit or None)
    return Change(number, event["reading"], was, say, changes, text, at, event["circuit"], history=items)


def first_take(walk: Walk, number: int, event: Event) -> int:
    """Where that reading was first given, if it was told once more while nothing had changed; 0: before the visit.

    What was decided meanwhile rests on that. Measured takes stand each for itself: they are averaged.
    """
    if walk.of_opening(number) or "instrument" in event or event["value"] is None:
        return number
    earlier = [each for each in walk.inputs if each.number < number]
    machine = walk.trial_of(earlier)
    circuit, reading = inputs.circuit_of(machine, event), event["reading"]
    facts = machine.holder(circuit, reading)
    if reading not in facts.fresh or facts.values.get(reading) is None:
        return number
    first = next((each for each in reversed(earlier) if _gives(each, event)), None)
    return first_take(walk, first.number, first.event) if first is not None else 0


def _gives(each: history.Input, event: Event) -> bool:
    told = each.event["event"] in inputs.TAKEN and each.how in (history.STRICT, history.TOLD)
    return told and all(each.event.get(part) == event[part] for part in ("reading", "circuit"))


def taken_back(walk: Walk, n: int) -> tuple[str, ...]:
    """What `Walk.undo_shows` says: the answers that would go, then what would be otherwise."""
    counted = walk.inputs_after_undo(n)
    gone = [_answer(walk, each.event) for each in counted if _goes(walk, each)]
    now = walk.trial_of(counted)
    first = ", ".join(gone) or "the last answer"
    return (first, *differences(walk.machine, now))


def _goes(walk: Walk, each: history.Input) -> bool:
    before = next(i for i in walk.inputs if i.number == each.number)
    return each.how != before.how and each.event["event"] in inputs.UNDOABLE


_OTHERS = {
    "couldn't": "that it couldn't be done",
    "overruled": "your own verdict",
    "offered": "your answer to the offer",
    "switched": "the change to another circuit",
    "closing": "ending the visit",
}


def _answer(walk: Walk, event: Event) -> str:
    if "value" in event and event.get("reading") in walk.library.catalogue.readings:
        return f"{spoken(event['reading'])} {showing.given_value(walk.machine, event)}"
    readings = [event["reading"]] if event.get("reading") else event.get("readings")
    if readings:
        return f"{', '.join(map(spoken, readings))} couldn't be had"
    if event.get("choice"):
        return f"your choice: {_CHOSEN.get(event['choice'], spoken(event['choice']))}"
    return _OTHERS.get(event["event"], "the last answer")


_CHOSEN = {GO_ON: "leave it open", AGAIN: "take it again", ZERO: "check the instrument", BETTER: "a better instrument"}


def differences(was: Machine, now: Machine) -> list[str]:
    """What has to come out first; verdicts, findings, the next question that would be others; then decisions, and what
    would not come up."""
    no_more = [name for name in was.names() if name not in now.names() and was.circuits[name].frames]
    found = list(_let_out(now))
    found += [f"{name}: walked no more; what was read there stays in the record only" for name in no_more]
    gone: list[str] = []
    turned: list[str] = []
    for name, circuit in was.circuits.items():
        other = now.circuits.get(name)
        if other is None:
            continue
        for at, event in circuit.evidence.items():
            since = other.evidence.get(at)
            if since is None:
                gone.append(_name(at, event))
            elif event["event"] == "judged" and since["verdict"] != event["verdict"]:
                found.append(f"{_name(at, event)}: {_verdict(since)} instead of {_verdict(event)}")
            elif event["event"] == "routed" and since["to"] != event["to"]:
                turned.append(_name(at, event))
    found += _found_otherwise(was, now)
    first, second = showing.prompt_of(was), showing.prompt_of(now)
    if (first and (first.tree, first.step)) != (second and (second.tree, second.step)):
        found.append(f"Next: {second.words if second else 'the end of the walk'}")
    if turned:
        found.append(f"Decided otherwise: {', '.join(dict.fromkeys(turned))}.")
    if gone:
        found.append(f"No longer on the way: {', '.join(dict.fromkeys(gone))}.")
    return found or list(_figures(was, now))


def _figures(was: Machine, now: Machine) -> Iterator[str]:
    """What a finding or the question would say otherwise where the way stays the same."""
    for before, after in zip(was.findings, now.findings, strict=False):
        for part in ("seen", "next"):
            if before[part] != after[part]:
                yield f"It would say: {after[part]}"
    first, second = showing.prompt_of(was), showing.prompt_of(now)
    if first is not None and second is not None and first.words != second.words:
        yield f"Now it says: {second.words}"


def _let_out(now: Machine) -> Iterator[str]:
    for name, circuit in now.circuits.items():
        if circuit.pending is not None and circuit.pending.over:
            where = f"{name}: " if len(now.circuits) > 1 else ""
            tell = now.catalogue.left_on[circuit.pending.left].tell
            yield f"FIRST, before anything else - {where}{tell} {circuit.pending.over}"


def _name(at: str, event: Event) -> str:
    return spoken(event.get("compared") or event.get("name") or at.split("/")[-1])


def _verdict(event: Event) -> str:
    return verdict_word(event["verdict"] or "not known")


def _found_otherwise(was: Machine, now: Machine) -> list[str]:
    before = [(f["circuit"], f["where"]) for f in was.findings]
    after = [(f["circuit"], f["where"]) for f in now.findings]
    return [] if before == after else [f"Found: {_causes(now)}; it was: {_causes(was)}"]


def _causes(machine: Machine) -> str:
    """What was found, as a person reads it."""
    causes = machine.catalogue.causes
    said = (causes[f["cause"]].say if f["cause"] in causes else spoken(f["cause"]) for f in machine.findings)
    return ", then ".join(dict.fromkeys(said)) or "nothing yet"
