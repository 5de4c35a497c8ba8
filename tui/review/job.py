"""What belongs to the whole job: whose, when, where, with what; and what was remarked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tui.quantity import Accuracy, Kind, Quantity, Refused, default_unit, show, usual_unit
from tui.quantity.dates import long_date, read_date
from tui.record import Reading
from tui.review.account import Account, Entry
from tui.review.page import Page
from tui.review.taken import NOT_HAD
from tui.review.wording import VERDICTS, Wording, sentence, shown
from tui.tree.model import Do
from tui.walk.kinds import ALTITUDE, spoken

OPEN = "cannot-tell"  # of a finding that names no cause
IN_HEAD = ("unit", "job", "region", "circuits", "today")
_STEPS = ("answered", "told", "couldn't", "caution-acknowledged", "done", "waited", "offered")
_FEW_WORDS = 40  # letters of a step's words that are told where a visit stands
_DAMAGED = ("torn", "altered")


def visit(page: Page, account: Account, wording: Wording, told: Mapping[str, str]) -> None:
    """Where it was, under whose rules, and what else was told of the unit."""
    page.heading("The visit")
    breaks = ", ".join(entry.time for entry in account.of("resumed"))
    page.rows({"Site": _air(account), "Rules": _region(account, told), "Gone on with": breaks})
    page.pairs({sentence(label): text for label, text in told.items() if label not in IN_HEAD})


def result(account: Account, wording: Wording, circuit: str) -> str:
    """What was found on a circuit, and what its walk ended in."""
    causes = [str(entry.event["cause"]) for entry in account.of("finding", circuit=circuit)]
    own = [str(entry.event["cause"]) for entry in account.of("own-finding", circuit=circuit)]
    own = [cause for cause in dict.fromkeys(own) if cause not in causes]
    said = f"; the technician's own finding: {'; '.join(map(wording.cause, own))}" if own else ""
    if not causes:
        closed = any(account.of("closed"))
        return f"nothing found{'' if closed else ' yet'}{said}"
    earlier = [cause for cause in dict.fromkeys(causes[:-1]) if cause not in (OPEN, causes[-1])]
    found = "; ".join(map(wording.cause, earlier))
    if not found:
        found = wording.cause(causes[-1])
    elif not _only_stops(account, circuit):
        found = f"{found}; at the end: {wording.cause(causes[-1])}"
    return f"{found}{said}"


def _only_stops(account: Account, circuit: str) -> bool:
    """Whether the last finding names no cause and none that it could be: the job stopped, what was found stands."""
    last = [entry.event for entry in account.of("finding", circuit=circuit)][-1]
    return last["cause"] == OPEN and not last.get("could_be")


def in_front(account: Account, circuit: str) -> list[Entry]:
    """The findings that the first page tells what was seen of: of each cause the last; an open one only at the end."""
    findings = list(account.of("finding", circuit=circuit))
    latest = {str(entry.event["cause"]): entry for entry in findings}
    return [e for e in findings if e is latest[e.event["cause"]] and (e is findings[-1] or e.event["cause"] != OPEN)]


def ended(account: Account) -> str:
    """How the visit ended where it did not walk to its end."""
    closed = next(account.of("closed"), None)
    if closed is None:
        return "not yet: the visit is still open"
    why = str(closed.event.get("why", ""))
    return "" if why in ("", "ended") else f"by the technician: {why}"


def stopped(account: Account, wording: Wording, before: int | None = None) -> tuple[str, str]:
    """``after load`` and ``" (Look, listen, feel)"``: the last thing that was given or done, and its tree.

    A walk that came to its end has only to be closed; one that stands at an offer to go on says so. before: look only
    at what came before the event of that number.
    """
    earlier = [entry for entry in reversed(account.entries) if before is None or entry.n < before]
    at_end = "" if before is not None else _at_an_end(account, wording, earlier)
    if at_end:
        return at_end, ""
    last = next((entry for entry in earlier if entry.kind in _STEPS), None)
    if last is None:
        return "at its beginning", ""
    what = {"caution-acknowledged": "a caution", "waited": "a wait", "offered": "an offer"}.get(last.kind)
    tree = str(last.event.get("tree", ""))
    title = wording.tree(tree).partition(" - ")[0]  # what follows a dash in a title only explains it
    return f"after {what or _last_said(wording, last)}", f" ({title})" if tree else ""


def _at_an_end(account: Account, wording: Wording, latest_first: list[Entry]) -> str:
    """Where the last that happened is a finding: at its offer, or, with one for each circuit, at the walk's end."""
    last = next((entry for entry in latest_first if entry.kind in (*_STEPS, "finding", "routed", "entered")), None)
    if last is None or last.kind not in ("finding", "offered") or last.event.get("accepted"):
        return ""
    if last.kind == "finding" and getattr(wording.step(str(last.event["where"])), "offer", None):
        return "at the offer to go on after what was found"
    found = {entry.circuit for entry in account.of("finding")}
    return "at its end: it has only to be closed" if found >= set(account.circuits) else ""


