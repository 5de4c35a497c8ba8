"""The opening of a walk: what a driver gives, made into the ``opened`` event, and that into a state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from tui import __version__
from tui.quantity import Kind, Quantity, Refused, from_json, nearest, to_json
from tui.walk import inputs
from tui.walk.circuit import Circuit
from tui.walk.kinds import ALTITUDE, REGION, SITE, UNIT
from tui.walk.machine import Machine
from tui.walk.naming import recorded_names
from tui.walk.reading import accuracy_of, atmosphere_of, parse_reading, quantity_of
from tui.walk.rules import NOW, rules_of
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.tree.library import Library

FORMAT = "lowside-session 1"


def opened_event(
    library: Library,
    tree: str,
    *,
    known: Mapping[str, Any],
    history: Sequence[Mapping[str, str]],
    site: Mapping[str, Any],
    units: str,
    instruments: Mapping[str, str],
    unit: str,
    technician: str = "",
    calibrated: Mapping[str, str],
    laid_over: Sequence[Mapping[str, Any]] = (),
) -> Event:
    """The first event. Raises Refused for whatever can't be read, and where it is."""
    has_tree(library, tree)
    opened: Event = {"event": "opened", "circuit": "", "format": FORMAT, "rules": NOW}
    opened |= {"versions": {"lowside": __version__}, "library": library.digest}
    if laid_over:
        opened["laid_over"] = [dict(each) for each in laid_over]
    opened |= {"tree": tree, "units": _system(units), "unit": unit, "site": _site(site)}
    opened["instruments"] = _instruments(library, instruments)
    opened |= {"technician": _id(technician), "calibrated": _days(library, calibrated)}
    opened["known"] = _known(library, known)
    opened["circuits"] = list(opened["known"]["circuits"])
    opened["history"] = [remembered(library, item) for item in history]
    return opened


def has_tree(library: Library, tree: str) -> None:
    """Raises Refused where there is no such tree."""
    if tree not in library.trees:
        close = nearest(tree, library.trees)
        cure = f"Did you mean {close}?" if close else "There are: " + ", ".join(sorted(library.trees))
        raise Refused("no-such-tree", f"There is no tree called {tree!r}.", cure)


def _system(units: str) -> str:
    if units not in ("US", "SI"):
        raise Refused("not-a-choice", f"{units!r} is no system of units.", "US (°F, psig) or SI (°C, barg).")
    return units


def _site(site: Mapping[str, Any]) -> Event:
    """region, today, and the atmosphere if altitude or barometer is given."""
    stored: Event = {"region": str(site.get("region") or "")}
    today = site.get("today")
    if today:
        stored["today"] = _day(today)
    altitude, barometer = site.get("altitude"), site.get("barometer")
    if altitude is not None:
        value = _named_quantity("altitude", altitude, Kind.LENGTH)
        stored["atmosphere"] = atmosphere_of(value)
    elif barometer is not None:
        value = _named_quantity("barometer", barometer, Kind.ABSOLUTE_PRESSURE)
        stored["atmosphere"] = atmosphere_of(value)
    return stored


def _named_quantity(name: str, given: Any, kind: Kind) -> Quantity:
    try:
        return quantity_of(given, kind, None)
    except Refused as refused:
        raise Refused(refused.code, f"{name}: {refused.message}", refused.cure) from None


def _instruments(library: Library, instruments: Mapping[str, str]) -> dict[str, str]:
    for name, text in instruments.items():
        _is_instrument(library, name)
        accuracy_of(library.catalogue, name, text)
    return dict(instruments)


def _days(library: Library, calibrated: Mapping[str, str]) -> dict[str, str]:
    """Instrument to the day of its last calibration."""
    for name in calibrated:
        _is_instrument(library, name)
    return {name: _day(day) for name, day in calibrated.items()}


def _is_instrument(library: Library, name: str) -> None:
    if name not in library.catalogue.instruments:
        close = nearest(name, library.catalogue.instruments)
        raise Refused(
            "no-such-instrument",
            f"There is no instrument called {name!r}.",
            f"Did you mean {close}?" if close else "",
        )


