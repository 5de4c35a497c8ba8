"""What was agreed and proven on the walk itself: days, what the customer chose, what the rules ask, the leak check."""

from __future__ import annotations

from collections.abc import Iterator

from tui.desk.leak import HOLD, LEAKING, MENDS, REMAKES, SHORT, TIGHT
from tui.quantity import clock_span, from_json
from tui.quantity.dates import iso_date, long_date
from tui.review.account import Account, Entry
from tui.review.filled import filled
from tui.review.wording import Wording, figure, quantity, shown
from tui.tree.model import Do, Name

# readings of the bundled catalogue that hold a day agreed with the customer, and for what
_DAYS = {"search-date": "leak search", "repair-date": "repair", "proof-date": "proof of the repair"}
_NOT_NOW, _CHOICE = "in-the-way", "customer-decides"
_REPLACED = "replace the unit"
_CHOICES = {"mend it": "the repair", "later": "no repair yet", _REPLACED: "a new unit, no repair"}
# what a tree works out of the rules of the place, and tells in a step of its own
_OF_RULES = frozenset({"leak-rule", "mend-by", "recheck-by", "tonnes", "check-every"})

_MEND_BY = "mend-by"
_RECHECK_BY = "recheck-by"
_RULES_DAYS = {_MEND_BY: "mended", _RECHECK_BY: "leak check again"}
_NO_DUTY = "no duty"
# what was answered that speaks of a leak
_OF_A_LEAK = {
    "earlier-leak": ("found but not mended",),
    "mended": ("a joint", "a flare nut", "a core", "a cap", "a coil"),
}

_HELD = {
    TIGHT: "tight",
    LEAKING[0]: "it fell, so it leaks",
    LEAKING[1]: "bubbles, so it leaks",
    "not proven": "cut short, proves nothing",
    "given up": "not finished, proves nothing",
}
_DRY = {"dry": "dry", "leaking": "it climbs on, so it leaks", "not proven": "cut short, proves nothing"}
_VACUUM = "evacuation"
_SNIFFS = {"planned-sniff": "detector along the circuit", "last-sniff": "last sniff"}


def days(account: Account, wording: Wording, circuit: str) -> list[str]:
    """``leak search: 30 November 2026``: each day agreed and still to come; the rules' days; what hindered."""
    agreed = []
    for reading, what in _DAYS.items():
        given = _given(account, circuit, reading)
        day = None if given is None else quantity(given.event["value"])
        if given is not None and day is not None and iso_date(day.si) >= given.at[:10]:
            agreed.append((day.si, f"{what}: {long_date(day.si)}"))
    agreed += _days_of_rules(account, wording, circuit)
    reason = _value(account, circuit, _NOT_NOW)
    return [text for _, text in sorted(agreed)] + ([f"not mended yet: {shown(reason)}"] if reason else [])


def _days_of_rules(account: Account, wording: Wording, circuit: str) -> Iterator[tuple[float, str]]:
    """The last day that the rules leave, where the step told there names it and the rules ask it of this charge."""
    checked = [e.event["value"] for e in account.of("worked-out", circuit=circuit) if e.event["name"] == "check-every"]
    if checked and shown(checked[-1]) == _NO_DUTY:
        return
    settled = choice(account, circuit) == _CHOICES[_REPLACED]
    settled = settled or any(e.event.get("work") in (MENDS, REMAKES) for e in account.of("done", circuit=circuit))
    for name, what in _RULES_DAYS.items():
        if (name == _MEND_BY and settled) or (name == _RECHECK_BY and not _may_have_leaked(account, circuit)):
            continue
        told = [entry for entry in _rule_steps(account, wording, circuit) if name in _names(wording, entry)]
        worked = [e for e in account.of("worked-out", circuit=circuit) if e.event["name"] == name]
        day = quantity(worked[-1].event["value"]) if told and worked else None
        if day is not None:
            yield day.si, f"{what} by {long_date(day.si)}, by the rules"


