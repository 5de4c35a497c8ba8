"""Everyday names of readings, and what people type that is no reading: for the line alone, trees use ids."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from difflib import get_close_matches

from tui.quantity import Refused, nearest
from tui.walk.kinds import spoken

#: Each reading with what it is also called; a reading of that very name wins.
ALSO_CALLED: dict[str, tuple[str, ...]] = {
    "suction": ("low side", "lp", "back pressure"),
    "head": ("high side", "hp", "discharge pressure", "condensing pressure"),
    "condenser-air": ("ambient", "ambient air", "room", "kitchen", "air on condenser"),
    "condenser-leaving-air": ("air off condenser",),
    "return-air": ("air on", "air in", "evaporator air", "air on evaporator"),
    "return-wet-bulb": ("wet bulb", "indoor wet bulb"),
    "supply-air": ("air off", "air out", "air off evaporator"),
    "box-air": ("box", "box now", "cabinet", "cabinet air"),
    "box-wanted": ("setpoint", "set point"),
    "suction-line": ("suction temp", "suction temperature"),
    "liquid-line": ("liquid",),
    "discharge-line": ("discharge", "hot gas", "discharge temp", "discharge temperature"),
    "evaporator-outlet": ("evap outlet", "evap out", "coil outlet"),
    "condenser-outlet": ("cond outlet", "cond out"),
    "drier-inlet": ("drier in",),
    "drier-outlet": ("drier out",),
    "compressor-inlet": ("suction at compressor",),
    "amps": ("current", "compressor amps"),
    "volts": ("voltage",),
    "nameplate-charge": ("charge", "plate charge"),
    "low-side-rating": ("low side rated", "low rating"),
    "high-side-rating": ("high side rated", "high rating"),
    "refrigerant": ("gas",),
    "metering": ("metering device", "expansion device"),
    "compressor-runs": ("compressor",),
    "evaporator-fan": ("evap fan",),
    "condenser-fan": ("cond fan",),
    "condenser-looks": ("condenser",),
    "door-closes": ("door",),
    "frost-pattern": ("frost",),
    "oil-stains": ("oil",),
    "sight-glass": ("glass",),
    "scale": ("weight",),
    "micron": ("vacuum", "microns"),
    "standing-pressure": ("standing",),
    "job": ("job number",),
}

#: What a plate says, by the names of what is measured: so it is called only where the plate is asked about.
ON_THE_PLATE: dict[str, tuple[str, ...]] = {
    "low-side-rating": ("low side", "low", "lp"),
    "high-side-rating": ("high side", "high", "hp"),
    "plate-amps": ("amps", "current", "rla", "fla"),
    "rated-volts": ("volts", "voltage"),
    "locked-rotor-amps": ("lra", "locked rotor"),
    "nameplate-charge": ("charge",),
}

_SUPERHEAT = ("Superheat is worked out here, not typed.", "Give suction, and the line at the evaporator outlet.")
_SUBCOOLING = ("Subcooling is worked out here, not typed.", "Give head, and the line at the condenser outlet.")
_EVAPORATING = ("The evaporating temperature is worked out from suction.", "Give suction as a pressure.")
_CONDENSING = ("The condensing temperature is worked out from head.", "Give head as a pressure.")
#: What is worked out from readings: why it can't be typed, and what to give instead.
WORKED_OUT = {
    "superheat": _SUPERHEAT,
    "sh": _SUPERHEAT,
    "subcooling": _SUBCOOLING,
    "subcool": _SUBCOOLING,
    "sc": _SUBCOOLING,
    "evaporating": _EVAPORATING,
    "condensing": _CONDENSING,
}

_IDS = {"-".join(name.split()): reading for reading, names in ALSO_CALLED.items() for name in names}
NOTHING: Mapping[str, str] = {}
SEVERAL = {"US": "suction 12, head 180", "SI": "suction 0.8, head 12"}  # how several are typed, by the units
MOST = 3  # names offered in the place of an unknown one
ALIKE = 0.55  # share of letters in common from which a name is offered


def called_here(asked: Collection[str]) -> dict[str, str]:
    """What names mean at a step that asks these: ``amps`` the plate's, where the plate is asked about and no meter."""
    names = {
        "-".join(name.split()): reading
        for reading in asked
        for name in ON_THE_PLATE.get(reading, ())
    }
    return {name: reading for name, reading in names.items() if _IDS.get(name, name) not in asked}


def reading_called(name: str, readings: Collection[str], here: Mapping[str, str] = NOTHING) -> str | None:
    """The reading of that id, or known by that everyday name; None for neither.

    name: lower case, its words joined by hyphens. here: what names mean at this step before all else.
    """
    if name in here:
        return here[name]
    if name in readings:
        return name
    found = _IDS.get(name)
    return found if found in readings else None


def unknown(text: str, readings: Collection[str]) -> Refused:
    """The no for a text that should begin with a reading and begins with none: the nearest names are its cure."""
    name = _name_of(text)
    worked_out = WORKED_OUT.get(name.split(" ")[0])
    if worked_out is not None:
        return Refused("worked-out", *worked_out)
    near = _near(name, readings)
    cure = f"Nearest: {', '.join(near)}." if near else "F8 lists the readings by their names."
    return Refused("no-such-reading", f"{text!r}: no reading is called {name!r}.", cure)


def _name_of(text: str) -> str:
    """What stands before the first figure; without one, all but the last word."""
    parts = text.lower().replace("=", " ").replace(":", " ").split()
    figure = next((at for at, part in enumerate(parts) if part[0].isdigit() or part[0] in "+-."), len(parts) - 1)
    return " ".join(parts[: max(1, figure)])


def _near(name: str, readings: Collection[str]) -> list[str]:
    """Readings spelled nearly so, by their ids or everyday names; then those that share a word."""
    known = {spoken(each): each for each in readings}
    known |= {each.replace("-", " "): reading for each, reading in _IDS.items() if reading in readings}
    spelled = nearest(name, known)
    found = [known[spelled]] if spelled else []
    asked = {word for word in name.split() if len(word) > 1}
    found += [reading for say, reading in known.items() if asked & set(say.split())]
    found += [known[each] for each in get_close_matches(name, known, MOST, ALIKE)]
    return [spoken(each) for each in dict.fromkeys(found)][:MOST]
