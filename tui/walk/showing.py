"""From the machine's state to what a person sees: the prompt, the readings table, the trail."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from tui.quantity import Kind, Quantity, default_unit, from_json, own_figures, show
from tui.tree.model import Ask, CautionStep, Decide, Do, FindingStep, Reading, Step, Wait
from tui.walk.altitude import altitude_prompt
from tui.walk.circuit import Circuit, Pending, cause_words, key
from tui.walk.closeness import figures_of, led_by
from tui.walk.evidence import row_of
from tui.walk.exactness import good_to_words
from tui.walk.found import MOST
from tui.walk.kinds import (
    AGAIN,
    ASK,
    BETTER,
    CAUTION,
    CLOSE_CALL,
    DO,
    GO_ON,
    GOOD_TO,
    OFFER,
    WAIT,
    WHICH_CIRCUIT,
    ZERO,
    spoken,
)
from tui.walk.leading import leads_to
from tui.walk.machine import Machine
from tui.walk.prompt import AskFor, Finding, Near, Prompt, Row, TrailEntry
from tui.walk.retake import contributing, worst_instrument
from tui.walk.rows import taken
from tui.walk.wording import said
from tui.walk.world import Event

_METRIC = {"in": "mm", "ft": "m", "oz": "g", "lb": "kg", "psig": "barg", "psi": "bar", "°F": "°C", "dF": "dC"}
YES_NO = (("yes", "yes"), ("no", "no"))
TAKE_OR_LEAVE = (("yes", "yes: go on there now"), ("no", "no: this finding is the end here"))


def prompt_of(machine: Machine) -> Prompt | None:
    """What is asked next; None when the walk has ended."""
    if machine.site is None:
        return altitude_prompt(machine.units)
    circuit = machine.circuit()
    if circuit is None:
        still = machine.circuits_open()
        if not still:
            return None
        choices = tuple((name, name) for name in still)
        return Prompt(WHICH_CIRCUIT, words="Which circuit do you go on with?", choices=choices)
    pending = circuit.pending
    return None if pending is None else _PROMPT[pending.kind](machine, circuit, pending)


def ask_for(machine: Machine, reading: Reading) -> AskFor:
    """A reading as it is asked: in the session's unit, with its choices."""
    choices = tuple((word, word) for word in reading.answers)
    if reading.kind is Kind.YES_NO:
        choices = YES_NO
    return AskFor(
        reading.id,
        own_figures(reading.ask or spoken(reading.id).capitalize(), machine.units),
        reading.kind,
        shown_unit(machine, reading),
        choices,
        reading.instrument,
        own_figures(reading.how, machine.units),
        reading.range_text,
        reading.must,
    )


def shown_unit(machine: Machine, reading: Reading) -> str:
    """The unit in the box: the session's for this kind, or the catalogue's own put into its system."""
    if reading.unit:
        return reading.unit if machine.units == "US" else _METRIC.get(reading.unit, reading.unit)
    return default_unit(reading.kind, machine.units) or ""


def _base(machine: Machine, circuit: Circuit, kind: str, step: Step, words: str) -> Prompt:
    evaluator = machine.evaluator(circuit)
    return Prompt(
        kind,
        circuit.frame.program.tree.name,
        step.name,
        circuit.name,
        words,
        evaluator.text(step.why, machine.units),
        evaluator.text(step.how, machine.units),
    )


