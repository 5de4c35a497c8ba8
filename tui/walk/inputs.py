"""What a person does, taken into the machine: one function for each kind of input event.

`apply` expects an event that `fits`; `carry` keeps only what an undo cannot take back.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import lru_cache

from tui.quantity import Accuracy, Atmosphere, Quantity, Value, from_json
from tui.trade import Site
from tui.tree.model import Catalogue, Do, FindingStep, Step, Wait
from tui.tree.scope import PLACE
from tui.walk.circuit import Circuit, Pending
from tui.walk.facts import agree
from tui.walk.kinds import AGAIN, ALTITUDE, BETTER, GO_ON, GOOD_TO, OWN, ZERO
from tui.walk.limits import put_on
from tui.walk.machine import Machine
from tui.walk.retake import contributing, worst_instrument
from tui.walk.rules import NOW
from tui.walk.world import Event

UNDOABLE = frozenset({"answered", "told", "couldn't", "overruled", "offered", "switched", "closing"})
TAKEN = frozenset({"answered", "told"})
INPUTS = UNDOABLE | {
    "caution-acknowledged",
    "done",
    "waited",
    "instrument-checked",
    "own-finding",
    "undone",
    "corrected",
    "noted",
    "photographed",
    "resumed",
    "closed",
}


@lru_cache(maxsize=256)
def accuracy(text: str) -> Accuracy:
    return Accuracy.parse(text)


def apply(machine: Machine, event: Event) -> None:
    """Take one input and go on until a person is needed again."""
    _APPLY[event["event"]](machine, event)
    machine.advance()


def circuit_of(machine: Machine, event: Event) -> Circuit:
    name = event.get("circuit", "")
    return machine.circuits.setdefault(name, Circuit(name)) if name else machine.unit


def value_of(machine: Machine, event: Event) -> Value:
    """The event's value, with the error of the instrument it was read on."""
    value = from_json(event["value"])
    good_to = event.get("good_to")
    if not isinstance(value, Quantity) or good_to is None:
        return value
    source: str = event.get("source") or event["instrument"]
    found = accuracy(good_to)
    if machine.rules < NOW:
        return replace(value, errors={source: found.standard(value.si)})
    return replace(value, errors=found.contributions(value.si, source, f"{source}{OWN}{machine.now}"))


def _answered(machine: Machine, event: Event) -> None:
    if event.get("choice") is not None:
        _chosen(machine, circuit_of(machine, event), event["choice"])
    elif event["reading"] == ALTITUDE:
        set_site(machine, event["atmosphere"])
    else:
        _taken(machine, event)


def _taken(machine: Machine, event: Event) -> None:
    """A reading, asked for or told; after an instrument was checked it stands in for the earlier one."""
    circuit, reading = circuit_of(machine, event), event["reading"]
    pending = circuit.pending
    replaces = pending is not None and pending.replaces and reading in pending.readings
    machine.take(circuit, reading, value_of(machine, event), replaces=replaces)
    _had(machine, reading)


def set_site(machine: Machine, atmosphere: Mapping[str, str]) -> None:
    """Gauge pressures now stand on this; `today` and region came with the opening."""
    today = machine.unit.facts.values.get("today")
    day = date.fromordinal(719163 + round(today.si / 86400)) if isinstance(today, Quantity) else None
    machine.site = Site(Atmosphere(float(atmosphere["pa"]), atmosphere["source"]), day, machine.region)


def _had(machine: Machine, reading: str) -> None:
    """A reading was had: any ask that waited for it goes on."""
    of_unit = machine.catalogue.readings[reading].of == "unit"
    for circuit in (machine.unit, *machine.circuits.values()):
        pending = circuit.pending
        if pending is None or reading not in pending.readings:
            continue
        if of_unit or reading in circuit.facts.fresh:
            pending.readings.remove(reading)
            if not pending.readings:
                circuit.pending = None


def _told(machine: Machine, event: Event) -> None:
    if event["reading"] not in machine.catalogue.readings:
        return  # a replay knows only what its trees use: to them it makes no difference
    _taken(machine, event)


