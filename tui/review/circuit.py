"""One circuit's part: what was found and why, its plate, readings, verdicts, work and refrigerant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tui.quantity import Kind, clock_span
from tui.review import taken
from tui.review.account import Account, Entry
from tui.review.because import (
    OUT,
    TURNED_FROM,
    UNSEEN,
    decided_at,
    measured,
    not_excluded,
    ruled_out,
    seen_at,
    stayed_close,
)
from tui.review.filled import filled
from tui.review.page import Page
from tui.review.searched import place_of, searched
from tui.review.wording import VERDICTS, Wording, figure, names_in, quantity, sentence
from tui.tree.model import Do, WorkOut
from tui.walk.evidence import row_of
from tui.walk.kinds import spoken
from tui.walk.opening import put_right
from tui.walk.prompt import Row

_OF_MASS = (Kind.MASS, Kind.LEAK_RATE)
_WORDS = {"low": "LOW", "high": "HIGH", **VERDICTS}
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
        for number, finding in enumerate(self.findings, 1):
            count = f" {number} of {len(self.findings)}" if len(self.findings) > 1 else ""
            self._heading(f"Found{count}, {finding.time}")
            self._finding(finding, since)
            since = finding.n
        if not self.findings and self.circuit:
            self._heading("Nothing found")

    def _finding(self, finding: Entry, since: int) -> None:
        event, words = finding.event, self.wording
        could_be = "; ".join(map(words.cause, event["could_be"]))
        decided = decided_at(finding)
        self.page.rows(
            {
                "Cause": words.cause(event["cause"]),
                "It could be": could_be,
                "Seen": event["seen"],
                "Not as wanted": list(measured(self.account, finding, since)),
                "Decided by": seen_at(self.account, words, finding, decided) if decided else "",
                "Stayed close": list(stayed_close(finding)),
                "Not excluded": not_excluded(self.account, words, finding),
                "To tell them apart": event["told_apart"],
                "Next": event["next"],
                "For the customer": words.customer(event["cause"]),
                "Offered to go on": self._offered(finding),
            }
        )

    def _offered(self, finding: Entry) -> str:
        later = (e for e in self.account.of("offered", circuit=self.circuit) if e.n > finding.n)
        offered = next((e for e in later if e.place == finding.event["where"]), None)
        if offered is None:
            return ""
        tree = getattr(self.wording.step(offered.place), "offer", None)
        name = self.wording.tree(tree) if tree else ""
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
        for place, said in rows:
            self.page.row(sentence(place), said)

    def _plate(self) -> None:
        known = self._known_before()
        rows = taken.takes(self.account, lambda entry, name: self._mine(entry, name) and self._of_plate(name))
        if known or rows:
            self._heading("Plate and build")
            self.page.rows({sentence(label): text for label, text in (known | rows).items()})

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
            self.page.rows({sentence(label): text for label, text in rows.items()})

    def _is_running(self, entry: Entry, name: str) -> bool:
        if place_of(entry):
            return False
        return self._mine(entry, name) and not self._of_plate(name) and not self._is_mass(entry, name)

    def _mine(self, entry: Entry, name: str) -> bool:
        return entry.circuit == self.circuit and not taken.of_unit(self.wording, entry, name)

    def _of_plate(self, name: str) -> bool:
        return taken.of_plate(self.wording.asked(name))

    def _judged(self) -> None:
        series: dict[str, list[Row]] = {}
        for entry in self.account.of("judged", circuit=self.circuit):
            row = row_of(dict(entry.event), self.account.units)
            series.setdefault(entry.place, []).append(replace(row, says=_says(entry, row)))
        said: dict[str, list[str]] = {}
        for rows in series.values():
            said.setdefault(sentence(rows[-1].name), []).append(_verdict(rows))
        if said:
            self._heading("Judged")
        self.page.rows(said)

    # ---- refrigerant and work

    def _refrigerant(self) -> None:
        rows = taken.takes(self.account, lambda entry, name: self._mine(entry, name) and self._is_mass(entry, name))
        for entry in self._weighed(set(map(_id, rows))):
            rows[spoken(entry.event["name"])] = f"{figure(entry.event['value'], self.account.units)} (worked out)"
        if rows:
            self._heading("Refrigerant in and out")
            self.page.rows({sentence(label): text for label, text in rows.items()})

    def _weighed(self, from_scale: set[str]) -> Iterator[Entry]:
        """Masses and leak rates that were worked out of what was weighed, not what was planned."""
        for entry in self.account.of("worked-out", circuit=self.circuit):
            value, step = quantity(entry.event["value"]), self.wording.step(entry.place)
            if value is None or (isinstance(step, WorkOut) and not names_in(step.expression) & from_scale):
                continue
            from_scale.add(str(entry.event["name"]))
            if value.kind in _OF_MASS:
                yield entry

    def _is_mass(self, entry: Entry, name: str) -> bool:
        value = quantity(entry.event.get("value"))
        asked = self.wording.asked(name)
        weighed = asked is None or asked.instrument is not None
        return weighed and value is not None and value.kind is Kind.MASS and not self._of_plate(name)

    def _work(self) -> None:
        kinds = ("done", "waited", "instrument-checked", "couldn't", "resumed")
        rows = [(e.time, text) for e in self.account.of(*kinds) if (text := self._done(e))]
        if rows:
            self._heading("Work and waits")
        for time, text in rows:
            self.page.row(time, text)
        left = self._left_on()
        if left:
            self.page.row("STILL ON", ", ".join(left))

    def _done(self, entry: Entry) -> str:
        event = entry.event
        if entry.kind == "resumed":
            return "Gone on with after a break"
        if entry.circuit != self.circuit:
            return ""
        if entry.kind == "waited":
            return _waited(float(event["actual"]), float(event["asked"]), event.get("skipped_because", ""))
        if entry.kind == "instrument-checked":
            name = self.wording.instrument(event["instrument"])
            what = "Checked" if event["how"] == "checked" else "Took a better one:"
            return f"{what} {name}, now good to {event['good_to']}"
        if entry.kind == "couldn't":
            return "" if event.get("readings") else f"Could not be done ({spoken(event['step'])}): {event['reason']}"
        return self._told(entry)

    def _told(self, entry: Entry) -> str:
        """What was done, as the step told it then; without its tree the catalogue's name for the work."""
        left = self.wording.cleared(str(entry.event.get("left", "")))
        if left:
            return left
        step = self.wording.step(entry.place)
        if isinstance(step, Do):
            return filled(self.account, self.wording, step.tell, entry)
        work = str(entry.event.get("work", ""))
        return sentence(work if work and work != "nothing risky" else spoken(str(entry.event["step"])))

    def _left_on(self) -> list[str]:
        """What work has left on or open, and no later work has cleared."""
        catalogue = self.wording.catalogue
        left: list[str] = []
        for entry in self.account.of("done", "answered", "told", circuit=self.circuit):
            asked = self.wording.asked(str(entry.event.get("reading", "")))
            name = entry.event.get("work") or (asked.work if asked is not None else None)
            work = catalogue.works.get(str(name)) if catalogue is not None else None
            if work is not None:
                left = [thing for thing in left if thing not in work.clears]
                left += [thing for thing in work.leaves if thing not in left]
        return left


def _id(label: str) -> str:
    """A spoken name as its id."""
    return label.replace(" ", "-")


def _says(entry: Entry, row: Row) -> str:
    says = _WORDS.get(row.says, row.says)
    return f"{says} (so held by the technician)" if entry.event.get("overruled") else says


def _verdict(rows: list[Row]) -> str:
    """``8 dF, then 12 dF; wanted 6 dF to 15 dF: as wanted``: what was judged at one place, by its last verdict."""
    last = rows[-1]
    values = ", then ".join(dict.fromkeys(row.measured for row in rows))
    close = f", could be {last.close}" if last.close else ""
    return f"{values}; wanted {last.wanted}: {last.says}{close}"


def _waited(actual: float, asked: float, why: str) -> str:
    if actual >= asked:
        return f"Waited {clock_span(actual)}"
    return f"Waited {clock_span(actual)} of {clock_span(asked)}. CUT SHORT: {why}"
