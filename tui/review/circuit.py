"""One circuit's part: what was found and why, its plate, readings, verdicts, work and refrigerant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from tui.quantity import Kind
from tui.review import gas, job, taken, work
from tui.review.account import Account, Entry
from tui.review.because import (
    OUT,
    TURNED_FROM,
    UNSEEN,
    decided_by,
    measured,
    not_excluded,
    ruled_out,
    stayed_close,
)
from tui.review.page import Page
from tui.review.searched import place_of, searched
from tui.review.wording import VERDICTS, Wording, quantity, sentence
from tui.walk.evidence import row_of
from tui.walk.kinds import spoken
from tui.walk.opening import put_right
from tui.walk.prompt import Row

NOT_HAD, _NO_LIMIT = "not had", "unknown"  # as a row has what was not measured, and what had nothing to compare with
_WORDS = {"low": "LOW", "high": "HIGH", **VERDICTS}
_OF_TIME = {"LOW": "SHORTER", "HIGH": "LONGER"}
_RULED_OUT = {
    OUT: "Ruled out on the way",
    TURNED_FROM: "Not followed once that was seen",
    UNSEEN: "Passed without being seen, so not ruled out",
}


class Part:
    """The part of one circuit, section by section."""

    def __init__(self, page: Page, account: Account, wording: Wording, circuit: str) -> None:
        self.page = page
        self.account = account
        self.wording = wording
        self.circuit = circuit
        self.findings = list(account.of("finding", circuit=circuit))
        self.in_front = job.in_front(account, circuit)

    def write(self) -> None:
        """All its sections; those that would be empty are left out."""
        self._found()
        self._own()
        self._refrigerant()
        self._work()
        self._ruled_out()
        self._searched()
        self._plate()
        self._readings()
        self._judged()

    def _heading(self, text: str) -> None:
        self.page.heading(f"{self.circuit or 'unit'}: {text}")

    # ---- findings

    def _found(self) -> None:
        since = 0
        close: set[str] = set()
        for number, finding in enumerate(self.findings, 1):
            count = f" {number} of {len(self.findings)}" if len(self.findings) > 1 else ""
            self._heading(f"Why{count}, {finding.when}")
            said = [text for text in stayed_close(finding) if text not in close]
            close |= set(said)
            self._finding(finding, since, said)
            since = finding.n

    def _finding(self, finding: Entry, since: int, close: list[str]) -> None:
        event, words = finding.event, self.wording
        last = finding is self.findings[-1]
        self.page.rows(
            {
                "Cause": words.cause(event["cause"]),
                "It could be": "" if last else "; ".join(map(words.cause, event["could_be"])),
                "Seen": "" if finding in self.in_front else event["seen"],
                "Not as wanted": list(measured(self.account, finding, since)),
                "Decided by": decided_by(self.account, words, finding),
                "Stayed close": close,
                "Not excluded": not_excluded(self.account, words, finding),
                "To tell them apart": "" if last else event["told_apart"],
                "Next": "" if last else event["next"],
                "Offered to go on": self._offered(finding),
            }
        )

    def _offered(self, finding: Entry) -> str:
        later = (e for e in self.account.of("offered", circuit=self.circuit) if e.n > finding.n)
        offered = next((e for e in later if e.place == finding.event["where"]), None)
        if offered is None:
            return ""
        tree = getattr(self.wording.step(offered.place), "offer", None)
        name = str(offered.event.get("title", "")) or (self.wording.tree(tree) if tree else "")
        return f"{name}: {'yes' if offered.event['accepted'] else 'not now'}".lstrip(": ")

    def _own(self) -> None:
        own = list(self.account.of("own-finding", circuit=self.circuit))
        if own:
            self._heading("The technician's own finding")
        for entry in own:
            self.page.row(entry.time, f"{self.wording.cause(entry.event['cause'])}: {entry.event['reason']}")

    def _ruled_out(self) -> None:
        groups = list(ruled_out(self.account, self.wording, self.findings))
        for how, title in _RULED_OUT.items():
            rows = [(seen, causes) for seen, causes, found in groups if found == how]
            if rows:
                self._heading(title)
            for seen, causes in rows:
                self.page.item(f"{causes}. Seen: {seen}." if seen else f"{causes}.")

    # ---- readings and verdicts

    def _searched(self) -> None:
        rows = searched(self.account, self.circuit)
        if rows:
            self._heading("Places searched, in this order")
        for said, places in groupby(rows, key=lambda row: row[1]):
            self.page.item(f"{sentence(', '.join(place for place, _ in places))}: {said}")

    def _plate(self) -> None:
        known = self._known_before()
        rows = taken.takes(self.account, lambda entry, name: self._mine(entry, name) and self._of_plate(name))
        if known or rows:
            self._heading("Plate and build")
            self.page.pairs({sentence(label): text for label, text in (known | rows).items()})

    def _known_before(self) -> dict[str, str]:
        """What was known when the visit began, and from where."""
        opened = self.account.opened
        known = {}
        for item in opened.get("history", []):
            if item["circuit"] == self.circuit and self._of_plate(item["reading"]):
                text = self.wording.value(item["reading"], item["value"])
                source = "corrected on this visit" if put_right(opened, item) else "from an earlier visit"
                known[spoken(item["reading"])] = f"{text} ({source})"
        for name, value in opened.get("known", {}).get("circuits", {}).get(self.circuit, {}).items():
            known[spoken(name)] = f"{self.wording.value(name, value)} (known beforehand)"
        return known

    def _readings(self) -> None:
        rows = taken.takes(self.account, self._is_running)
        if rows:
            self._heading("Readings taken")
            self.page.pairs({sentence(label): text for label, text in rows.items()})

    def _is_running(self, entry: Entry, name: str) -> bool:
        if place_of(entry):
            return False
        return self._mine(entry, name) and not self._of_plate(name) and not gas.is_mass(self.wording, entry, name)

    def _mine(self, entry: Entry, name: str) -> bool:
        return entry.circuit == self.circuit and not taken.of_unit(self.wording, entry, name)

    def _of_plate(self, name: str) -> bool:
        return taken.of_plate(self.wording.asked(name))

    def _judged(self) -> None:
        series: dict[str, list[Row]] = {}
        for entry in self.account.of("judged", circuit=self.circuit):
            row = row_of(dict(entry.event), self.account.units)
            series.setdefault(entry.place, []).append(replace(row, says=_says(entry, row)))
        said: dict[str, dict[tuple[str, str], dict[str, None]]] = {}
        for rows in series.values():
            for values, wanted, verdict in _verdicts(rows):
                said.setdefault(sentence(rows[-1].name), {}).setdefault((values, verdict), {})[wanted] = None
        if said:
            self._heading("Judged")
        for name, each in said.items():
            held = {one: limits for one, limits in each.items() if _NO_LIMIT not in limits}
            alone = [f"{it}; there was nothing to hold it against" for it, _ in each] if not held else []
            told = [f"{it}; wanted {', '.join(limits)}: {word}" for (it, word), limits in held.items()]
            self.page.row(name, *(told or alone))

    # ---- refrigerant and work

    def _refrigerant(self) -> None:
        weighed = gas.weighings(self.account, self.wording, self.circuit)
        if weighed:
            self._heading("Refrigerant in and out")
        for tree, rows in weighed.items():
            self.page.item(f"{tree}:")
            worked = {label: text.removesuffix(gas.WORKED) for label, text in rows.items() if text.endswith(gas.WORKED)}
            self.page.pairs({label: text for label, text in rows.items() if label not in worked})
            said = "; ".join(f"{label[:1].lower()}{label[1:]} {text}" for label, text in worked.items())
            self.page.rows({"Worked out": said})

    def _work(self) -> None:
        rows = list(work.act_by_act(self.account, self.wording, self.circuit))
        if rows:
            self._heading("Work and waits")
        for time, text in rows:
            self.page.timed(time, text)
        left = work.left_on(self.account, self.wording, self.circuit)
        if left:
            self.page.row("STILL ON", ", ".join(left))


def _says(entry: Entry, row: Row) -> str:
    says = _WORDS.get(row.says, row.says)
    judged = quantity(entry.event.get("value"))
    if judged is not None and judged.kind is Kind.TIME_SPAN:
        says = _OF_TIME.get(says, says)
    return f"{says} (so held by the technician)" if entry.event.get("overruled") else says


def _verdicts(rows: list[Row]) -> Iterator[tuple[str, str, str]]:
    """``8 dF, then 12 dF``, ``wanted 6 dF to 15 dF``, ``as wanted``: what was judged at one place, by verdict."""
    had = [row for row in rows if row.measured != NOT_HAD]
    for number, (verdict, group) in enumerate(groupby(had, key=_in_words)):
        same = list(group)
        values = ", then ".join(dict.fromkeys(row.measured for row in same))
        yield f"{'then ' if number else ''}{values}", same[-1].wanted, verdict


def _in_words(row: Row) -> str:
    return f"{row.says}, could be {row.close}" if row.close else row.says