def _id(technician: str) -> str:
    """One word: a name of two would be a person's, and those stay out of sessions."""
    if technician and len(technician.split()) != 1:
        raise Refused("not-an-id", f"{technician!r} is no id.", "One word, such as p-1f0c22ab; no names of people.")
    return technician


def _day(day: date | str) -> str:
    try:
        return (day if isinstance(day, date) else date.fromisoformat(day)).isoformat()
    except (TypeError, ValueError):
        raise Refused("unreadable", f"{day!r} is no date.", "Write it as 2026-11-25.") from None


def _known(library: Library, known: Mapping[str, Any]) -> Event:
    """{"unit": {reading: value}, "circuits": {name: {reading: value}}} with parsed values."""
    circuits = known.get("circuits", {})
    if "" in circuits:
        raise Refused("no-name", "A circuit needs a name.", "For example: main.")
    return {
        "unit": {r: _known_value(library, r, t) for r, t in known.items() if r != "circuits"},
        "circuits": {
            name: {r: _known_value(library, r, t) for r, t in (readings or {}).items()}
            for name, readings in (circuits.items() if isinstance(circuits, Mapping) else ((c, {}) for c in circuits))
        },
    }


def _known_value(library: Library, name: str, text: Any) -> Event:
    reading = library.catalogue.readings.get(name)
    if reading is None:
        close = nearest(name, library.catalogue.readings)
        raise Refused(
            "no-such-reading",
            f"There is no reading called {name!r}.",
            f"Did you mean {close}?" if close else "",
        )
    return to_json(parse_reading(None, reading, text))


def remembered(library: Library, item: Mapping[str, str]) -> Event:
    for part in ("circuit", "reading", "value"):
        if part not in item:
            raise Refused("bad-history", f"An earlier reading has no {part}: {dict(item)}.", "It has all three.")
    reading = library.catalogue.readings.get(item["reading"])
    names = reading is not None and reading.names  # an old record may hold names that are not taken any more
    remembered = {
        "circuit": item["circuit"],
        "reading": item["reading"],
        "value": to_json(", ".join(recorded_names(item["value"])))
        if names
        else _known_value(library, item["reading"], item["value"]),
    }
    return remembered | ({"visit": _day(item["visit"])} if item.get("visit") else {})


def circuits_of(opened: Mapping[str, Any]) -> list[str]:
    """The circuits known beforehand, in their order: a file keeps none among the keys of `known`."""
    return list(opened.get("circuits", opened["known"]["circuits"]))


def instead(opened: Mapping[str, Any], corrected: Mapping[str, Any]) -> Event:
    """The opening as it counts since an event put another value in the place of one known beforehand.

    `corrected` lists them as [circuit, reading]: they are of this visit now. With another tag of the unit goes what
    earlier visits to that one know.
    """
    circuit, reading, value = corrected["circuit"], corrected["reading"], corrected["value"]
    if reading in SITE:
        there = {"atmosphere": corrected["atmosphere"]} if reading == ALTITUDE else {REGION: value["value"]}
        return {**opened, "site": {**opened["site"], **there}}
    known, history = opened["known"], [dict(item) for item in opened["history"]]
    circuits = {name: dict(readings) for name, readings in known["circuits"].items()}
    unit = dict(known["unit"])
    places = [unit, *(readings for name, readings in circuits.items() if circuit in ("", name))]
    held = [place for place in places if reading in place]
    items = [item for item in history if item["reading"] == reading and circuit in ("", item["circuit"])]
    for item in items:
        item["value"] = value
    for place in held if held or items else [unit]:  # the names of circuits that were given with the opening
        place[reading] = value
    done = [*opened.get("corrected", ()), [circuit, reading]]
    if reading == UNIT:
        opened, history = {**opened, "unit": str(from_json(value))}, list(corrected.get("history", history))
    return {**opened, "known": {"unit": unit, "circuits": circuits}, "history": history, "corrected": done}


def renamed(opened: Mapping[str, Any], names: Mapping[str, str]) -> Event:
    """The opening as it counts once circuits have other names (old to new)."""

    def now(circuit: str) -> str:
        return names.get(circuit, circuit)

    known = opened["known"]
    history = [{**item, "circuit": now(item["circuit"])} for item in opened["history"]]
    circuits = {now(name): readings for name, readings in known["circuits"].items()}
    done = [[now(circuit), reading] for circuit, reading in opened.get("corrected", ())]
    listed = [now(name) for name in circuits_of(opened)]
    others = {"history": history, "circuits": listed, **({"corrected": done} if done else {})}
    return {**opened, "known": {**known, "circuits": circuits}, **others}


