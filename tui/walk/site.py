"""Where a visit is: its altitude and whose rules hold there. Given once, corrected as any reading is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui.quantity import Kind, Quantity, Refused, show, to_json
from tui.walk import history
from tui.walk.altitude import altitude_unit
from tui.walk.circuit import Circuit
from tui.walk.correcting import differences
from tui.walk.kinds import ALTITUDE, REGION, spoken
from tui.walk.machine import Machine
from tui.walk.opening import righted
from tui.walk.prompt import Change, Given
from tui.walk.reading import atmosphere_of, parse_reading, quantity_of
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.walk.core import Walk

NOT_SET = "not set"


def of_site(walk: Walk) -> list[Given]:
    """Altitude (or barometer), once there is one, and region: also where it is not set, for it can be."""
    machine = walk.machine
    found = [] if machine.site is None else [Given(_where_given(walk), "", ALTITUDE, _air(machine))]
    if REGION in machine.catalogue.readings:
        found.append(Given(0, "", REGION, machine.region or NOT_SET))
    return found


def _air(machine: Machine) -> str:
    """``300 ft``, ``barometer 29.1 inHg``."""
    return machine.at_site.atmosphere.source.removeprefix(f"{ALTITUDE} ")


def _where_given(walk: Walk) -> int:
    """The number of the event that gave the altitude, or said that nobody knows it; 0: the opening."""
    asked = (i for i in walk.inputs if i.how == history.STRICT and _of_altitude(i.event))
    return next((i.number for i in asked), 0)


def _of_altitude(event: Event) -> bool:
    return event.get("reading") == ALTITUDE or event.get("readings") == [ALTITUDE]


def corrected(walk: Walk, given: Given, text: str | Quantity) -> Event:
    """The event that puts another altitude or region in its place. Raises Refused."""
    event: Event = {"event": "corrected", "circuit": "", "event_no": given.event_no, "reading": given.reading}
    return event | _parts(walk.machine, given.reading, text) | {"was": to_json(given.shown)}


def _parts(machine: Machine, reading: str, text: str | Quantity) -> Event:
    if reading == ALTITUDE:
        value = _height_or_air(text, altitude_unit(machine.units))
        return {"value": to_json(value), "atmosphere": atmosphere_of(value)}
    return {"value": to_json(parse_reading(machine, machine.catalogue.readings[reading], text))}


def _height_or_air(text: str | Quantity, shown: str) -> Quantity:
    """Raises Refused: as no height, where it is neither."""
    try:
        return quantity_of(text, Kind.LENGTH, shown)
    except Refused as no_height:
        try:
            return quantity_of(text, Kind.ABSOLUTE_PRESSURE, None)
        except Refused:
            raise no_height from None


def site_proposal(walk: Walk, given: Given, text: str | Quantity) -> Change:
    """What `Walk.correct` shows of an altitude or a region. Raises Refused."""
    event = corrected(walk, given, text)
    number = given.event_no
    now = walk.trial(number, righted(walk.events[number], event) if number else event)
    say = _air(now) if given.reading == ALTITUDE else now.region
    if say == given.shown:
        raise Refused("same", "That is what it says already.", "Type the right one.")
    changes = (*_figures(walk.machine, now), *differences(walk.machine, now))
    typed = str(event["value"].get("typed") or (text if isinstance(text, str) else show(text, text.unit or None)))
    return Change(number, given.reading, given.shown, say, changes, typed, len(walk.events))


def _figures(was: Machine, now: Machine) -> Iterator[str]:
    """What was worked out and comes out otherwise, the latest of each."""
    several = len(was.circuits) > 1
    for name, circuit in was.circuits.items():
        other = now.circuits.get(name)
        for words, then, since in _changed(was, circuit, other) if other is not None else ():
            yield f"{name + ' ' if several else ''}{words}: {then} -> {since}"


def _changed(machine: Machine, was: Circuit, now: Circuit) -> Iterator[tuple[str, str, str]]:
    for name in was.facts.results:
        then, since = was.facts.values.get(name), now.facts.values.get(name)
        if isinstance(then, Quantity) and isinstance(since, Quantity):
            before, after = (show(value, machine.unit_for(value)) for value in (then, since))
            if before != after:
                yield spoken(name.rpartition("/")[2]), before, after
