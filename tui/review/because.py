"""Why: what a decision saw, in the words and figures that stood when it was taken."""

from __future__ import annotations

from collections.abc import Iterator

from tui.quantity import Kind
from tui.review.account import Account, Entry
from tui.review.filled import NOT_KNOWN, latest, value_at
from tui.review.wording import VERDICTS, Wording, figure, names_of, quantity
from tui.tree.classes import EQUIPMENT
from tui.tree.model import Is, Name
from tui.walk.evidence import row_of
from tui.walk.kinds import spoken
from tui.walk.prompt import Row
from tui.walk.rows import taken

_FEW = 8  # causes that a person still reads one by one
OUT, TURNED_FROM, UNSEEN = "out", "turned from", "unseen"


def seen_at(account: Account, wording: Wording, finding: Entry, place: str) -> str:
    """What was decided on at ``tree/step`` on the way to a finding; empty where nothing is known of it."""
    routed = account.latest(place, finding.circuit, finding.n, "routed")
    if routed is None:
        left = _left_at(account, finding, place)
        return "" if left is None else f"{wording.tree(left.event['tree'])}: {spoken(left.event['outcome'])}"
    rows = [str(row) for row in routed.event["rows"]]
    said = [_said(account, wording, name, routed) for name in names_of(wording.step(place), rows)]
    return "; ".join(text for text in said if text) or taken(wording.step(place), rows)


def _left_at(account: Account, finding: Entry, place: str) -> Entry | None:
    step = place.partition("/")[2]
    found = [e for e in account.of("left", circuit=finding.circuit) if e.event["step"] == step and e.n < finding.n]
    return found[-1] if found else None


def _said(account: Account, wording: Wording, name: str, at: Entry) -> str:
    """``superheat level: high (34.9 dF)`` as it stood before an event; empty if it never was known."""
    found = latest(account, wording, name, at)
    if found is None or found.kind != "judged":
        stood = value_at(account, wording, name, at)
        return f"{spoken(name)}: {stood}" if stood else ""
    value, verdict = found.event.get("value"), found.event["verdict"]
    beside = f" ({figure(value, account.units)})" if value is not None else ""
    return f"{spoken(name)}: {VERDICTS.get(verdict, verdict) if verdict else NOT_KNOWN}{beside}"


def decided_at(finding: Entry) -> str:
    """The last decision before a finding, as ``tree/step``; empty if there was none."""
    decided = [str(said["at"]) for said in finding.event["evidence"] if "to" in said]
    return decided[-1] if decided else ""


def ruled_out(account: Account, wording: Wording, findings: list[Entry]) -> Iterator[tuple[str, str, str]]:
    """(what was seen, causes in words, how) of all that findings ruled out.

    `how` is OUT; TURNED_FROM where the last decision, or one by the eye over many causes at once, only went another
    way, which is less than ruled out; UNSEEN where nothing that was decided on was known.
    """
    found = {str(cause) for finding in findings for cause in (finding.event["cause"], *finding.event["could_be"])}
    places: dict[str, dict[str, Entry]] = {}
    alone: dict[str, dict[str, None]] = {}
    for finding in findings:
        for each in finding.event["ruled_out"]:
            excluded = _excluded(account, wording, finding, str(each["cause"]))
            if each["cause"] not in found and excluded:
                alone.setdefault(excluded, {})[str(each["cause"])] = None
            elif each["cause"] not in found:
                places.setdefault(str(each["at"]), {})[str(each["cause"])] = finding
    yield from ((seen, "; ".join(map(wording.cause, causes)), OUT) for seen, causes in alone.items())
    how = {at: _how(account, wording, next(iter(there.values())), at, len(there)) for at, there in places.items()}
    told = {cause for causes in alone.values() for cause in causes}
    for place in sorted(places, key=lambda at: (OUT, TURNED_FROM, UNSEEN).index(how[at])):  # each once, where surest
        causes = {cause: finding for cause, finding in places[place].items() if cause not in told}
        told |= causes.keys()
        if causes:
            finding = next(iter(causes.values()))
            yield seen_at(account, wording, finding, place), "; ".join(map(wording.cause, causes)), how[place]


