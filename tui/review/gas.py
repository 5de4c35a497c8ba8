"""Refrigerant of a visit: what went in and out of each circuit, cylinder by cylinder."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tui.desk.emptied import EMPTY
from tui.desk.leak import MENDED, OPEN, Leak
from tui.desk.past import ADDS, RECOVERS, WEIGHS, Past, past_of
from tui.quantity import Kind, show
from tui.record import Reading
from tui.review import taken
from tui.review.account import Account, Entry
from tui.review.wording import Wording, figure, quantity, sentence
from tui.tree.model import WorkOut
from tui.walk.kinds import spoken
from tui.walk.looks import names_in

WORKED = " (worked out)"  # behind a mass that nobody weighed

# what the trees call the masses that went in and came out, and which of them was only a test
_TEST = "test-put-in"
_IN = (_TEST, "went-in")
_OUT = ("came-out",)
_TOLD = ("answered", "told", "couldn't", "worked-out", "entered", "done")
PLATE = "nameplate-charge"
_OF_MASS = (Kind.MASS, Kind.LEAK_RATE)


def moved(reading: Reading, account: Account, wording: Wording, *, tests: bool = False) -> dict[str, str]:
    """Each circuit to what came out and went in, and its leak; empty where none was touched.

    tests: say which of it was only put in for a test.
    """
    past = _past(reading, wording)
    return {each: ", ".join(_of_circuit(account, past, each, tests=tests)) for each in account.circuits}


def _past(reading: Reading, wording: Wording) -> Past | None:
    return None if wording.catalogue is None else past_of(reading.events, reading.lines[0].at[:10], wording.catalogue)


def leaks(reading: Reading, account: Account, wording: Wording) -> dict[str, str]:
    """Each circuit to what the customer is told of its leak as it stands at the end; empty where nobody found one."""
    past = _past(reading, wording)
    return {each: _to_the_customer(account, past, each) for each in account.circuits}


def _to_the_customer(account: Account, past: Past | None, circuit: str) -> str:
    if past is None:
        return ""
    leak = past.leaks.get(circuit, Leak())
    placed = any(entry.event.get("place") for entry in account.of("finding", circuit=circuit))
    if leak.state == MENDED:
        after = ". It has to be filled anew." if _empty(past, circuit) else ", and it was filled anew."
        return f"Refrigerant had leaked out. The leak was found and mended{after}"
    if leak.worked:
        return "Refrigerant has leaked out. The leak was worked on; that is not finished."
    if leak.state == OPEN and placed:
        return "Refrigerant has leaked out. The leak was found, and has to be mended before more goes in."
    return ""


def _empty(past: Past, circuit: str) -> bool:
    return past.values.get((circuit, EMPTY), ("", ""))[0] == "yes"


def _of_circuit(account: Account, past: Past | None, circuit: str, *, tests: bool) -> Iterator[str]:
    """Out before in, as on the job; then the leak, if this visit told anything of one."""
    done = {str(entry.event.get("work", "")) for entry in account.of("done", circuit=circuit)}
    for way, names, works in (("out", _OUT, {RECOVERS}), ("in", _IN, {ADDS, WEIGHS})):
        masses = [
            f"{mass} (test)" if tests and name == _TEST else mass
            for name in names
            for mass in _masses(account, circuit, name)
        ]
        if masses:
            yield f"{way} {' and '.join(masses)}"
        elif done & works:
            yield f"{way}: not weighed"
    if past is not None and (said := _leak(past.leaks.get(circuit, Leak()))):
        yield said


def _leak(leak: Leak) -> str:
    """How it stands at the end of the visit; empty where there is none to speak of."""
    if leak.state == MENDED:
        return "leak mended"
    if leak.worked:
        return "leak worked on, job not finished"
    if leak.state == OPEN or leak.missing:
        found = "leak open" if leak.state == OPEN else "leak not found yet"
        return "no leak showed under nitrogen" if leak.held else found
    return ""


def _masses(account: Account, circuit: str, name: str) -> Iterator[str]:
    """The last value of a mass, in the unit of the plate's charge beside it; none where it is nothing."""
    entries = account.of("worked-out", "answered", "told", circuit=circuit)
    events = [entry.event for entry in entries if name in (entry.event.get("name"), entry.event.get("reading"))]
    mass = quantity(events[-1].get("value")) if events else None
    charge = quantity(_known(account, circuit, PLATE))
    if mass is not None and mass.si != 0:
        yield figure(events[-1]["value"], account.units) if charge is None else show(mass, charge.unit)


def touched(account: Account, circuit: str) -> bool:
    """Whether refrigerant may have gone in or out: a cylinder was weighed for it, or work moved some."""
    return any(entry.event.get("work") in (ADDS, WEIGHS, RECOVERS) for entry in account.of("done", circuit=circuit))


