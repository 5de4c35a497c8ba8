"""An example made out of a recorded visit: its raw readings, as they count after every correction."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from tui.proof.examples import Found
from tui.quantity import Kind, Refused, Value, from_json, show
from tui.record.reader import ALTERED, Reading
from tui.record.replay import embedded, walk_again
from tui.tree.library import Library
from tui.tree.spot import Spot
from tui.walk.answers import COULDNT, CUT_SHORT, OFFERS, Answers, Given
from tui.walk.history import STRICT, TOLD
from tui.walk.inputs import cut_short_to
from tui.walk.kinds import ALTITUDE, GOOD_TO

if TYPE_CHECKING:
    from tui.walk import Walk
    from tui.walk.world import Event

Texts = dict[str, list[str]]
LEFT_OUT = "left out"


def recorded(reading: Reading) -> tuple[Answers, tuple[Found, ...]]:
    """The answers of a session file and the findings it came to, walked with its own trees.

    No tag of a unit, no id of a person, no note, no reason and no free words go into it. Raises Refused for a
    file that was altered, or that does not replay.
    """
    if reading.state == ALTERED:
        raise Refused("altered", f"{reading.path}: {reading.message}", "Take a session that is as it was written.")
    own = Library.from_texts(embedded(reading).texts(), partial=True)
    walk = walk_again(own, reading)
    found = tuple(Found(f.circuit, f.cause, f.at, f.could_be) for f in walk.findings)
    return _answers(walk, Spot(str(reading.path), 1, 1)), found


def _answers(walk: Walk, spot: Spot) -> Answers:
    opening = walk.opening
    answers = Answers(spot.path, spot, opening["tree"], opening["units"])
    site = dict(_site(opening["site"]))
    circuits: dict[str, Texts] = {name: {} for name in walk.circuits}
    visit: Texts = {}
    for circuit, reading, text in _beforehand(walk, opening):
        if not _sayable(walk, reading):
            continue
        (circuits.setdefault(circuit, {}) if circuit else visit).setdefault(reading, [text])
    for event in (i.event for i in walk.inputs if i.how in (STRICT, TOLD)):
        if event.get("reading") == ALTITUDE and "value" in event:
            site[ALTITUDE] = show(from_json(event["value"]))
        elif (given := _given(walk, event)) is not None:
            name, text = given
            of_unit = name in walk.library.catalogue.readings and walk.library.catalogue.readings[name].of == "unit"
            here = visit if of_unit or not event.get("circuit") else circuits.setdefault(event["circuit"], {})
            _add(here, name, text, first=name not in here)
    answers.site = {name: Given((text,), (spot,), spot, False) for name, text in site.items()}
    answers.visit = {name: _as_given(texts, spot) for name, texts in visit.items()}
    answers.circuits = {
        circuit: {name: _as_given(texts, spot) for name, texts in given.items()} for circuit, given in circuits.items()
    }
    return answers


def _site(site: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """altitude or barometer, region and the day, as an answers file says them."""
    what, _, text = str(site.get("atmosphere", {}).get("source", "")).partition(" ")
    if what in (ALTITUDE, "barometer"):
        yield what, text
    for key in ("region", "today"):
        if site.get(key):
            yield key, str(site[key])


def _beforehand(walk: Walk, opening: Event) -> Iterator[tuple[str, str, str]]:
    """(circuit, reading, text) of what earlier visits knew and this one still counted."""
    readings = walk.library.catalogue.readings
    known = opening["known"]
    for name, value in known["unit"].items():
        yield "", name, show(from_json(value))
    for circuit, given in known["circuits"].items():
        for name, value in given.items():
            yield circuit, name, show(from_json(value))
    for item in opening["history"]:
        if item["reading"] in readings:
            of_unit = readings[item["reading"]].of == "unit"
            yield "" if of_unit else item["circuit"], item["reading"], show(from_json(item["value"]))


def _given(walk: Walk, event: Event) -> tuple[str, str] | None:
    """Name and text of what an answers file can say of an input."""
    kind, reading = event["event"], event.get("reading", "")
    if kind in ("answered", "told") and "value" in event and reading != GOOD_TO:
        return (reading, _said(walk, reading, from_json(event["value"]))) if _sayable(walk, reading) else None
    if kind == "offered":
        return OFFERS, "yes" if event["accepted"] else "no"
    if kind == "couldn't" and not event.get("readings"):
        return COULDNT, f"{event['tree']}/{event['step']}"
    if kind == "waited" and cut_short_to(walk.machine.step_of(event), event):
        return CUT_SHORT, f"{event['tree']}/{event['step']}"
    return None


def _sayable(walk: Walk, name: str) -> bool:
    """Whether an answers file may say it: it is asked, or known of a circuit beforehand. A unit's tag never is."""
    reading = walk.library.catalogue.readings.get(name)
    return reading is not None and name != "unit" and bool(reading.ask or reading.beforehand)


def _add(here: Texts, name: str, text: str, *, first: bool) -> None:
    here.setdefault(name, [])
    if first or name not in (COULDNT, CUT_SHORT) or text not in here[name]:
        here[name].append(text)


def _said(walk: Walk, name: str, value: Value) -> str:
    """As an answers file says it; words that a person chose stay in the session."""
    return LEFT_OUT if walk.library.catalogue.readings[name].kind is Kind.TEXT else show(value)


def _as_given(texts: list[str], spot: Spot) -> Given:
    """One answer serves every time; those that differ are used one a time."""
    if len(set(texts)) == 1:
        texts = texts[:1]
    return Given(tuple(texts), (spot,) * len(texts), spot, len(texts) > 1)
