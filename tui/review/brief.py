"""A session in a few words, for lists of many: how it stands, what it ended in, what became of the refrigerant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tui.desk.past import ADDS, LEAK, RECOVERS, WEIGHS, Past, past_of
from tui.quantity import Refused
from tui.record import Reading, read
from tui.review import job
from tui.review.account import Account, account_of
from tui.review.wording import Wording, figure, library_of, quantity
from tui.walk.kinds import spoken

_CANNOT = (KeyError, IndexError, TypeError, ValueError, AttributeError, Refused)
_STEPS = ("answered", "told", "couldn't", "caution-acknowledged", "done", "waited", "offered")
# what the trees call the masses that went in and came out, and the work that moved them
_IN = ("test-put-in", "went-in")
_OUT = ("came-out",)


@dataclass(frozen=True, slots=True)
class Brief:
    """`unit`: its tag, empty where none was given. `open`: it can be gone on with.

    said: how it stands and what each circuit's walk ended in, or what ails the file.
    stopped: where an open one was left, in words. gas: refrigerant in and out, leaks; empty where none was touched.
    """

    unit: str
    open: bool
    said: str
    stopped: str = ""
    gas: str = ""


def brief(path: Path) -> Brief:
    """Never raises for what lies there."""
    try:
        reading = read(path)
    except Refused as refused:
        return Brief("", False, f"can't be read: {refused.message}")
    if reading.state in ("newer", "foreign") or not reading.lines:
        return Brief("", False, f"{reading.state}: {reading.message}")
    damaged = f"{reading.state.upper()}, as far as it goes: " if reading.state in ("torn", "altered") else ""
    try:
        wording = Wording(library_of(reading))
        account = account_of(reading.lines, wording.catalogue)
        unit = str(account.opened.get("unit", ""))
        is_open = not any(account.of("closed"))
        stopped, tree = _stopped(account, wording) if is_open else ("", "")
        found = any(account.of("finding", "own-finding"))
        stands = [f"open, stopped {stopped}{tree}"] if is_open else _closed_early(account)
        said = damaged + "; ".join([*stands, *([_results(account, wording)] if found or not is_open else [])])
        return Brief(unit, is_open and reading.state != "altered", said, stopped, _gas(reading, account, wording))
    except _CANNOT:
        return Brief("", False, f"{damaged}its lines say what no walk writes")


def _results(account: Account, wording: Wording) -> str:
    parts = [part for part in account.parts if part] or [""]
    named = {part: f"{part}: " if len(parts) > 1 else "" for part in parts}
    return "; ".join(f"{named[part]}{job.result(account, wording, part)}" for part in parts)


def _closed_early(account: Account) -> list[str]:
    why = str(next(account.of("closed")).event.get("why", ""))
    return [] if why in ("", "ended") else [f"closed early ({why})"]


def _stopped(account: Account, wording: Wording) -> tuple[str, str]:
    """``after load`` and ``" (Look, listen, feel)"``: the last thing that was given or done, and its tree."""
    last = next((entry for entry in reversed(account.entries) if entry.kind in _STEPS), None)
    if last is None:
        return "at its beginning", ""
    names = last.event.get("readings") or [last.event.get("reading")]
    what = {"caution-acknowledged": "a caution", "waited": "a wait", "offered": "an offer"}.get(last.kind)
    what = what or spoken(str(names[-1] or last.event.get("step", "")))
    tree = str(last.event.get("tree", ""))
    title = wording.tree(tree).partition(" - ")[0]  # what follows a dash in a title only explains it
    return f"after {what}", f" ({title})" if tree else ""


def _gas(reading: Reading, account: Account, wording: Wording) -> str:
    day = reading.lines[0].at[:10]
    past = past_of(reading.events, day, wording.catalogue) if wording.catalogue is not None else None
    circuits = account.circuits
    told = {each: ", ".join(_of_circuit(account, past, each)) for each in circuits}
    return "; ".join(f"{each}: {text}" if len(circuits) > 1 else text for each, text in told.items() if text)


def _of_circuit(account: Account, past: Past | None, circuit: str) -> Iterator[str]:
    """Out before in, as on the job; then the leak, if this visit told anything of one."""
    done = {str(entry.event.get("work", "")) for entry in account.of("done", circuit=circuit)}
    for way, names, works in (("out", _OUT, {RECOVERS}), ("in", _IN, {ADDS, WEIGHS})):
        masses = [mass for name in names for mass in _masses(account, circuit, name)]
        if masses:
            yield f"{way} {' and '.join(masses)}"
        elif done & works:
            yield f"{way}: not weighed"
    leak, day = past.values.get((circuit, LEAK), ("", "")) if past is not None else ("", "")
    if leak == "found but not mended":
        yield "leak open"
    elif leak == "mended" and past is not None and day == past.day:
        yield "leak mended"


def _masses(account: Account, circuit: str, name: str) -> Iterator[str]:
    """The last value of a mass, as the visit's units show it; none where it is nothing."""
    entries = account.of("worked-out", "answered", "told", circuit=circuit)
    events = [entry.event for entry in entries if name in (entry.event.get("name"), entry.event.get("reading"))]
    mass = quantity(events[-1].get("value")) if events else None
    if mass is not None and mass.si != 0:
        yield figure(events[-1]["value"], account.units)