def _last_said(wording: Wording, last: Entry) -> str:
    """What was given last by its name, what was done last by the beginning of its words."""
    names = last.event.get("readings") or [last.event.get("reading")]
    step = wording.step(last.place)
    if names[-1] or not isinstance(step, Do):
        return spoken(str(names[-1] or last.event.get("step", "")))
    said = "".join(part if isinstance(part, str) else "..." for part in step.tell.parts)
    first = said.partition(". ")[0].rstrip(".")
    return f'"{first if len(first) <= _FEW_WORDS else first[:_FEW_WORDS].rpartition(" ")[0] + " ..."}"'


def damage(page: Page, reading: Reading) -> None:
    """Said first, where a file is not whole."""
    if reading.state in _DAMAGED:
        page.banner(f"THIS RECORD IS {reading.state.upper()}. {reading.message}")
        page.banner(f"Below stands only what its first {len(reading.lines)} lines say.")


def instruments(page: Page, account: Account, wording: Wording) -> None:
    """Each instrument that was used: good to what, calibrated when, what was checked."""
    good_to: dict[str, list[str]] = {name: [text] for name, text in account.opened.get("instruments", {}).items()}
    for entry in account.of("answered", "told", "instrument-checked"):
        name = entry.event.get("instrument")
        if name:
            checked = f" (checked {entry.time})" if entry.kind == "instrument-checked" else ""
            known = good_to.setdefault(str(name), [])
            text = f"{entry.event['good_to']}{checked}"
            if entry.event["good_to"] not in (each.partition(" (")[0] for each in known):
                known.append(text)
    if not good_to:
        return
    page.heading("Instruments")
    undated = 0
    for name, texts in good_to.items():
        day = account.opened.get("calibrated", {}).get(name)
        good = ", then ".join(accuracy(text, account.units) for text in texts)
        undated += not day
        calibrated = f"; calibrated {long_date(read_date(day))}" if day else ""
        page.row(sentence(wording.instrument(name)), f"good to {good}{calibrated}")
    if undated:
        page.row("Day of calibration", "given for none" if undated == len(good_to) else "of the others not given")


def accuracy(text: str, units: str) -> str:
    """``1 dF`` for a visit in metric units as ``0.6 dC (1 dF)``; a share of the reading stays as it is."""
    try:
        good = Accuracy.parse(text.partition(" (")[0])
    except Refused:
        return text
    if units != "SI" or good.relative or good.kind is None:
        return text
    said = show(Quantity(good.kind, good.fixed), usual_unit(Quantity(good.kind, good.fixed), units))
    given, _, checked = text.partition(" (")
    return text if said == given else f"{said} ({given}{', ' + checked.rstrip(')') if checked else ''})"


def cautions(page: Page, account: Account, wording: Wording) -> None:
    """Each caution once, with when it was acknowledged first, and where."""
    seen: dict[str, list[Entry]] = {}
    for entry in account.of("caution-acknowledged"):
        for caution in entry.event["cautions"]:
            seen.setdefault(str(caution), []).append(entry)
    if seen:
        page.heading("Cautions read before the work")
    for caution, entries in seen.items():
        where = ", ".join(dict.fromkeys(entry.circuit or "unit" for entry in entries))
        several = f"{where}: " if len(account.circuits) > 1 else ""
        page.timed(entries[0].time, f"{several}{wording.caution(caution)}")


def remarks(page: Page, account: Account) -> None:
    """Corrections, answers taken back, overrules, notes that stand nowhere else, photos."""
    changed = list(account.of("corrected", "undone", "overruled"))
    if changed:
        page.heading("Corrected, taken back, overruled")
    for entry in sorted(changed, key=lambda e: e.n):
        page.timed(entry.time, _of_circuit(account, entry) + _change(account, entry))
    _remarks(page, account, "Notes", [entry for entry in account.of("noted") if not entry.event.get("about")])
    _remarks(page, account, "Photos", list(account.of("photographed")))


