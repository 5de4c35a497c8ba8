"""The first page: what the customer and the lead read. Everything else stands behind it, in the details."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tui.desk.laid_over import in_words as laid_over_in_words
from tui.desk.leak import SHORT
from tui.quantity import Kind
from tui.record import Reading
from tui.review import agreed, gas, job, taken, unusual, work
from tui.review.account import Account
from tui.review.page import Page
from tui.review.wording import Wording, sentence, shown
from tui.walk.kinds import spoken

BLANK = "_" * 50
_SIGNED = f"{'_' * 32}  Day {'_' * 12}"
_NO_CAUSE = (job.OPEN, "refrigeration-is-well")


def front(page: Page, account: Account, wording: Wording, reading: Reading) -> None:
    """Whose unit and when; the result, first in the customer's words; refrigerant; what is left to do; signatures."""
    _head(page, account, wording, reading)
    leaks = gas.leaks(reading, account, wording)
    for circuit in _parts(account):
        _result(page, account, wording, circuit, leaks.get(circuit, ""))
    _done(page, account, wording)
    _refrigerant(page, account, wording, reading)
    _left(page, account, wording, reading)
    page.heading("Signed")
    page.rows({"Technician": _SIGNED, "Customer": _SIGNED})


def of_unit(account: Account, wording: Wording) -> dict[str, str]:
    """What is known of the whole unit, by its label."""
    known = {spoken(name): shown(value) for name, value in account.opened.get("known", {}).get("unit", {}).items()}
    return known | taken.takes(account, lambda entry, name: taken.of_unit(wording, entry, name))


def in_words(wording: Wording, label: str) -> bool:
    """Whether a reading of the unit is what somebody said in his own words, as a complaint is."""
    asked = wording.asked(label.replace(" ", "-"))
    return asked is not None and asked.kind is Kind.TEXT and not asked.set_ and not asked.answers


def _head(page: Page, account: Account, wording: Wording, reading: Reading) -> None:
    told = of_unit(account, wording)
    page.heading("Service sheet")
    page.rows(
        {
            "Unit": _had(told.get("unit", "")) or str(account.opened.get("unit", "")) or "no tag given",
            "Job": _had(told.get("job", "")),
            "Date": job.date_of(account),
            "Technician": str(account.opened.get("technician", "")) or "no id given",
            "Circuits": ", ".join(account.circuits) if len(account.circuits) > 1 else "",
        }
    )
    said = {label: text for label, text in told.items() if label not in job.IN_HEAD and in_words(wording, label)}
    page.rows({sentence(label): text for label, text in said.items() if not text.startswith(taken.NOT_HAD)})
    altered = reading.state == "altered" and not any(account.of("closed"))
    ended = "not known: from there on the record is not as it was written" if altered else job.ended(account)
    page.rows({"Ended": ended, "Record": f"{reading.state}: {reading.message}"})
    for laid in account.opened.get("laid_over", ()):
        page.row("Trees", f"over those of lowside: {laid_over_in_words(laid, briefly=True)}")
    if any(entry.event.get("by") for entry in account.entries):
        page.row("Answers", "came out of a file, not from a person at the unit.")


def _had(text: str) -> str:
    return "" if text.startswith(taken.NOT_HAD) else text


# ---- the result


def _parts(account: Account) -> list[str]:
    """The circuits; and the unit, where something was found on it or it has none."""
    unit = any(account.of("finding", "own-finding", circuit="")) or not account.circuits
    return [part for part in ["", *account.circuits] if part or unit]


def _named(account: Account, circuit: str, label: str) -> str:
    """The label of a row, with its circuit where there are several."""
    return f"{label}, {circuit or 'unit'}" if len(_parts(account)) > 1 else label


def _result(page: Page, account: Account, wording: Wording, circuit: str, leak: str) -> None:
    last = _left_open(account, circuit)
    page.heading(_named(account, circuit, "Result"))
    page.rows(
        {
            "For the customer": list(_for_the_customer(account, wording, circuit, leak)),
            "Found": sentence(job.result(account, wording, circuit)),
            "It could be": "; ".join(map(wording.cause, last.get("could_be", ()))),
            "To tell them apart": last.get("told_apart", ""),
            "Seen": [f"{entry.when}  {entry.event['seen']}" for entry in job.in_front(account, circuit)],
        }
    )


def _left_open(account: Account, circuit: str) -> Mapping[str, Any]:
    """The finding that says what it still could be: the last, or where that is but a stop, the last open one before it.

    A repair that was put off does not settle what was not told apart; a cause that was found since does.
    """
    findings: list[Mapping[str, Any]] = [entry.event for entry in account.of("finding", circuit=circuit)]
    settled = [event for event in findings if event["cause"] != job.OPEN or event.get("could_be")]
    return next(reversed(settled or findings), {})


