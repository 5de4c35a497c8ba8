"""What was done at the unit: each act with its time, in short, and what it has left on or open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tui.desk.leak import MENDS, REMAKES, WHAT
from tui.desk.past import ADDS, RECOVERS, WEIGHS
from tui.quantity import clock_span
from tui.review import gas
from tui.review.account import Account, Entry
from tui.review.filled import filled
from tui.review.job import accuracy
from tui.review.wording import Wording, sentence, shown
from tui.tree.model import Do, Work
from tui.walk.kinds import spoken

_KINDS = ("done", "waited", "instrument-checked", "couldn't")
_NOTHING = "nothing risky"


def in_short(account: Account, wording: Wording, circuit: str) -> str:
    """``Gauges fitted; refrigerant recovered; circuit mended``: what was done, each once, in the order of first times.

    What only led to another work that was done, as the hoses to the recovery, is left out; how often, with gas added.
    """
    works = {} if wording.catalogue is None else wording.catalogue.works
    done = Counter(str(entry.event.get("work", "")) for entry in account.of("done", circuit=circuit))
    towards = {each for name in done if name in works for any_of in works[name].after_work for each in any_of}
    weighty = {name for name in done if name in works and _is_weighty(works[name])} - towards
    said = [
        each + (_often(done[name]) if name == ADDS else "")
        for name in done
        if name in _DONE or name in weighty
        for each in _said_of(account, wording, circuit, name)
    ]
    if gas.was_recovered(account, circuit) and RECOVERS not in done:
        said.insert(0, f"{_DONE[RECOVERS]}, by the technician's own word")
    return "; ".join(dict.fromkeys(said))


def _said_of(account: Account, wording: Wording, circuit: str, work: str) -> Iterator[str]:
    """How a person says that it was done; of mending, what was mended by his own answer after it."""
    steps = [_words_of(wording, e) for e in account.of("done", circuit=circuit) if e.event.get("work") == work]
    if work == TAPS:
        yield from (_PIERCED if _PIERCING in told else _DONE[TAPS] for told in steps)
    elif work not in (MENDS, REMAKES):
        yield _DONE.get(work) or _ON_THE_WAY.get(work, work)
    else:
        mended = [e for e in account.of("answered", "told", circuit=circuit) if e.event.get("reading") == WHAT]
        what = shown(mended[-1].event["value"]) if mended else ""
        yield _MENDED.get(what, _DONE[work])
        if any(_NEW_DRIER in told for told in steps) and what not in _NO_OTHER_DRIER:
            yield _NEW_DRIER


def _words_of(wording: Wording, done: Entry) -> str:
    """What a step told to do, in small letters, without what was filled in."""
    step = wording.step(done.place)
    return "".join(part for part in step.tell.parts if isinstance(part, str)).lower() if isinstance(step, Do) else ""


# what the steps of the trees say where more than their work's name was done
TAPS, _PIERCING, _PIERCED = "taps the circuit", "piercing valve", "piercing valve fitted"
_NEW_DRIER, _NO_OTHER_DRIER = "new drier", ("only the drier", "nothing yet")


# what the trees' catalogue calls a work, and how a person says that it was done
_DONE = {
    "fits the gauges": "gauges fitted",
    TAPS: "gauges fitted",
    RECOVERS: "refrigerant recovered",
    ADDS: "refrigerant added",
    "lets the first nitrogen in": "tested with nitrogen",
    "raises pressure with nitrogen": "tested with nitrogen",
    "purges the circuit": "circuit purged",
    MENDS: "circuit mended",
    REMAKES: "joint, core or valve made anew",
    "evacuates": "evacuated",
    WEIGHS: "plate charge weighed in",
    "cleans the condenser": "condenser cleaned through",
    "pumps down": "pumped down as a test",
    "covers the condenser": "condenser covered in part as a test",
    "takes the load off": "load taken off as a test",
    "sets the bulb right": "bulb put right",
    "opens the valve a little": "expansion valve opened by small turns",
    "shuts the valve a little": "expansion valve shut by small turns",
}


# work that is said only where nothing came of it
_ON_THE_WAY = {
    "connects a cylinder": "cylinder connected",
    "connects the recovery machine": "recovery machine connected",
    "opens the circuit": "circuit opened",
    "tests to ground": "windings tested to ground",
    "tries a start": "start tried",
}

# what was mended, as it is asked, and how a person says that it was
_MENDED = {
    "only the drier": "drier changed",
    "a joint": "joint made anew",
    "a flare nut": "flare made anew",
    "a core": "valve core changed",
    "a cap": "cap changed",
    "a coil": "coil changed",
    "the cap tube": "capillary tube changed",
    "a valve": "valve changed",
    "a compressor": "compressor changed",
    "another part": "part changed",
    "nothing but the charge": "circuit opened, nothing but the charge put right",
    "nothing yet": "circuit opened, nothing mended yet",
}


def _often(times: int) -> str:
    return {1: "", 2: ", twice"}.get(times, f", {times} times")


def _is_weighty(work: Work) -> bool:
    return bool(work.only_if or work.needs or work.leaves)


def act_by_act(account: Account, wording: Wording, circuit: str) -> Iterator[tuple[str, str]]:
    """(time, what was done), in order."""
    for entry in account.of(*_KINDS):
        text = _done(account, wording, circuit, entry)
        if text:
            yield entry.time, text


def cut_short(entry: Entry) -> bool:
    """Whether a wait was shorter than asked for."""
    return entry.kind == "waited" and float(entry.event["actual"]) < float(entry.event["asked"])


def left_on(account: Account, wording: Wording, circuit: str) -> list[str]:
    """What work has left on or open, and no later work has cleared."""
    catalogue = wording.catalogue
    left: list[str] = []
    for entry in account.of("done", "answered", "told", circuit=circuit):
        asked = wording.asked(str(entry.event.get("reading", "")))
        name = entry.event.get("work") or (asked.work if asked is not None else None)
        work = catalogue.works.get(str(name)) if catalogue is not None else None
        if work is not None:
            left = [thing for thing in left if thing not in work.clears]
            left += [thing for thing in work.leaves if thing not in left]
    return left


def _done(account: Account, wording: Wording, circuit: str, entry: Entry) -> str:
    event = entry.event
    if entry.circuit != circuit:
        return ""
    if entry.kind == "waited":
        return _waited(entry)
    if entry.kind == "instrument-checked":
        name = wording.instrument(event["instrument"])
        what = "Checked" if event["how"] == "checked" else "Took a better one:"
        return f"{what} {name}, now good to {accuracy(str(event['good_to']), account.units)}"
    if entry.kind == "couldn't":
        return "" if event.get("readings") else f"Could not be done ({spoken(event['step'])}): {event['reason']}"
    return _told(account, wording, entry)


def _told(account: Account, wording: Wording, entry: Entry) -> str:
    """What was done, as the step told it then; without its tree the catalogue's name for the work."""
    left = wording.cleared(str(entry.event.get("left", "")))
    if left:
        return left
    step = wording.step(entry.place)
    if isinstance(step, Do):
        return filled(account, wording, step.tell, entry)
    work = str(entry.event.get("work", ""))
    return sentence(work if work and work != _NOTHING else spoken(str(entry.event["step"])))


def _waited(entry: Entry) -> str:
    actual, asked = float(entry.event["actual"]), float(entry.event["asked"])
    if not cut_short(entry):
        return f"Waited {clock_span(actual)}"
    return f"Waited {clock_span(actual)} of {clock_span(asked)}. CUT SHORT: {entry.event.get('skipped_because', '')}"
