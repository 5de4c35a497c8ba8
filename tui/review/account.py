"""What counts of a session: its events, without what was taken back, with what was corrected.

The events alone are read, nothing is walked again: a session can be told years later, whatever the trees
and the program have become meanwhile, and a damaged one as far as it is whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from tui.quantity import Refused, from_json
from tui.walk.following import followed
from tui.walk.inputs import TAKEN, UNDOABLE, changes
from tui.walk.naming import recorded_names, with_new_name
from tui.walk.opening import circuits_of, instead, renamed, righted

if TYPE_CHECKING:
    from tui.record import Line
    from tui.tree.model import Catalogue

DERIVED = frozenset({"routed", "judged", "worked-out", "left", "finding"})


@dataclass(frozen=True, slots=True)
class Entry:
    """One event: its place in the order in which things happened, its stamp (RFC 3339), itself.

    What a correction says again has the place of what it said the first time, and a finding its stamp. `follows`: the
    input it is of. `again`: when a correction changed what the finding says. `gone`: the event that took it back.
    """

    n: int
    at: str
    event: Mapping[str, Any]
    follows: int = 0
    again: str = ""
    gone: int = 0

    @property
    def kind(self) -> str:
        return str(self.event["event"])

    @property
    def circuit(self) -> str:
        return str(self.event.get("circuit", ""))

    @property
    def time(self) -> str:
        """``14:49``."""
        return self.at[11:16]

    @property
    def when(self) -> str:
        """``14:49``, or ``14:49, put right 15:02``."""
        return f"{self.time}, put right {self.again[11:16]}" if self.again else self.time

    @property
    def place(self) -> str:
        """``tree/step``."""
        return f"{self.event.get('tree', '')}/{self.event.get('step', '')}"


@dataclass(slots=True)
class Account:
    """`entries` count; `withdrawn` were taken back; `first` and `last` by the clock, of all after the opening.

    `named`: the circuits as a person named them last, or as they were known; empty where nobody can say.
    """

    opened: Mapping[str, Any]
    entries: list[Entry] = field(default_factory=list)
    withdrawn: list[Entry] = field(default_factory=list)
    first: Entry | None = None
    last: Entry | None = None
    named: tuple[str, ...] = ()

    def of(self, *kinds: str, circuit: str | None = None) -> Iterator[Entry]:
        """The entries of these kinds, of one circuit or of all."""
        return (e for e in self.entries if e.kind in kinds and circuit in (None, e.circuit))

    @property
    def units(self) -> str:
        """``US`` or ``SI``."""
        return str(self.opened.get("units", "US"))

    @property
    def circuits(self) -> list[str]:
        """Names of the circuits, in the order they came up; one named no more only where work was done on it."""
        known = dict.fromkeys(self.opened.get("known", {}).get("circuits", {}))
        known |= dict.fromkeys(e.circuit for e in self.entries if e.circuit)
        if not self.named:
            return list(known)
        worked = {e.circuit for e in self.of("done", "finding", "own-finding")}
        counted = {*self.named, *worked}
        return list(dict.fromkeys([*(name for name in known if name in counted), *self.named]))

    @property
    def parts(self) -> list[str]:
        """The circuits, and before them the unit itself (empty) where something was done or found on it."""
        of_unit = any(True for _ in self.of("finding", "judged", "done", "waited", "own-finding", circuit=""))
        return [""] * of_unit + self.circuits

    def latest(self, place: str, circuit: str, before: int, *kinds: str) -> Entry | None:
        """The last entry of these kinds at a place of a circuit, before the event of that number."""
        found = (e for e in self.of(*kinds, circuit=circuit) if e.place == place and e.n < before)
        return max(found, key=lambda e: e.n, default=None)


def account_of(lines: Iterable[Line], catalogue: Catalogue | None) -> Account:
    """The account of a session's lines. Raises IndexError where there are none."""
    lines = list(lines)
    follows = followed(line.event for line in lines)
    entries = [Entry(n, line.at, line.event, follows[n]) for n, line in enumerate(lines)]
    account = Account(entries[0].event, first=entries[min(1, len(entries) - 1)], last=entries[-1])
    found: dict[tuple[object, ...], Entry] = {}
    for entry in entries[1:]:
        if entry.kind == "undone":
            _take_back(account, entry, catalogue)
        elif entry.kind == "corrected":
            _correct(account, entry)
        account.entries.append(_as_found_first(found, entry) if entry.kind == "finding" else entry)
    _in_order(account)
    account.named = _named(account, catalogue)
    for overruled in list(account.of("overruled")):
        _overrule(account, overruled)
    return account