def _for_the_customer(account: Account, wording: Wording, circuit: str, leak: str) -> Iterator[str]:
    """Without trade words: what was found, and where the walk found more than one thing, in which order.

    leak: how its leak stands at the end of the visit.
    """
    findings = [entry.event for entry in account.of("finding", circuit=circuit)]
    last = findings[-1] if findings else {}
    found = list(dict.fromkeys(str(event["cause"]) for event in findings))

    def told(cause: str) -> str:
        return leak if leak and cause == SHORT else wording.customer(cause)

    earlier = [cause for cause in found if cause not in (*_NO_CAUSE, last["cause"])]
    for cause in earlier:
        yield f"First: {told(cause)}"
    if last:
        yield f"{'At the end: ' if earlier else ''}{last.get('customer') or told(str(last['cause']))}"
    for entry in account.of("own-finding", circuit=circuit):
        if entry.event["cause"] not in found:
            yield f"By the technician's own finding: {told(str(entry.event['cause']))}"


# ---- what was done


def _done(page: Page, account: Account, wording: Wording) -> None:
    page.heading("What was done")
    done = {each: work.in_short(account, wording, each) for each in ["", *account.circuits]}
    page.rows({_named(account, each, "Work"): sentence(text) for each, text in done.items()})
    if not any(done.values()):
        page.row("Work", "Looked at and measured. No work on the circuit.")
    page.rows({_named(account, each, "Put right"): _put_right(account, each) for each in ["", *account.circuits]})
    page.rows({"To be looked at": "; ".join(unusual.counts(account))})


def _put_right(account: Account, circuit: str) -> str:
    """``yes - fan motor replaced``: what the technician says he did about what was found, each time; often no work."""
    said: list[str] = []
    for entry in account.of("answered", "told", circuit=circuit):
        if entry.event.get("reading") == "put-right":
            said.append(shown(entry.event["value"]))
        elif entry.event.get("reading") == "put-right-how":
            said.append(f"{said.pop() + ' - ' if said else ''}{shown(entry.event['value'])}")
    return "; ".join(said)


def _refrigerant(page: Page, account: Account, wording: Wording, reading: Reading) -> None:
    page.heading("Refrigerant")
    moved = gas.moved(reading, account, wording, tests=True)
    up_to_there = " as far as the record goes" if reading.state in ("altered", "torn") else ""
    for circuit in account.circuits:
        what = moved[circuit] or f"none went in or out{up_to_there}"
        page.row(sentence(circuit), f"{gas.plate(account, wording, circuit)}; {what}")
    if not account.circuits:
        page.row("Circuits", "none was looked at")
    for circuit in account.circuits:
        page.rows({_named(account, circuit, "Leak check"): agreed.leak_check(account, circuit)})
        page.rows({_named(account, circuit, "Rules"): agreed.rules(account, wording, circuit)})
    if any(gas.touched(account, circuit) for circuit in account.circuits):
        page.rows({"Cylinder numbers": BLANK, "Certificate number": BLANK})


# ---- what is left to do


def _left(page: Page, account: Account, wording: Wording, reading: Reading) -> None:
    page.heading("Left to do")
    page.rows({"Stopped": _stopped(account, wording)})
    parts = _parts(account)
    for circuit in parts:
        _next(page, account, wording, circuit)
        if gas.is_out(reading, account, wording, circuit):
            since = "Recovered" if gas.was_recovered(account, circuit) else "Found empty"
            page.row(_named(account, circuit, "NOT CHARGED"), f"{since}, and nothing was put in since.")
    noted: dict[str, list[str]] = {}
    for entry in account.of("noted"):
        noted.setdefault(str(entry.event.get("about", "")), []).append(f"{entry.time}  {entry.event['text']}")
    told = set(noted)
    for circuit in parts:
        of = f"{circuit}, " if len(account.circuits) > 1 else ""
        noted.setdefault("follow-up", []).extend(of + text for text in agreed.days(account, wording, circuit))
        chosen = agreed.choice(account, circuit)
        if chosen and "customer" not in told:
            noted.setdefault("customer", []).append(of + chosen)
    for about, label in (("follow-up", "Follow-up, which day"), ("parts", "Parts"), ("customer", "Customer agreed to")):
        page.row(label, *(noted.get(about) or [BLANK]))


def _next(page: Page, account: Account, wording: Wording, circuit: str) -> None:
    """What the last finding says comes next, with its time where work was done after it; what is on or out."""
    last = next(reversed(list(account.of("finding", circuit=circuit))), None)
    if last is not None:
        later = any(entry.n > last.n for entry in account.of("done", circuit=circuit))
        label = f"Next, as of {last.time}" if later else "Next"
        page.row(_named(account, circuit, label), str(last.event["next"]))
    page.rows({_named(account, circuit, "STILL ON"): ", ".join(work.left_on(account, wording, circuit))})


def _stopped(account: Account, wording: Wording) -> str:
    """Where the walk stood when the visit was left or closed before its end."""
    if not job.ended(account):
        return ""
    closing = next((entry.n for entry in account.of("closing")), None)
    after, tree = job.stopped(account, wording, closing)
    return f"{after}{tree}"
