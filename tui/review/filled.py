"""What a person was told at a step: its sentence, filled in with what was known when it was done."""

from __future__ import annotations

from tui.quantity import Quantity, own_figures, show, usual_unit
from tui.review.account import Account, Entry
from tui.review.searched import place_at
from tui.review.wording import VERDICTS, Wording, figure, quantity
from tui.tree.model import UNKNOWN, Expression, Figure, Name, Text
from tui.walk.kinds import spoken

NOT_KNOWN = "not known"

_GIVEN = ("answered", "told", "judged", "worked-out")


def filled(account: Account, wording: Wording, text: Text, at: Entry) -> str:
    """The sentence as it stood before an event, in the units of the visit."""
    units = account.units
    parts = (own_figures(p, units) if isinstance(p, str) else _part(account, wording, p, at) for p in text.parts)
    return "".join(parts)


def _part(account: Account, wording: Wording, part: Expression, at: Entry) -> str:
    if not isinstance(part, Name):
        return "(as worked out)"
    return value_at(account, wording, part.name, at) or NOT_KNOWN


def value_at(account: Account, wording: Wording, name: str, at: Entry) -> str:
    """What a name stood for before an event: a figure, of a place, or as recorded; empty where it was not known."""
    catalogue = wording.catalogue
    if catalogue is not None and name in catalogue.figures:
        value = _figure(account, wording, catalogue.figures[name], at)
        return f"the {spoken(name)}" if value is None else show(value, usual_unit(value, account.units))
    if catalogue is not None and (name == "place" or name in catalogue.places.kinds):
        place = place_at(account, at)
        return place if name == "place" or not place else catalogue.places.things[place][name]
    return _recorded(account, wording, name, at)


def _figure(account: Account, wording: Wording, figure: Figure, at: Entry) -> Quantity | None:
    """A figure as it stood before an event, by the words it goes by; None where they were no words."""
    if figure.table is None:
        return figure.value
    words = tuple(value_at(account, wording, column, at) or UNKNOWN for column in figure.table.columns)
    row = figure.table.row_for(words)
    return None if row is None else figure.values.get(row.to)


def latest(account: Account, wording: Wording, name: str, at: Entry) -> Entry | None:
    """The event that gave a name its value, as a tree saw it before an event."""
    reading = wording.asked(name)
    circuits = None if reading is not None and reading.of == "unit" else (at.circuit, "")
    there = (e for e in account.of(*_GIVEN) if e.n < at.n and (circuits is None or e.circuit in circuits))
    found = [e for e in there if _is(e, name, at, shared=reading is not None)]
    return max(found, key=lambda entry: entry.n, default=None)


def _is(entry: Entry, name: str, at: Entry, *, shared: bool) -> bool:
    """Whether an event gave this name as a tree saw it: a reading or shared result, or one of the tree's own."""
    if entry.event.get("reading", entry.event.get("name")) != name:
        return False
    return shared or "reading" in entry.event or entry.event.get("tree") == at.event.get("tree")


def _recorded(account: Account, wording: Wording, name: str, at: Entry) -> str:
    found = latest(account, wording, name, at)
    if found is not None and found.kind == "judged":
        verdict = found.event["verdict"]
        return VERDICTS.get(verdict, verdict) if verdict else ""
    stored = found.event.get("value") if found is not None else _before(account, name, at.circuit)
    if stored is None:
        return ""
    return wording.value(name, stored) if quantity(stored) is None else figure(stored, account.units)


def _before(account: Account, name: str, circuit: str) -> dict[str, object] | None:
    """The value with which the visit began."""
    known = account.opened.get("known", {})
    for values in (known.get("circuits", {}).get(circuit, {}), known.get("unit", {})):
        if name in values:
            return dict(values[name])
    items = [i for i in account.opened.get("history", []) if i["reading"] == name and i["circuit"] in (circuit, "")]
    return dict(items[-1]["value"]) if items else None
