"""What was agreed and proven on the walk itself: days, what the customer chose, what the rules ask, the leak check."""

from __future__ import annotations

from collections.abc import Iterator

from tui.desk.leak import HOLD, LEAKING, TIGHT
from tui.quantity import clock_span, from_json
from tui.quantity.dates import iso_date, long_date
from tui.review.account import Account, Entry
from tui.review.filled import filled
from tui.review.wording import Wording, figure, quantity, shown
from tui.tree.model import Do, Name

# readings of the bundled catalogue that hold a day agreed with the customer, and for what
_DAYS = {"search-date": "leak search", "repair-date": "repair", "proof-date": "proof of the repair"}
_NOT_NOW, _CHOICE = "in-the-way", "customer-decides"
_CHOICES = {"mend it": "the repair", "later": "no repair yet", "replace the unit": "a new unit, no repair"}
# what a tree works out of the rules of the place, and tells in a step of its own
_OF_RULES = frozenset({"leak-rule", "mend-by", "recheck-by", "tonnes", "check-every"})

_HELD = {
    TIGHT: "tight",
    LEAKING[0]: "it fell, so it leaks",
    LEAKING[1]: "bubbles, so it leaks",
    "not proven": "cut short, proves nothing",
    "given up": "not finished, proves nothing",
}
_DRY = {"dry": "dry", "leaking": "it climbs on, so it leaks", "not proven": "cut short, proves nothing"}
_VACUUM = "evacuation"


def days(account: Account, circuit: str) -> list[str]:
    """``leak search: 30 November 2026``: each day that was agreed, none that was over; and what stood in the way."""
    agreed = []
    for reading, what in _DAYS.items():
        given = _given(account, circuit, reading)
        day = None if given is None else quantity(given.event["value"])
        if given is not None and day is not None and iso_date(day.si) >= given.at[:10]:
            agreed.append((day.si, f"{what}: {long_date(day.si)}"))
    reason = _value(account, circuit, _NOT_NOW)
    return [text for _, text in sorted(agreed)] + ([f"not mended yet: {shown(reason)}"] if reason else [])


def choice(account: Account, circuit: str) -> str:
    """What the customer chose when both prices lay before him; empty where he was not asked."""
    given = _value(account, circuit, _CHOICE)
    said = "" if given is None else str(from_json(given))
    return _CHOICES.get(said, said)


def rules(account: Account, wording: Wording, circuit: str) -> list[str]:
    """What the rules of the place ask, as it was told there; each once."""
    told = []
    for entry in account.of("done", circuit=circuit):
        step = wording.step(entry.place)
        if isinstance(step, Do) and any(isinstance(part, Name) and part.name in _OF_RULES for part in step.tell.parts):
            told.append(filled(account, wording, step.tell, entry))
    return list(dict.fromkeys(told))


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
    last = _given(account, circuit, "last-sniff")
    if last is not None:
        yield f"last sniff: {shown(last.event['value'])}"


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