def as_reading(event: Mapping[str, Any]) -> Event:
    """The event of one reading that could not be had as that of its answer, which has no value; others as they are."""
    if event["event"] != "couldn't":
        return dict(event)
    kept = {key: part for key, part in event.items() if key not in ("readings", "reason")}
    return {**kept, "event": "answered", "reading": event["readings"][0], "value": None}


def righted(event: Mapping[str, Any], corrected: Mapping[str, Any]) -> Event:
    """The event of a reading as it counts once another corrected it; one that could not be had is now given."""
    if corrected["value"] is None:
        return {**event, "value": None}
    parts = {key: corrected[key] for key in _GIVEN if key in corrected}
    return {**as_reading(event), **parts}


_GIVEN = ("value", "atmosphere", "instrument", "good_to", "source")


def put_right(opened: Mapping[str, Any], item: Mapping[str, Any]) -> bool:
    """Was this reading of an earlier visit corrected since?"""
    done = opened.get("corrected", ())
    return ["", item["reading"]] in done or [item["circuit"], item["reading"]] in done


def open_machine(machine: Machine, opened: Event) -> None:
    """Put what the opening says into an empty machine."""
    machine.rules = rules_of(opened)
    machine.units = opened["units"]
    machine.region = opened["site"].get("region", "")
    machine.instruments = dict(opened["instruments"])
    facts = machine.unit.facts
    today = opened["site"].get("today")
    if today:
        days = (date.fromisoformat(today) - date(1970, 1, 1)).days
        facts.take("today", Quantity(Kind.DATE, days * 86400.0))
    if machine.region:
        facts.take("region", machine.region)
    if opened["unit"] and UNIT in machine.catalogue.readings:
        facts.know(UNIT, opened["unit"])
    if "atmosphere" in opened["site"]:
        inputs.set_site(machine, opened["site"]["atmosphere"])
    for name in circuits_of(opened):
        machine.circuits[name] = Circuit(name)
    here = machine.catalogue.readings  # a replay knows only the readings its trees use
    _named(machine, tuple(circuits_of(opened)))
    for name, value in opened["known"]["unit"].items():
        if name in here and here[name].names:
            _named(machine, recorded_names(str(from_json(value))))
        elif name in here:
            facts.know(name, from_json(value))
    for circuit, readings in opened["known"]["circuits"].items():
        for name, value in readings.items():
            if name in here:
                machine.holder(machine.circuits[circuit], name).know(name, from_json(value))
    for item in opened["history"]:
        _from_before(machine, item)
    for circuit, reading in opened.get("corrected", ()):
        if reading in here:
            machine.holder(machine.circuits.get(circuit, machine.unit), reading).before.pop(reading, None)


def _from_before(machine: Machine, item: Event) -> None:
    """A reading of an earlier visit counts if it stays true (`remembered`), or is of the history itself (`set`)."""
    reading = machine.catalogue.readings.get(item["reading"])
    if reading is None or not (reading.remembered or reading.names or reading.beforehand):
        return
    circuit = machine.unit
    if reading.of != "unit":
        circuit = machine.circuits.setdefault(item["circuit"], Circuit(item["circuit"]))
    if reading.id in circuit.facts.fresh:
        return
    value = from_json(item["value"])
    if reading.names and isinstance(value, str):
        _named(machine, recorded_names(value), item.get("visit", ""))
    else:
        circuit.facts.know(reading.id, value, item.get("visit", ""))


def _named(machine: Machine, circuits: tuple[str, ...], visit: str = "") -> None:
    """Circuits that are known beforehand need not be named again."""
    reading = next((r for r in machine.catalogue.readings.values() if r.names), None)
    if reading is not None and circuits:
        machine.named = circuits
        for name in circuits:
            machine.circuits.setdefault(name, Circuit(name))
        machine.unit.facts.know(reading.id, ", ".join(circuits), visit)