def _excluded(account: Account, wording: Wording, finding: Entry, cause: str) -> str:
    """``compressor runs: runs steadily``: the reading that excludes a cause by itself; empty where none does.

    A walk notes such a cause as gone at its next decision, whatever that one looks at.
    """
    found = None if wording.catalogue is None else wording.catalogue.causes.get(cause)
    if found is None:
        return ""
    test = found.not_when
    tests = [(EQUIPMENT, tuple(found.not_on))]
    if isinstance(test, Is) and isinstance(test.subject, Name) and not test.negated:
        tests.insert(0, (test.subject.name, test.words))
    for name, words in tests:
        stood = value_at(account, wording, name, finding)
        if stood and stood in words:
            return f"{spoken(name)}: {stood}"
    return ""


def _how(account: Account, wording: Wording, finding: Entry, place: str, causes: int) -> str:
    routed = account.latest(place, finding.circuit, finding.n, "routed")
    rows = [] if routed is None else [str(row) for row in routed.event["rows"]]
    names = names_of(wording.step(place), rows)
    seen = [] if routed is None else [latest(account, wording, name, routed) for name in names]
    judged = [entry for entry in seen if entry is not None and entry.kind == "judged"]
    if judged and len(judged) == len(seen) and all(entry.event["verdict"] is None for entry in judged):
        return UNSEEN
    by_eye = bool(names) and not judged and causes > _FEW
    return TURNED_FROM if by_eye or place == decided_at(finding) else OUT


def measured(account: Account, finding: Entry, since: int) -> Iterator[str]:
    """What was judged not as wanted on the way to a finding, after the event `since`; and what became of it."""
    places: dict[str, list[Entry]] = {}
    for entry in account.of("judged", circuit=finding.circuit):
        if since < entry.n < finding.n:
            places.setdefault(entry.place, []).append(entry)
    for entries in places.values():
        odd = next((e for e in entries if e.event["verdict"] not in (None, "on") and not _of_time(e)), None)
        if odd is not None:
            yield _became(row_of(dict(odd.event), account.units), row_of(dict(entries[-1].event), account.units))


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
    """What stays possible beside a finding; where it is nearly everything, how much, since when, what would tell."""
    causes = finding.event["still_possible"]
    if len(causes) <= _FEW:
        return "; ".join(map(wording.cause, causes))
    routed = account.of("routed", circuit=finding.circuit)
    left_open = [e for e in routed if e.n < finding.n and (e.event.get("unsettled") or e.event.get("elsewhere"))]
    trees = "; ".join(dict.fromkeys(wording.tree(str(entry.event["tree"])) for entry in left_open))
    text = f"{len(causes)} more causes, for a decision on the way stayed open{f' ({trees})' if trees else ''}"
    tell = "; ".join(dict.fromkeys(each for entry in left_open for each in would_tell(account, wording, entry)))
    return f"{text}. What would tell: {tell}" if tell else text


def would_tell(account: Account, wording: Wording, routed: Entry) -> Iterator[str]:
    """What a decision that stayed open lacked: readings that were not had or not asked, verdicts too near a limit."""
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
        yield name, f"not had: {gone[-1].event['reason']}" if gone else "not asked"
    for each in sorted(behind):
        if not value_at(account, wording, each, at):
            yield from _lacking(account, wording, each, at, seen | behind)


def _names(couldnt: Entry, reading: str) -> bool:
    return reading == couldnt.event.get("reading") or reading in couldnt.event.get("readings", ())


def stayed_close(finding: Entry) -> Iterator[str]:
    """What was too near a limit to be sure, with the other verdict."""
    for said in finding.event["evidence"]:
        if said.get("close") and "measured" in said:
            wanted = f"wanted {said['wanted']}"
            yield f"{said['what']} {said['measured']}, {wanted}: {said['says']}, could be {said['close']}"