def _may_have_leaked(account: Account, circuit: str) -> bool:
    """Whether anything on the visit points to a leak: without one no rule asks for a check of its repair."""
    for reading, words in _OF_A_LEAK.items():
        value = _value(account, circuit, reading)
        if value is not None and from_json(value) in words:
            return True
    found = [entry.event for entry in account.of("finding", circuit=circuit)]
    return any(each.get("cause") == SHORT or SHORT in each.get("could_be", ()) for each in found)


def choice(account: Account, circuit: str) -> str:
    """What the customer chose when both prices lay before him; empty where he was not asked."""
    given = _value(account, circuit, _CHOICE)
    said = "" if given is None else str(from_json(given))
    return _CHOICES.get(said, said)


def rules(account: Account, wording: Wording, circuit: str) -> list[str]:
    """What the rules of the place ask, as it was told there; each once."""
    texts = [(wording.step(entry.place), entry) for entry in _rule_steps(account, wording, circuit)]
    return list(dict.fromkeys(filled(account, wording, step.tell, e) for step, e in texts if isinstance(step, Do)))


def _rule_steps(account: Account, wording: Wording, circuit: str) -> list[Entry]:
    return [entry for entry in account.of("done", circuit=circuit) if not _OF_RULES.isdisjoint(_names(wording, entry))]


def _names(wording: Wording, done: Entry) -> set[str]:
    """What the step that was done fills in."""
    step = wording.step(done.place)
    return {part.name for part in step.tell.parts if isinstance(part, Name)} if isinstance(step, Do) else set()


def leak_check(account: Account, circuit: str) -> list[str]:
    """The last nitrogen hold, the last vacuum and the last sniff, each with its figures; those that were made."""
    return [*_hold(account, circuit), *_vacuum(account, circuit), *_sniff(account, circuit)]


def _hold(account: Account, circuit: str) -> Iterator[str]:
    came = _came_back(account, circuit, HOLD)
    first, last = (_given(account, circuit, name) for name in ("test-pressure", "held-pressure"))
    if came is None or first is None:
        return
    waited = sum(_waited(account, circuit, HOLD, first.n, came.n))
    at = figure(first.event["value"], account.units)
    there = "" if last is None or last.n < first.n else f", {figure(last.event['value'], account.units)} at the end"
    outcome = str(came.event["outcome"])
    yield f"nitrogen at {at}, stood {clock_span(waited)}{there}: {_HELD.get(outcome, outcome)}"


def _vacuum(account: Account, circuit: str) -> Iterator[str]:
    came, last = _came_back(account, circuit, _VACUUM), _given(account, circuit, "micron-later")
    if came is not None and last is not None and last.n < came.n:
        waited = sum(_waited(account, circuit, _VACUUM, _pump_off(account, circuit), came.n))
        outcome = str(came.event["outcome"])
        shown_at = figure(last.event["value"], account.units)
        yield f"vacuum {shown_at}, {clock_span(waited)} after the pump was off: {_DRY.get(outcome, outcome)}"


def _sniff(account: Account, circuit: str) -> Iterator[str]:
    for reading, what in _SNIFFS.items():
        last = _given(account, circuit, reading)
        if last is not None:
            yield f"{what}: {shown(last.event['value'])}"


def _came_back(account: Account, circuit: str, tree: str) -> Entry | None:
    found = [entry for entry in account.of("left", circuit=circuit) if entry.event.get("tree") == tree]
    return max(found, key=lambda entry: entry.n, default=None)


def _pump_off(account: Account, circuit: str) -> int:
    off = [e.n for e in account.of("done", circuit=circuit) if e.event.get("work") == "shuts the pump off"]
    return max(off, default=0)


def _waited(account: Account, circuit: str, tree: str, since: int, till: int) -> Iterator[float]:
    for entry in account.of("waited", circuit=circuit):
        if since < entry.n < till and entry.event.get("tree") == tree:
            yield float(entry.event["actual"])


def _given(account: Account, circuit: str, reading: str) -> Entry | None:
    """The last answer to a reading of a circuit."""
    found = [e for e in account.of("answered", "told", circuit=circuit) if e.event.get("reading") == reading]
    return max((e for e in found if "value" in e.event), key=lambda entry: entry.n, default=None)


def _value(account: Account, circuit: str, reading: str) -> dict[str, object] | None:
    found = _given(account, circuit, reading)
    return None if found is None else found.event["value"]
