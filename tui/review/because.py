"""Why: what a decision saw, in the words and figures that stood when it was taken."""

from __future__ import annotations

from collections.abc import Iterator

from tui.quantity import Kind
from tui.review.account import Account, Entry
from tui.review.filled import latest, value_at
from tui.review.taken import of_plate
from tui.review.wording import VERDICTS, Wording, figure, names_of, quantity
from tui.tree.classes import EQUIPMENT
from tui.tree.model import UNKNOWN, Is, Name
from tui.walk.evidence import row_of
from tui.walk.kinds import spoken
from tui.walk.prompt import Row
from tui.walk.rows import taken

CANNOT, WELL = "cannot-tell", "refrigeration-is-well"  # of a finding that names no cause, or no fault
_FEW = 8  # causes that a person still reads one by one
OUT, TURNED_FROM, UNSEEN = "out", "turned from", "unseen"


def seen_at(account: Account, wording: Wording, finding: Entry, place: str) -> str:
    """What was decided on at ``tree/step`` on the way to a finding; empty where nothing is known of it.

    What was not known stands there only where nothing else was.
    """
    routed = account.latest(place, finding.circuit, finding.n, "routed")
    if routed is None:
        left = _left_at(account, finding, place)
        return "" if left is None else f"{wording.tree(left.event['tree'])}: {spoken(left.event['outcome'])}"
    rows = [str(row) for row in routed.event["rows"]]
    names = names_of(wording.step(place), rows)
    looked = (name for name in names if not _is_note(wording, name))
    said = {name: text for name in looked if (text := _said(account, wording, name, routed))}
    known = [text for name, text in said.items() if not _is_figure(wording, name)] or list(said.values())
    missing = [spoken(name) for name in names if _is_asked(wording, name)]
    if known or not names:
        return "; ".join(known) or taken(wording.step(place), rows)
    return f"not known: {', '.join(missing)}" if missing else ""


def _is_figure(wording: Wording, name: str) -> bool:
    return wording.catalogue is not None and name in wording.catalogue.figures


def _is_asked(wording: Wording, name: str) -> bool:
    """Whether a person can be asked for it; what a tree only notes for itself says nothing where it is not known."""
    reading = wording.asked(name)
    return reading is None or bool(reading.ask)


def _is_note(wording: Wording, name: str) -> bool:
    """Whether a tree only noted it for itself, as that a tube was pierced: no person reads anything in its number."""
    reading = wording.asked(name)
    return reading is not None and not reading.ask and reading.kind is Kind.NUMBER


def _left_at(account: Account, finding: Entry, place: str) -> Entry | None:
    step = place.partition("/")[2]
    found = [e for e in account.of("left", circuit=finding.circuit) if e.event["step"] == step and e.n < finding.n]
    return found[-1] if found else None


def _said(account: Account, wording: Wording, name: str, at: Entry) -> str:
    """``superheat level: high (34.9 dF)`` as it stood before an event; empty where it was not known."""
    found = latest(account, wording, name, at)
    if found is None or found.kind != "judged":
        stood = value_at(account, wording, name, at)
        return f"{spoken(name)}: {stood}" if stood else ""
    value, verdict = found.event.get("value"), found.event["verdict"]
    beside = f" ({figure(value, account.units)})" if value is not None else ""
    return f"{spoken(name)}: {VERDICTS.get(verdict, verdict)}{beside}" if verdict else ""


def decided_at(finding: Entry) -> str:
    """The last decision before a finding, as ``tree/step``; empty if there was none."""
    return next(_decided(finding), "")


def _decided(finding: Entry) -> Iterator[str]:
    """The decisions on the way to a finding, the last first."""
    return (str(said["at"]) for said in reversed(finding.event["evidence"]) if "to" in said)


def decided_by(account: Account, wording: Wording, finding: Entry) -> str:
    """What the last decision that looked at the unit itself saw; empty where there was none.

    A decision by a plate, a day or the history alone parts what comes next, and found nothing. It is told where a
    finding names no cause, or where there was no other.
    """
    told = [(place, text) for place in _decided(finding) if (text := seen_at(account, wording, finding, place))]
    if not told or (finding.event["cause"] == CANNOT and not told[0][1].startswith(f"{spoken(EQUIPMENT)}: ")):
        return told[0][1] if told else ""
    return next((text for place, text in told if _saw_the_unit(account, wording, finding, place)), told[0][1])