def _as_found_first(found: dict[tuple[object, ...], Entry], finding: Entry) -> Entry:
    """A finding that a correction says again was found when it was said first; `found` gets it."""
    event = finding.event
    same = (finding.follows, finding.circuit, event["where"], event["cause"])
    first = found.get(same)
    if first is not None:
        changed = any(first.event.get(part) != event.get(part) for part in ("seen", "could_be", "evidence"))
        finding = replace(finding, at=first.at, again=finding.at if changed else first.again)
    found[same] = finding
    return finding


def _named(account: Account, catalogue: Catalogue | None) -> tuple[str, ...]:
    reading = next((each.id for each in catalogue.readings.values() if each.names), "") if catalogue else ""
    given = [e.event["value"] for e in account.of(*TAKEN) if e.event.get("reading") == reading]
    known = account.opened.get("known", {}).get("unit", {}).get(reading)
    stored = given[-1] if given else known
    if stored is None:
        return tuple(circuits_of(account.opened))
    try:
        return recorded_names(str(from_json(stored)))
    except Refused:
        return ()


def _in_order(account: Account) -> None:
    """Entries by their places: what was said again after a correction where it was said at first."""
    ordered = sorted([*account.entries, *account.withdrawn], key=lambda e: (e.follows, e.n))
    place = {entry.n: number for number, entry in enumerate(ordered, 1)}
    account.withdrawn = [replace(entry, n=place[entry.n]) for entry in account.withdrawn]
    account.entries = sorted((replace(e, n=place[e.n]) for e in account.entries), key=lambda e: e.n)


def _take_back(account: Account, undone: Entry, catalogue: Catalogue | None) -> None:
    """The place moved back: answers from there on go, but for readings that later work made history."""
    back_to = int(undone.event["back_to"])
    kept: list[Entry] = []
    history: set[str] = set()
    for entry in reversed(account.entries):
        gone = entry.n >= back_to and entry.kind in UNDOABLE
        if entry.kind in TAKEN and entry.event.get("reading") in history:
            gone = False
        if gone:
            account.withdrawn.append(replace(entry, gone=undone.follows))
        elif not (entry.follows >= back_to and entry.kind in DERIVED):
            kept.append(entry)
        history |= _changed(entry, catalogue)
    account.entries = kept[::-1]


def _changed(entry: Entry, catalogue: Catalogue | None) -> set[str]:
    """Readings that what was done there has made history."""
    if catalogue is None or (entry.kind == "done" and entry.event.get("work") not in catalogue.works):
        return set()
    return set(changes(catalogue, dict(entry.event)))


def _overrule(account: Account, overruled: Entry) -> None:
    """The verdict that the person put in the tool's place, on the judgement it was said of."""
    name = str(overruled.event["name"]).rpartition("/")[2]
    judged = [e for e in account.of("judged", circuit=overruled.circuit) if e.event["name"] == name]
    earlier = [e for e in judged if e.n < overruled.n]
    meant = earlier[-1] if earlier else next(iter(judged), None)
    said = {"verdict": overruled.event["verdict"], "overruled": overruled.event["reason"], "close": False}
    account.entries = [replace(e, event={**e.event, **said}) if e is meant else e for e in account.entries]


def _rename(account: Account, names: Mapping[str, str]) -> None:
    """Circuits have other names from the beginning on: no old one stands anywhere but where it was corrected."""
    account.opened = renamed(account.opened, names)
    account.entries = [replace(e, event=with_new_name(e.event, names)) for e in account.entries]
    account.withdrawn = [replace(e, event=with_new_name(e.event, names)) for e in account.withdrawn]


def _correct(account: Account, corrected: Entry) -> None:
    """The reading has its new value, and all that followed from it was worked out anew behind this."""
    number = int(corrected.event["event_no"])
    if number == 0:
        account.opened = instead(account.opened, corrected.event)
    names = corrected.event.get("renamed", {})
    if names:
        _rename(account, names)
    struck = corrected.event["value"] is None
    account.withdrawn += [e for e in account.entries if e.n == number and struck]
    account.entries = [
        replace(e, event=righted(e.event, corrected.event)) if e.n == number else e
        for e in account.entries
        if not (e.follows >= number and e.kind in DERIVED and not names) and not (e.n == number and struck)
    ]