def _couldnt(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    pending = circuit.pending
    readings = event.get("readings", [])
    if readings == [ALTITUDE]:
        set_site(machine, event["atmosphere"])
    elif readings:
        for reading in readings:
            if pending is None or not pending.retake:
                machine.take(circuit, reading, None, replaces=True)
                _had(machine, reading)
        if pending is not None and pending.retake:
            circuit.pending = None
    elif pending is not None:
        circuit.pending = None
        if isinstance(pending.step, Do | Wait) and pending.step.couldnt:
            machine.not_had(circuit, pending.step, pending.step.couldnt)


def _acknowledged(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    circuit.facts.acknowledged.update(event["cautions"])
    circuit.pending = None


def _done(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    pending, circuit.pending = circuit.pending, None
    machine.work(circuit, event["work"])
    put_on(machine, circuit, event, in_place=True)
    if pending is not None and pending.ends:
        machine.clear_and_end(circuit, pending.step)
    elif pending is not None and not pending.left:
        machine.onward(circuit, pending.step)


def _waited(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    machine.waited(circuit, float(event["actual"]), float(event["asked"]))
    pending, circuit.pending = circuit.pending, None
    if pending is None:
        return
    elsewhere = cut_short_to(pending.step, event)
    if elsewhere:
        machine.cut_short(circuit, pending.step, elsewhere)
    else:
        machine.onward(circuit, pending.step)


def cut_short_to(step: Step | None, event: Event) -> str:
    """Where the tree sends a wait that lasted less than it should; empty where it goes on all the same."""
    cut = float(event["actual"]) < float(event["asked"])
    return step.cut_short or "" if cut and isinstance(step, Wait) else ""


def _offered(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    pending, circuit.pending = circuit.pending, None
    step = None if pending is None else pending.step
    if event["accepted"] and isinstance(step, FindingStep) and step.offer:
        circuit.frames.clear()
        if not step.still_true:
            machine.forget(circuit)
        machine.enter(circuit, step.offer)
    else:
        machine.end(circuit)


def _switched(machine: Machine, event: Event) -> None:
    machine.current = event["to"]


def _overruled(machine: Machine, event: Event) -> None:
    circuit = circuit_of(machine, event)
    name = event["name"]
    facts = machine.keeper(circuit, name)
    facts.values[name] = event["verdict"]
    facts.others.pop(name, None)
    circuit.pending = None
    result = facts.results.get(name)
    at = "" if result is None else f"{result.tree}/{result.step.name}"
    if at in circuit.evidence:
        said = {"verdict": event["verdict"], "close": False, "overruled": event["reason"]}
        circuit.evidence[at] = circuit.evidence[at] | said


def _chosen(machine: Machine, circuit: Circuit, choice: str) -> None:
    """One of the ways out of a close call."""
    pending = circuit.pending
    assert pending is not None
    assert pending.decision is not None
    decision, step = pending.decision, pending.step
    if choice == GO_ON:
        circuit.pending = None
        machine.settle_open(circuit, step, decision)
        return
    if choice == AGAIN:
        readings = contributing(machine, circuit, decision)
        circuit.pending = Pending("ask", step, readings=readings, retake=True)
        return
    instrument = worst_instrument(machine, circuit, decision, unchecked=choice == ZERO)
    if choice == BETTER:
        circuit.pending = Pending("ask", step, readings=[GOOD_TO], retake=True, instrument=instrument)
    else:
        circuit.pending = Pending("do", step, instrument=instrument)
    circuit.pending.decision = decision


def _checked(machine: Machine, event: Event) -> None:
    instrument = event["instrument"]
    machine.instruments[instrument] = event["good_to"]
    machine.checked[instrument] = machine.checked.get(instrument, 0) + 1
    circuit = circuit_of(machine, event)
    pending = circuit.pending
    if pending is None or pending.instrument != instrument or pending.decision is None:
        return
    readings = contributing(machine, circuit, pending.decision, instrument)
    circuit.pending = Pending("ask", pending.step, readings=readings, retake=True, replaces=True)


def _closing(machine: Machine, event: Event) -> None:
    machine.close_early(event["why"])


def _nothing(machine: Machine, event: Event) -> None:
    """Only told: notes, photos, own findings, the file's own marks."""


_APPLY: Mapping[str, Callable[[Machine, Event], None]] = {
    "answered": _answered,
    "told": _told,
    "couldn't": _couldnt,
    "caution-acknowledged": _acknowledged,
    "done": _done,
    "waited": _waited,
    "offered": _offered,
    "switched": _switched,
    "overruled": _overruled,
    "instrument-checked": _checked,
    "closing": _closing,
    "own-finding": _nothing,
    "noted": _nothing,
    "photographed": _nothing,
    "resumed": _nothing,
    "closed": _nothing,
}


# ---- what stays when the place moves


def changes(catalogue: Catalogue, event: Event) -> tuple[str, ...]:
    """The readings that an input made stale: by work that was done, or that taking a reading is."""
    work = _work_in(catalogue, event)
    return () if work is None else catalogue.works[work].changes


def _work_in(catalogue: Catalogue, event: Event) -> str | None:
    if event["event"] == "done":
        done: str = event["work"]
        return done
    reading = catalogue.readings.get(event.get("reading", ""))
    return reading.work if reading is not None and "value" in event else None


def carry(machine: Machine, event: Event, *, in_series: bool, as_told: bool) -> None:
    """Keep the facts of an input whose place is gone.

    Work, waits, cautions and instrument checks stay. A reading stays `in_series`, or is taken back;
    an ask finds it known only if `as_told` (a correction moved the place).
    """
    kind = event["event"]
    circuit = circuit_of(machine, event)
    if kind == "caution-acknowledged":
        circuit.facts.acknowledged.update(event["cautions"])
    elif kind == "done":
        circuit.credits[credit_of(event)] += not event.get("left")
    elif kind == "waited":
        machine.waited(circuit, float(event["actual"]), float(event["asked"]))
        if not cut_short_to(machine.step_of(event), event):  # a wait that proved nothing is waited anew
            circuit.credits[credit_of(event)] += 1
    elif kind == "instrument-checked":
        machine.instruments[event["instrument"]] = event["good_to"]
        machine.checked[event["instrument"]] = machine.checked.get(event["instrument"], 0) + 1
    elif in_series and kind in TAKEN and event.get("reading") in machine.catalogue.readings:
        value = value_of(machine, event)
        machine.holder(circuit, event["reading"]).take(event["reading"], value)
        if machine.catalogue.readings[event["reading"]].names and isinstance(value, str):
            machine.name_circuits(value)
        if as_told:
            _had(machine, event["reading"])
    work = _work_in(machine.catalogue, event)
    if work is not None:
        machine.work(circuit, work)
    if kind == "done":
        put_on(machine, circuit, event, in_place=False)


def credit_of(event: Event) -> tuple[str, str, str]:
    """What was done stands for its step, and where that is about a place of a list, there only."""
    return event["tree"], event["step"], event.get(PLACE, "")


def fits(machine: Machine, event: Event) -> bool:
    """Is this input what the machine waits for now, in this place?"""
    kind = event["event"]
    if kind in ("told", "own-finding", "noted", "photographed", "resumed", "closed"):
        return True
    if kind == "closing":
        return not machine.over
    if kind == "switched":
        return event["to"] in machine.circuits_open()
    if event.get("reading") == ALTITUDE or event.get("readings") == [ALTITUDE]:
        return machine.site is None
    if event.get("circuit") and event["circuit"] not in machine.circuits:
        return False
    circuit = circuit_of(machine, event)
    pending = circuit.pending
    if kind == "instrument-checked" and "step" not in event:
        return True
    if pending is None or not circuit.frames:
        return False
    here = (circuit.frame.program.tree.name, pending.step.name)
    return (event.get("tree"), event.get("step")) == here and _FITS[kind](pending, event)


def contradicts(machine: Machine, event: Event) -> bool:
    """Is another value told than the one that stands, of what is not measured? Only a correction does that."""
    reading = machine.catalogue.readings.get(event.get("reading", ""))
    if event["event"] != "told" or reading is None or reading.instrument is not None:
        return False
    facts = machine.holder(circuit_of(machine, event), reading.id)
    known = reading.id in facts.fresh and reading.id not in facts.before
    return known and not agree(facts.values.get(reading.id), value_of(machine, event))


def _fits_answer(pending: Pending, event: Event) -> bool:
    if event.get("choice") is not None:
        return pending.kind == "close-call"
    return pending.kind == "ask" and event["reading"] in pending.readings


def _fits_couldnt(pending: Pending, event: Event) -> bool:
    readings = event.get("readings", [])
    return set(readings) <= set(pending.readings) and (pending.kind == "ask") == bool(readings)


_FITS: Mapping[str, Callable[[Pending, Event], bool]] = {
    "answered": _fits_answer,
    "couldn't": _fits_couldnt,
    "caution-acknowledged": lambda p, e: p.kind == "caution" and set(p.cautions) == set(e["cautions"]),
    "done": lambda p, e: p.kind == "do" and not p.instrument and p.left == e.get("left", ""),
    "waited": lambda p, e: p.kind == "wait",
    "offered": lambda p, e: p.kind == "offer",
    "overruled": lambda p, e: p.kind == "close-call",
    "instrument-checked": lambda p, e: p.instrument == e["instrument"],
}
