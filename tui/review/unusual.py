"""What a lead asks about in a visit: what was left behind, what was held against the walk, what was unusual."""

from __future__ import annotations

from collections.abc import Iterator

from tui.record import Reading
from tui.review import gas, work
from tui.review.account import Account
from tui.review.wording import Wording, counted

STILL_ON = "STILL ON"


def counts(account: Account) -> Iterator[str]:
    """What was out of the ordinary, counted; each is told in the details of its sheet."""
    waits = list(account.of("waited"))
    cut = sum(map(work.cut_short, waits))
    if cut:
        yield f"{cut} of {counted(len(waits), 'wait', 'waits')} cut short"
    said = [each for entry in account.of("finding") for each in entry.event["evidence"] if each.get("close")]
    lacking = [bool(e.event.get("reading") or e.event.get("readings")) for e in account.of("couldn't")]
    for count, one, many in (
        (len({str(each["what"]) for each in said if "what" in each}), "verdict stayed close", "verdicts stayed close"),
        (len(list(account.of("overruled"))), "verdict overruled", "verdicts overruled"),
        (len(list(account.of("corrected"))), "reading corrected", "readings corrected"),
        (sum("value" in each.event for each in account.withdrawn), "reading taken back", "readings taken back"),
        (sum(lacking), "reading not had", "readings not had"),
        (len(lacking) - sum(lacking), "step not done", "steps not done"),
        (len(list(account.of("photographed"))), "photo", "photos"),
    ):
        if count:
            yield counted(count, one, many)


def left_behind(reading: Reading, account: Account, wording: Wording) -> Iterator[str]:
    """What a visit left on, open or empty, by circuit."""
    for circuit in account.parts:
        of = f" ({circuit})" if circuit and len(account.circuits) > 1 else ""
        on = ", ".join(work.left_on(account, wording, circuit))
        if on:
            yield f"{STILL_ON}: {on}{of}"
        if circuit and gas.is_out(reading, account, wording, circuit):
            yield f"not charged{of}"


def first_to_ask(account: Account) -> Iterator[str]:
    """What the technician held against the walk: verdicts overruled, proofs cut, a finding of his own."""
    waits = list(account.of("waited"))
    cut = sum(map(work.cut_short, waits))
    if cut:
        yield f"{cut} of {counted(len(waits), 'wait', 'waits')} cut short"
    overruled = len(list(account.of("overruled")))
    if overruled:
        yield counted(overruled, "verdict overruled", "verdicts overruled")
    own = len(list(account.of("own-finding")))
    if own:
        yield counted(own, "finding of the technician's own", "findings of the technician's own")