def _saw_the_unit(account: Account, wording: Wording, finding: Entry, place: str) -> bool:
    """Whether a decision stood on something read, seen or judged on this visit."""
    routed = account.latest(place, finding.circuit, finding.n, "routed")
    if routed is None:
        return False
    names = names_of(wording.step(place), [str(row) for row in routed.event["rows"]])
    looked = [name for name in names if not _is_note(wording, name)]
    return not names or any(_is_seen(wording, name, latest(account, wording, name, routed)) for name in looked)


def _is_seen(wording: Wording, name: str, given: Entry | None) -> bool:
    """Whether what gave a name its value looked at the unit: no plate, no history, no day."""
    if given is None or given.kind == "judged":
        return given is not None and given.event["verdict"] is not None
    value = quantity(given.event.get("value"))
    return not of_plate(wording.asked(name)) and not (value is not None and value.kind is Kind.DATE)


def ruled_out(account: Account, wording: Wording, findings: list[Entry]) -> Iterator[tuple[str, str, str]]:
    """(what was seen, causes in words, how) of all that findings ruled out; each cause once, where surest.

    `how` is OUT; TURNED_FROM where the last decision, or one by the eye, only went another way, which is less than
    ruled out; UNSEEN where what was decided on was not known, or was no look at the unit.
    """
    found = {str(cause) for finding in findings for cause in (finding.event["cause"], *finding.event["could_be"])}
    found.add(WELL)  # it is no fault that could be ruled out
    places: dict[str, dict[str, Entry]] = {}
    alone: dict[str, dict[str, None]] = {}
    for finding in findings:
        for each in finding.event["ruled_out"]:
            excluded = _excluded(account, wording, finding, str(each["cause"]))
            if each["cause"] not in found and excluded:
                alone.setdefault(excluded, {})[str(each["cause"])] = None
            elif each["cause"] not in found:
                places.setdefault(str(each["at"]), {})[str(each["cause"])] = finding
    at_place = {at: next(iter(there.values())) for at, there in places.items()}
    said = {at: seen_at(account, wording, finding, at) for at, finding in at_place.items()}
    how = {at: _how(account, wording, finding, at) for at, finding in at_place.items()}
    groups = {(OUT, seen): causes for seen, causes in alone.items()}
    told = {cause for causes in alone.values() for cause in causes}
    for place in sorted(places, key=lambda at: (OUT, TURNED_FROM, UNSEEN).index(how[at])):
        causes = {cause: None for cause in places[place] if cause not in told}
        told |= causes.keys()
        if causes:
            seen = "" if how[place] == UNSEEN else said[place]
            groups.setdefault((how[place], seen), {}).update(causes)
    yield from ((seen, "; ".join(map(wording.cause, causes)), how) for (how, seen), causes in groups.items())


def _excluded(account: Account, wording: Wording, finding: Entry, cause: str) -> str:
    """``compressor runs: runs steadily``: what excludes a cause by itself, read or noted; empty where nothing does.

    A walk notes such a cause as gone at its next decision, whatever that one looks at.
    """
    found = None if wording.catalogue is None else wording.catalogue.causes.get(cause)
    if found is None:
        return ""
    test = found.not_when
    tests = [(EQUIPMENT, tuple(found.not_on))]
    if isinstance(test, Is) and isinstance(test.subject, Name):
        noted = test.subject.name if test.negated and test.words == (UNKNOWN,) else ""
        if noted and value_at(account, wording, noted, finding):
            return spoken(noted)
        tests.insert(0, (test.subject.name, () if test.negated else test.words))
    for name, words in tests:
        stood = value_at(account, wording, name, finding)
        if stood and stood in words:
            return f"{spoken(name)}: {stood}"
    return ""


def _how(account: Account, wording: Wording, finding: Entry, place: str) -> str:
    routed = account.latest(place, finding.circuit, finding.n, "routed")
    names = [] if routed is None else names_of(wording.step(place), [str(row) for row in routed.event["rows"]])
    seen = [] if routed is None else [latest(account, wording, name, routed) for name in names]
    if names and not any(_is_seen(wording, name, entry) for name, entry in zip(names, seen, strict=True)):
        return UNSEEN
    by_eye = bool(names) and not any(_is_measure(each) for each in seen if each is not None)
    return TURNED_FROM if by_eye or place == decided_at(finding) else OUT


def _is_measure(given: Entry) -> bool:
    """Whether it was measured or judged by a measure, not seen or heard."""
    return given.kind == "judged" or quantity(given.event.get("value")) is not None


