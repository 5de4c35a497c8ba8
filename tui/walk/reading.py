"""From what a person gives to the value of a reading."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.quantity import Accuracy, Kind, Quantity, Refused, Value, nearest, parse, show, standard_atmosphere
from tui.refrigerant import UNLISTED, resolve
from tui.tree.model import Catalogue, Reading
from tui.walk.kinds import spoken
from tui.walk.naming import circuit_names
from tui.walk.prompt import Prompt

if TYPE_CHECKING:
    from tui.walk.machine import Machine

DAY = 86400.0  # seconds
HARD_VACUUM = -1.0  # Pa below a full vacuum that is still taken for rounding


def parse_reading(
    machine: Machine | None, reading: Reading, given: str | Quantity, *, units_needed: bool = False
) -> Value:
    """The value of a reading. Numbers need a unit where `units_needed`, or without a machine (an opening).

    Raises Refused: see `tui.quantity.parse`; also for a gauge pressure below a full vacuum.
    """
    from tui.walk.showing import shown_unit

    if isinstance(given, Quantity):
        value: Value = _of_kind(reading, given)
    elif reading.id == "refrigerant":
        return _refrigerant(reading, str(given))
    elif reading.names:
        return ", ".join(_circuits(machine, str(given)))
    else:
        shown = None if machine is None or units_needed else shown_unit(machine, reading)
        choices = reading.answers if reading.kind is not Kind.YES_NO else ()
        value = parse(
            str(given),
            reading.kind,
            shown=shown,
            low=reading.low,
            high=reading.high,
            range_text=reading.range_text,
            choices=choices,
        )
    if machine is not None and isinstance(value, Quantity) and value.kind is Kind.GAUGE_PRESSURE:
        _above_vacuum(machine, value)
    if machine is not None and isinstance(value, Quantity) and reading.days:
        _right_side_of_today(machine, reading, value)
    return value


def _right_side_of_today(machine: Machine, reading: Reading, value: Quantity) -> None:
    """A day that has been, or one still to come. A visit may last over midnight."""
    today = machine.unit.facts.values.get("today")
    if not isinstance(today, Quantity):
        return
    ahead = value.si - today.si
    if reading.days == "past" and ahead > DAY:
        say = f"{show(value)} is still to come; today is {show(today)}."
        raise Refused("out-of-range", say, "Type the day it was. Is the year right?")
    if reading.days == "future" and ahead < 0:
        say = f"{show(value)} is over; today is {show(today)}."
        raise Refused("out-of-range", say, "Type today, or a day to come. Is the year right?")


def _circuits(machine: Machine | None, text: str) -> tuple[str, ...]:
    """Names of circuits, none of them that of a reading: `suction 12` would say two things."""
    names = circuit_names(text)
    readings = machine.catalogue.readings if machine is not None else {}
    taken = next((name for name in names if name.lower().replace(" ", "-") in readings), None)
    if taken is not None:
        cure = "Name it by what it cools or where it stands, as in: cooler, freezer."
        raise Refused("bad-name", f"{taken!r} is the name of a reading, so no circuit can have it.", cure)
    return names


def _of_kind(reading: Reading, given: Quantity) -> Quantity:
    if given.kind is not reading.kind:
        say = f"{spoken(reading.id)} is a {reading.kind}, not a {given.kind}."
        raise Refused("wrong-kind", say, f"Give a {reading.kind}.")
    low, high = reading.low, reading.high
    if (low is not None and given.si < low) or (high is not None and given.si > high):
        raise Refused("out-of-range", f"{show(given)} is out of range.", f"Between {reading.range_text}.")
    return given


def _above_vacuum(machine: Machine, value: Quantity) -> None:
    atmosphere = machine.at_site.atmosphere.pa
    if value.si < -atmosphere + HARD_VACUUM:
        full = show(Quantity(Kind.GAUGE_PRESSURE, -atmosphere), value.unit or None)
        say = f"{show(value, value.unit or None)} is below a full vacuum ({full} here)."
        raise Refused("below-vacuum", say, "Look at the gauge again, or zero it.")


def _refrigerant(reading: Reading, text: str) -> str:
    """As people type it; one the trees don't carry is refused by name, or is `unlisted` where they take that."""
    takes_any = UNLISTED in reading.answers
    if takes_any and text.strip().lower() == UNLISTED:
        return UNLISTED
    try:
        name = resolve(text)
    except Refused as refused:
        more = f" None of these? Type {UNLISTED}." if takes_any else ""
        raise Refused(refused.code, refused.message, f"{refused.cure}{more}") from None
    if name not in reading.answers:
        cure = "These trees walk: " + ", ".join(reading.answers)
        raise Refused("unsupported-refrigerant", f"{name} is not walked by these trees.", cure)
    return name


def quantity_of(given: str | Quantity, kind: Kind, shown: str | None) -> Quantity:
    """A number of this kind outside the catalogue; `shown` as in `tui.quantity.parse`."""
    value = given if isinstance(given, Quantity) else parse(str(given), kind, shown=shown)
    assert isinstance(value, Quantity)
    return value


def atmosphere_of(value: Quantity) -> dict[str, str]:
    """{"pa", "source"} from an altitude or a barometer reading. Raises Refused if absurd."""
    if value.kind is Kind.LENGTH:
        return {
            "pa": repr(standard_atmosphere(value.si)),
            "source": f"altitude {show(value, value.unit or None)}",
        }
    if not 30_000 <= value.si <= 110_000:
        raise Refused(
            "out-of-range",
            f"No barometer on earth shows {show(value)}.",
            "About 950 to 1040 mbar at sea level.",
        )
    return {"pa": repr(value.si), "source": f"barometer {show(value, value.unit or None)}"}


def accuracy_of(catalogue: Catalogue, instrument: str, text: str) -> Accuracy:
    """What an instrument is good to. Raises Refused for what can't be that of its readings, or of any instrument."""
    as_in = f"As in: {catalogue.instruments[instrument].good_to}."
    accuracy = Accuracy.parse(text)
    for reading in catalogue.readings.values():
        if reading.instrument != instrument:
            continue
        if not accuracy.fits(reading.kind):
            say = f"{text!r} can't be how good a {spoken(instrument)} is: it reads {reading.kind.named}."
            raise Refused("wrong-kind", say, as_in)
        if reading.low is not None and reading.high is not None and 2 * accuracy.fixed > reading.high - reading.low:
            say = f"{text!r} is wider than all that a {spoken(instrument)} reads here, {reading.range_text}."
            raise Refused("no-accuracy", say, as_in)
    try:
        return Accuracy.declared(text)
    except Refused as refused:
        raise Refused(refused.code, refused.message, f"{as_in} {refused.cure}") from None


def pick(prompt: Prompt, given: str | Quantity | Mapping[str, str | Quantity]) -> str:
    """A choice of the prompt, by id or by its number from 1. Raises Refused."""
    text = str(given).strip().lower() if not isinstance(given, Mapping) else ""
    ids = [choice for choice, _ in prompt.choices]
    lower = {choice.lower(): choice for choice in ids}
    if text in lower:
        return lower[text]
    if text.isdecimal() and 1 <= int(text) <= len(ids):
        return ids[int(text) - 1]
    begins = [choice for choice in ids if text and choice.lower().startswith(text)]
    if len(begins) == 1:
        return begins[0]
    close = nearest(text, ids)
    cure = f"Did you mean {close}?" if close else "One of: " + ", ".join(ids)
    raise Refused("not-a-choice", f"{text or given!r} is none of the choices.", cure)