def _remarks(page: Page, account: Account, title: str, found: list[Entry]) -> None:
    if found:
        page.heading(title)
    for entry in found:
        text = entry.event.get("text") or f"{entry.event.get('name')}, SHA-256 {entry.event.get('digest')}"
        page.timed(entry.time, _of_circuit(account, entry) + str(text))


def _of_circuit(account: Account, entry: Entry) -> str:
    """Which one, where there are several."""
    return f"{entry.circuit}: " if entry.circuit and len(account.circuits) > 1 else ""


def _change(account: Account, entry: Entry) -> str:
    event = entry.event
    if entry.kind == "undone":
        count = int(event["answers"])
        gone = [each.event for each in account.withdrawn if each.gone == entry.follows]
        several = len(account.circuits) > 1
        what = "; ".join((_other(each, entry) if several else "") + _taken(each) for each in gone) or _KEPT
        return f"Went back {'one answer' if count == 1 else f'{count} answers'}: {what}"
    if entry.kind == "corrected":
        name = sentence(spoken(event["reading"]))
        if event["was"] is None:
            return f"{name} could not be had, corrected to {shown(event['value'])}"
        was = shown(event["was"])
        if event["value"] is None:
            return f"{name} was {was}, struck out: never had"
        return f"{name} was {was}, corrected to {shown(event['value'])}"
    name = str(event["name"]).rpartition("/")[2]
    held = f"the technician holds it is {VERDICTS.get(event['verdict'], event['verdict'])}"
    return f"{sentence(spoken(name))}, too close to tell: {held}: {event['reason']}"


def _taken(event: Mapping[str, Any]) -> str:
    """An answer that was taken back, in words."""
    if "value" in event:
        return f"{spoken(event['reading'])} {shown(event['value'])}"
    names = event.get("readings") or ([event["reading"]] if "reading" in event and "reason" in event else [])
    if names:
        return f"{', '.join(map(spoken, names))} {NOT_HAD}{event['reason']}"
    if event["event"] == "overruled":
        return f"own verdict on {spoken(str(event['name']).rpartition('/')[2])}"
    return _TAKEN_BACK.get(str(event["event"]), "a choice at a close call")


_KEPT = "what was read before the work stays in the record"
_TAKEN_BACK = {
    "couldn't": "a step that could not be done",
    "offered": "the answer to an offer to go on",
    "switched": "going over to another circuit",
    "closing": "ending the visit",
}


def _other(event: Mapping[str, object], entry: Entry) -> str:
    """The circuit of what was taken back, where it is not the one walked."""
    circuit = event.get("circuit", "")
    return f"{circuit} " if circuit not in ("", entry.circuit) else ""


def date_of(account: Account) -> str:
    """The day of the visit by the clock of the device, with its times and their zone."""
    assert account.first is not None
    assert account.last is not None
    first, last = account.first.at, account.last.at
    zone = first[19:].lstrip(".0123456789")
    end = last[11:16] if last[:10] == first[:10] else f"{_day_of(last)} {last[11:16]}"
    return f"{_day_of(first)}, {first[11:16]} to {end} ({'UTC' if zone in _UTC else 'UTC' + zone})"


def _day_of(stamp: str) -> str:
    try:
        return long_date(read_date(stamp[:10]))
    except Refused:  # no such day: as it stands there
        return stamp[:10]


_UTC = ("Z", "+00:00", "-00:00")


def _air(account: Account) -> str:
    """The air pressure that gauge pressures stand on, and where it is from."""
    stored = account.opened.get("site", {}).get("atmosphere")
    for entry in account.of("answered", "couldn't"):
        if entry.event.get("reading") == ALTITUDE or entry.event.get("readings") == [ALTITUDE]:
            stored = entry.event.get("atmosphere")
    if not stored:
        return "no altitude and no barometer given"
    air = Quantity(Kind.ABSOLUTE_PRESSURE, float(stored["pa"]))
    return f"air {show(air, default_unit(Kind.ABSOLUTE_PRESSURE, account.units))} ({stored['source']})"


def _region(account: Account, told: Mapping[str, str]) -> str:
    region = told.get("region") or account.opened.get("site", {}).get("region")
    return f"those of {region}" if region else "no region given: no country's rules were used"
