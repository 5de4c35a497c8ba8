"""What a typed text would mean, before it is given: said back, with saturation and difference."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tui.quantity import Kind, Quantity, Refused, Value, default_unit, echo, show
from tui.trade import SUMS
from tui.tree.model import Expression, Judge, Name, WorkOut
from tui.walk.altitude import altitude_echo
from tui.walk.circuit import Circuit
from tui.walk.evaluate import Evaluator
from tui.walk.exactness import as_read
from tui.walk.judging import outcome
from tui.walk.kinds import ALTITUDE, ASK, GOOD_TO, spoken
from tui.walk.looks import names_in
from tui.walk.machine import Machine
from tui.walk.prompt import Echo, Prompt
from tui.walk.reading import accuracy_of, parse_reading, pick

NITROGEN = "nitrogen inside"  # left on, by the catalogue's name: its pressure says nothing of saturation


def echo_of(
    machine: Machine, prompt: Prompt | None, text: str, reading: str | None, circuit: str | None = None
) -> Echo:
    """See `Walk.try_answer`."""
    try:
        return _echo(machine, prompt, text, reading, circuit)
    except Refused as refused:
        return Echo(False, problem=refused.message, cure=refused.cure)


def _echo(machine: Machine, prompt: Prompt | None, text: str, reading: str | None, circuit: str | None) -> Echo:
    if reading is None:
        if prompt is None:
            raise Refused("ended", "The walk has ended.", "Look at the findings, or start anew.")
        if prompt.kind != ASK:
            return Echo(True, dict(prompt.choices).get(pick(prompt, text), "")) if prompt.choices else Echo(True)
        reading = prompt.readings[0].id
    if reading == GOOD_TO:
        _good_to(machine, text)
        return Echo(True, f"good to {text}")
    if reading == ALTITUDE:
        return altitude_echo(text, machine.units)
    found = machine.catalogue.readings.get(reading)
    if found is None:
        raise Refused(
            "no-such-reading", f"There is no reading called {reading!r}.", "Names are those the questions have."
        )
    value = parse_reading(machine, found, text)
    of = machine.circuits.get(circuit or "") or machine.circuit() or machine.unit
    return Echo(True, echo(value, system=machine.units), tuple(_beside(machine, of, reading, value)))


def _good_to(machine: Machine, text: str) -> None:
    circuit = machine.circuit()
    if circuit is not None and circuit.pending is not None and circuit.pending.instrument:
        accuracy_of(machine.catalogue, circuit.pending.instrument, text)


def _beside(machine: Machine, circuit: Circuit, reading: str, value: Value) -> Iterator[str]:
    """Saturation of a pressure, and how far what is judged from it would be from wanted."""
    if not isinstance(value, Quantity) or not circuit.frames:
        return
    refrigerant = circuit.facts.values.get("refrigerant")
    on_a_gauge = value.kind is Kind.GAUGE_PRESSURE and machine.catalogue.readings[reading].instrument is not None
    if on_a_gauge and NITROGEN not in circuit.facts.left and isinstance(refrigerant, str):
        yield from _saturation(machine, refrigerant, value)
    yield from _against_wanted(machine, circuit, reading, value)


def _saturation(machine: Machine, refrigerant: str, value: Quantity) -> Iterator[str]:
    unit = default_unit(Kind.TEMPERATURE, machine.units)
    found: list[str] = []
    for name in ("dew-temperature", "bubble-temperature"):
        try:
            at = SUMS[name].call(machine.at_site, machine.properties, value, refrigerant)
        except Refused as refused:
            yield refused.message
            return
        if isinstance(at, Quantity):
            found.append(show(at, unit))
    dew, bubble = found
    yield (f"{refrigerant} saturated at {dew}" if dew == bubble else f"{refrigerant} dew {dew}, bubble {bubble}")


class Supposing:
    """A scope in which one reading has a supposed value, and what would follow from it beside what still holds.

    `others`: results that do not hang on it, and were only not worked out yet.
    """

    def __init__(self, machine: Machine, circuit: Circuit, reading: str, value: Value) -> None:
        self.real = machine.scope(circuit)
        self.supposed: dict[str, Value | None] = {reading: value}
        self.worked_out: dict[str, Value | None] = {}
        self.others = self.real.others
        self.series = self.real.series
        self.figure = self.real.figure
        self.came_from = self.real.came_from
        self.say = self.real.say
        readings = machine.catalogue.readings
        self._stale = {name for name in readings if name not in machine.holder(circuit, name).fresh}

    def get(self, name: str) -> Value | None:
        if name in self.supposed:
            return self.supposed[name]
        if name in self.worked_out:
            return self.worked_out[name]
        return None if self.came_from(name) & self._stale else self.real.get(name)


@dataclass(frozen=True, slots=True)
class _Gap:
    """How a quantity would stand to what is wanted; `tells` more where it is off, or has both its limits."""

    name: str
    say: str
    tells: int


def _against_wanted(machine: Machine, circuit: Circuit, reading: str, value: Quantity) -> Iterator[str]:
    """Each quantity once, by the judgement that tells most."""
    scope = Supposing(machine, circuit, reading, value)
    evaluator = Evaluator(scope, machine.at_site, machine.properties)
    gaps: dict[str, _Gap] = {}
    for step in circuit.frame.program.steps.values():
        if step.only_when is not None and evaluator.truth(step.only_when).likely is not True:
            continue
        if isinstance(step, WorkOut) and _mentions(step.expression, scope.supposed):
            scope.supposed[step.result] = evaluator.value(step.expression)
        elif isinstance(step, WorkOut):  # anew: what it was worked out from may have been read again since
            scope.worked_out[step.result] = evaluator.value(step.expression)
        elif isinstance(step, Judge) and _mentions(step.compare, scope.supposed):
            gap = _gap(machine, evaluator, step)
            if gap is not None and (gap.name not in gaps or gaps[gap.name].tells < gap.tells):
                gaps[gap.name] = gap
    for gap in gaps.values():
        yield f"{gap.name} {gap.say}"


def _gap(machine: Machine, evaluator: Evaluator, step: Judge) -> _Gap | None:
    """None where it could not be judged."""
    found = outcome(evaluator, step)
    if found.measured is None or found.value is None:
        return None

    def said(quantity: Quantity) -> str:
        return as_read(quantity, default_unit(quantity.kind, machine.units))

    measured, low, high = found.measured, found.low, found.high
    name = spoken(step.compare.name if isinstance(step.compare, Name) else step.result)
    if low is not None and measured.si < low.si:
        return _Gap(name, f"{said(measured)}, {said(low - measured)} below wanted", 2)
    if high is not None and measured.si > high.si:
        return _Gap(name, f"{said(measured)}, {said(measured - high)} above wanted", 2)
    if low is not None and high is not None:
        return _Gap(name, f"{said(measured)}, wanted {said(low)} to {said(high)}", 1)
    limit = f"at least {said(low)}" if low is not None else f"at most {said(high)}" if high is not None else ""
    return _Gap(name, f"{said(measured)}, wanted {limit}", 0)


def _mentions(expression: Expression, names: dict[str, Value | None]) -> bool:
    return any(name in names for name in names_in(expression))