def _ask(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    step = pending.step
    if pending.readings == [GOOD_TO]:
        return _good_to(machine, circuit, pending)
    readings = tuple(ask_for(machine, machine.catalogue.readings[r]) for r in pending.readings)
    words = ""
    if isinstance(step, Ask) and step.question is not None:
        words = machine.evaluator(circuit).text(step.question, machine.units)
    if not words:
        words = "Take it again." if pending.retake else readings[0].words if len(readings) == 1 else ""
    known: tuple[tuple[str, str], ...] = ()
    if isinstance(step, Ask):
        had = [r for r in step.readings if r not in pending.readings]
        known = tuple((r, shown_value(machine, circuit, r) + since_when(machine, circuit, r)) for r in had)
    prompt = _base(machine, circuit, ASK, step, words or "Take these readings.")
    return replace(prompt, readings=readings, known=known)


def _good_to(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    found = machine.catalogue.instruments[pending.instrument]
    name = found.say or spoken(pending.instrument)
    good_to = good_to_words(machine.good_to(pending.instrument), machine.units)
    words = f"How good is the better {name}? It was good to {good_to}."
    sample = good_to_words("0.2 psi, 0.5 dF, 1 g, 1 % of reading", machine.units)
    reading = AskFor(GOOD_TO, words, Kind.TEXT, how=f"For example: {sample}.")
    return replace(_base(machine, circuit, ASK, pending.step, words), readings=(reading,))


def shown_value(machine: Machine, circuit: Circuit, reading: str) -> str:
    """A reading's value as it is shown, ``not had`` where it could not be."""
    value = machine.holder(circuit, reading).values.get(reading)
    if value is None:
        return "not had"
    if isinstance(value, Quantity):
        return show(value, shown_unit(machine, machine.catalogue.readings[reading]))
    return cause_words(machine.catalogue, reading, value)


def since_when(machine: Machine, circuit: Circuit, reading: str) -> str:
    """`` (from the visit of 2026-05-01)`` for what was not taken on this one; empty else."""
    visit = machine.holder(circuit, reading).before.get(reading)
    return f" (from the visit of {visit})" if visit else ""


def given_value(machine: Machine, event: Event) -> str:
    """The value an event holds, in the unit its reading is shown in."""
    value = from_json(event["value"])
    if isinstance(value, Quantity):
        return show(value, shown_unit(machine, machine.catalogue.readings[event["reading"]]))
    return value


def _caution(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    cautions = tuple(own_figures(machine.catalogue.cautions[c].say, machine.units) for c in pending.cautions)
    assert isinstance(pending.step, CautionStep)
    return replace(_base(machine, circuit, CAUTION, pending.step, "Before you go on"), cautions=cautions)


def _do(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    step = pending.step
    if pending.instrument:
        words = own_figures(machine.catalogue.instruments[pending.instrument].check, machine.units)
        return _base(machine, circuit, DO, step, words)
    if pending.left:
        left = machine.catalogue.left_on[pending.left]
        prompt = replace(_base(machine, circuit, DO, step, left.tell), work=left.work)
        if pending.over:
            return replace(prompt, why=pending.over, how="")
        if not circuit.astray:
            return prompt
        why = f"{spoken(pending.left).capitalize()}: left on {circuit.name}, which is walked no more."
        return replace(prompt, why=why, how="")
    assert isinstance(step, Do)
    words = machine.evaluator(circuit).text(step.tell, machine.units)
    return replace(_base(machine, circuit, DO, step, words), work=step.work)


def _wait(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    step = pending.step
    assert isinstance(step, Wait)
    because = machine.evaluator(circuit).text(step.because, machine.units)
    stay = any(machine.catalogue.left_on[thing].stay for thing in circuit.facts.left)
    others = [] if stay else [name for name in machine.circuits_open() if name != circuit.name]
    prompt = _base(machine, circuit, WAIT, step, because)
    choices = tuple((name, f"work on {name} meanwhile") for name in others)
    cut = leads_to(machine, circuit, step, step.cut_short) if step.cut_short else ""
    return replace(prompt, seconds=pending.seconds, may_skip=True, choices=choices, cut_short=cut)


def _close_call(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    step, decision = pending.step, pending.decision
    assert isinstance(step, Decide)
    assert decision is not None
    figures = figures_of(machine, circuit, step, decision)
    names = ", ".join(said(name) for name in decision.close)
    words = f"Too close to call. {' '.join(figures) or names}"
    choices: list[tuple[str, str]] = []
    catalogue = machine.catalogue
    zero = worst_instrument(machine, circuit, decision, unchecked=True)
    if zero:
        choices.append((ZERO, f"check the {catalogue.instruments[zero].say or zero}: take its error out"))
    if contributing(machine, circuit, decision):
        choices.append((AGAIN, "take the readings again"))
        best = worst_instrument(machine, circuit, decision, unchecked=False)
        name = catalogue.instruments[best].say or best
        good_to = good_to_words(machine.good_to(best), machine.units)
        choices.append((BETTER, f"use a better {name} than one good to {good_to}"))
    choices.append((GO_ON, f"leave it open: {leads_to(machine, circuit, step, None)}"))
    prompt = _base(machine, circuit, CLOSE_CALL, step, words)
    may_overrule = step.overrule and step.table is not None
    led = led_by(machine, circuit, step, decision)
    how = f"{led} {prompt.how}".strip()
    return replace(prompt, how=how, choices=tuple(choices), may_overrule=may_overrule)


def _offer(machine: Machine, circuit: Circuit, pending: Pending) -> Prompt:
    step = pending.step
    assert isinstance(step, FindingStep)
    assert step.offer is not None
    title = machine.library.trees[step.offer].title
    words = f"Go on with: {title.removesuffix('?')}?"
    return replace(_base(machine, circuit, OFFER, step, words), choices=TAKE_OR_LEAVE)


_PROMPT: Mapping[str, Callable[[Machine, Circuit, Pending], Prompt]] = {
    ASK: _ask,
    CAUTION: _caution,
    DO: _do,
    WAIT: _wait,
    CLOSE_CALL: _close_call,
    OFFER: _offer,
}


# ---- the table and the trail


def table_of(machine: Machine, circuit: Circuit) -> list[Row]:
    """What was judged on this circuit, each against what is wanted; the latest of each."""
    events = [e for e in circuit.evidence.values() if e["event"] == "judged"]
    earlier = machine.earlier(circuit)
    keys = (key(machine.catalogue, str(event["tree"]), str(event["name"])) for event in events)
    rows = (row_of(event, machine.units) for event in events)
    return [replace(row, earlier=name in earlier) for row, name in zip(rows, keys, strict=True)]


def trail_of(machine: Machine) -> list[TrailEntry]:
    """The decisions on the way, in order."""
    return [
        TrailEntry(
            event["circuit"],
            f"{event['tree']}/{event['step']}",
            " or ".join(event["rows"]),
            event["to"],
            tuple(event.get("close", ())),
            taken(machine.program(event["tree"]).steps.get(event["step"]), event["rows"], saw),
            after,
        )
        for event, saw, after in machine.routed
    ]


def finding_of(event: Event) -> Finding:
    """The finding an event holds."""
    return Finding(
        event["circuit"],
        event["where"],
        event["cause"],
        tuple(event["could_be"]),
        tuple(event["evidence"]),
        tuple(event["ruled_out"]),
        event["seen"],
        event["next"],
        event["told_apart"],
        tuple(map(_near, event.get("nearest") or event.get("near", []))),
    )


def _near(call: Event) -> Near:
    """Of an older file, which holds them without their order and number: the causes where they are few."""
    what, causes = " and ".join(map(said, call["what"])), tuple(call["causes"])
    if "more" in call:
        return Near(what, causes, call["more"])
    return Near(what, causes) if len(causes) <= MOST else Near(what, (), len(causes))