def measured(account: Account, finding: Entry, since: int) -> Iterator[str]:
    """What was judged not as wanted on the way to a finding, after the event `since`; and what became of it."""
    places: dict[str, list[Entry]] = {}
    for entry in account.of("judged", circuit=finding.circuit):
        if since < entry.n < finding.n:
            places.setdefault(entry.place, []).append(entry)
    odd = ((next(filter(_is_odd, entries), None), entries[-1]) for entries in places.values())
    rows = ((row_of(dict(e.event), account.units), row_of(dict(last.event), account.units)) for e, last in odd if e)
    yield from dict.fromkeys(_became(first, last) for first, last in rows)


def _is_odd(judged: Entry) -> bool:
    return judged.event["verdict"] not in (None, "on") and not _of_time(judged)


def _of_time(judged: Entry) -> bool:
    """Whether a time was judged, as that of a hold: it says nothing of the unit."""
    value = quantity(judged.event.get("value"))
    return value is not None and value.kind is Kind.TIME_SPAN


def _became(odd: Row, last: Row) -> str:
    text = f"{odd.name} {odd.measured}, wanted {odd.wanted}: {odd.says}"
    if last.measured == odd.measured:
        return text
    return f"{text}; at the end {last.measured}: {VERDICTS.get(last.says, last.says)}"


def not_excluded(account: Account, wording: Wording, finding: Entry) -> str:
    """What stays possible beside a finding; where it is nearly everything, how much, since when, what would tell.

    Empty where the unit is well: no fault is left to be excluded.
    """
    causes = finding.event["still_possible"]
    if finding.event["cause"] == WELL:
        return ""
    if len(causes) <= _FEW:
        return "; ".join(map(wording.cause, causes))
    routed = account.of("routed", circuit=finding.circuit)
    left_open = [e for e in routed if e.n < finding.n and (e.event.get("unsettled") or e.event.get("elsewhere"))]
    tells = {entry.n: list(would_tell(account, wording, entry)) for entry in left_open}
    lacking = [entry for entry in left_open if tells[entry.n]] or left_open
    # what follows a dash in a title only explains it
    trees = dict.fromkeys(wording.tree(str(entry.event["tree"])).partition(" - ")[0] for entry in lacking)
    where = f" ({'; '.join(trees)})" if trees else ""
    text = f"{len(causes)} more causes, for a decision on the way stayed open{where}"
    tell = "; ".join(dict.fromkeys(each for entry in lacking for each in tells[entry.n]))
    return f"{text}. What would tell: {tell}" if tell else text


def would_tell(account: Account, wording: Wording, routed: Entry) -> Iterator[str]:
    """What a decision that stayed open lacked: readings not had, measurements not asked, verdicts too near a limit."""
    names = names_of(wording.step(routed.place), [str(row) for row in routed.event["rows"]])
    for name in names:
        found = latest(account, wording, name, routed)
        if found is not None and found.event.get("close"):
            yield f"{row_of(dict(found.event), account.units).name}, measured closer"
        elif not value_at(account, wording, name, routed):
            yield from (f"{spoken(each)} ({why})" for each, why in _lacking(account, wording, name, routed))


def _lacking(
    account: Account, wording: Wording, name: str, at: Entry, seen: frozenset[str] = frozenset()
) -> Iterator[tuple[str, str]]:
    """The readings behind a name that nobody gave, each with why."""
    behind = wording.behind(name, str(at.event["tree"])) - seen
    if not behind:
        gone = [e for e in account.of("couldn't", circuit=at.circuit) if e.n < at.n and _names(e, name)]
        if gone:
            yield name, f"not had: {gone[-1].event['reason']}"
        elif _is_measured(wording, name):
            yield name, "not asked"
    for each in sorted(behind):
        if not value_at(account, wording, each, at):
            yield from _lacking(account, wording, each, at, seen | behind)


def _is_measured(wording: Wording, name: str) -> bool:
    """Whether an instrument could give it; a question that was not asked had nothing to do with this unit."""
    reading = wording.asked(name)
    return reading is not None and reading.instrument is not None and not of_plate(reading)


def _names(couldnt: Entry, reading: str) -> bool:
    return reading == couldnt.event.get("reading") or reading in couldnt.event.get("readings", ())


def stayed_close(finding: Entry) -> Iterator[str]:
    """What was too near a limit to be sure, with the other verdict."""
    for said in finding.event["evidence"]:
        if said.get("close") and "measured" in said:
            wanted = f"wanted {said['wanted']}"
            yield f"{said['what']} {said['measured']}, {wanted}: {said['says']}, could be {said['close']}"