def was_recovered(account: Account, circuit: str) -> bool:
    """Whether a charge came out on this visit: by its steps, or by what the technician says of it."""
    done = any(entry.event.get("work") == RECOVERS for entry in account.of("done", circuit=circuit))
    return done or any(_gave(entry, name) for name in _OUT for entry in account.of("answered", "told", circuit=circuit))


def is_out(reading: Reading, account: Account, wording: Wording, circuit: str) -> bool:
    """Whether the circuit was left empty: its charge recovered, on this visit or before, and not put in since.

    What came out because it was over the plate leaves it charged.
    """
    past = _past(reading, wording)
    if past is not None and (circuit, EMPTY) in past.values:
        return _empty(past, circuit)
    works = [entry.event.get("work") for entry in account.of("done", circuit=circuit)]
    moving = [work for work in works if work in (ADDS, WEIGHS, RECOVERS)]
    return moving[-1:] == [RECOVERS]


def plate(account: Account, wording: Wording, circuit: str) -> str:
    """``R-134a, 14 oz on the plate``; says what of the two is not known."""
    gas, mass = (_known(account, circuit, name) for name in ("refrigerant", PLATE))
    refrigerant = "refrigerant not known" if gas is None else wording.value("refrigerant", gas)
    charge = "plate charge not known" if mass is None else f"{wording.value(PLATE, mass)} on the plate"
    return f"{refrigerant}, {charge}"


def _known(account: Account, circuit: str, name: str) -> Mapping[str, Any] | None:
    """What was given for a reading last, else what was known of it beforehand."""
    opened = account.opened
    known = opened.get("known", {}).get("circuits", {}).get(circuit, {})
    history = {item["reading"]: item["value"] for item in opened.get("history", []) if item["circuit"] == circuit}
    given = [e.event["value"] for e in account.of("answered", "told", circuit=circuit) if _gave(e, name)]
    stored: Mapping[str, Any] | None = given[-1] if given else known.get(name, history.get(name))
    return stored


def _gave(entry: Entry, name: str) -> bool:
    return entry.event.get("reading") == name and "value" in entry.event


def weighings(account: Account, wording: Wording, circuit: str) -> dict[str, dict[str, str]]:
    """Title of each tree in which something was weighed, in that order, to its masses: each has a cylinder of its own.

    What a later tree only worked out once more stands with the first.
    """
    trees = _trees(account, circuit)
    told: set[tuple[str, str]] = set()
    from_scale: set[str] = set()
    found: dict[str, dict[str, str]] = {}
    masses = [e for e in account.of("answered", "told", circuit=circuit) if is_mass(wording, e, _reading(e))]
    for tree in dict.fromkeys(trees[entry.n] for entry in masses):
        mine = {entry.n for entry in masses if trees[entry.n] == tree}
        rows = taken.takes(account, lambda entry, _, mine=mine: entry.n in mine)  # type: ignore[misc]
        from_scale |= {label.replace(" ", "-") for label in rows}
        for entry in _worked_out(account, wording, circuit, tree, from_scale):
            rows[spoken(entry.event["name"])] = f"{_mass(entry, account.units)}{WORKED}"
        rows = {label: text for label, text in rows.items() if (label, text) not in told}
        told |= set(rows.items())
        title = wording.tree(tree).partition(" - ")[0]  # what follows a dash in a title only explains it
        found[title] = {sentence(label): text for label, text in rows.items()}
    return found


def _mass(worked: Entry, units: str) -> str:
    """What was worked out; less than nothing is missing, over or in it where nothing is."""
    value = quantity(worked.event["value"])
    return "none" if value is not None and value.si < 0 else figure(worked.event["value"], units)


def _reading(entry: Entry) -> str:
    return str(entry.event.get("reading", ""))


def _trees(account: Account, circuit: str) -> dict[int, str]:
    """The tree that each event of a circuit belongs to; what was typed by its name, to the one walked then."""
    trees: dict[int, str] = {}
    tree = ""
    for entry in sorted(account.of(*_TOLD, circuit=circuit), key=lambda entry: entry.n):
        trees[entry.n] = tree = str(entry.event.get("tree", tree))
    return trees


def _worked_out(account: Account, wording: Wording, circuit: str, tree: str, from_scale: set[str]) -> Iterator[Entry]:
    """Masses and leak rates that a tree worked out of what was weighed, not what was planned."""
    for entry in account.of("worked-out", circuit=circuit):
        value, step = quantity(entry.event["value"]), wording.step(entry.place)
        if value is None or entry.event.get("tree") != tree:
            continue
        if isinstance(step, WorkOut) and from_scale.isdisjoint(names_in(step.expression)):
            continue
        from_scale.add(str(entry.event["name"]))
        if value.kind in _OF_MASS:
            yield entry


def is_mass(wording: Wording, entry: Entry, name: str) -> bool:
    """Whether a reading was weighed in this visit: not off a plate."""
    value = quantity(entry.event.get("value"))
    asked = wording.asked(name)
    weighed = asked is None or asked.instrument is not None
    return weighed and value is not None and value.kind is Kind.MASS and not taken.of_plate(asked)
