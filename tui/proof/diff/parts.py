"""What else a step, a tree's head or an entry of the catalogue says otherwise: words to read, and all the rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tui.proof.diff.combinations import comparable, compare
from tui.proof.diff.content import key_of, plain, printed, said
from tui.tree.model import Catalogue, Decide, Places, Step, Table, Text

#: Texts of the catalogue that a person reads; in a tree, every sentence is one.
_READ = frozenset({"ask", "how", "say", "customer", "tell", "check"})
#: Told as ways, or where they lead.
_ELSEWHERE = frozenset(
    {"couldnt", "cut_short", "then", "unsettled", "out", "go_on", "offer", "comes_back", "lines", "stops", "table"}
)
CATALOGUE = "catalogue/"
SECTIONS = {
    "readings": "readings",
    "instruments": "instruments",
    "cautions": "cautions",
    "causes": "causes",
    "work": "works",
    "left-on": "left_on",
    "doubts": "doubts",
}


@dataclass(frozen=True, slots=True)
class Changed:
    """One thing said otherwise. `where`: ``tree/step``, a tree, or ``catalogue/section/entry``; `part`: its key.

    read: it is words that a person reads. `old` or `new` is empty where it was, or is, not said.
    """

    where: str
    part: str
    old: str
    new: str
    read: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry of the catalogue that came (`change` is ``new``) or went (``gone``)."""

    section: str
    entry: str
    change: str


def of_step(where: str, old: Step, new: Step) -> Iterator[Changed]:
    """What a step says otherwise, but for where it leads."""
    if type(old) is not type(new):
        yield Changed(where, "what it is", kind_of(old), kind_of(new))
        return
    if isinstance(old, Decide) and isinstance(new, Decide):
        yield from _of_decide(where, old, new)
    yield from _of_fields(where, old, new, _ELSEWHERE)


def kind_of(step: Step) -> str:
    """``ask``, ``work out``: the key a step begins with."""
    name = type(step).__name__
    return {"CautionStep": "caution", "FindingStep": "finding", "WorkOut": "work out"}.get(name, name.lower())


def _of_decide(where: str, old: Decide, new: Decide) -> Iterator[Changed]:
    if (old.table is None) != (new.table is None):
        then, now = (f"by {', '.join(each.table.columns)}" if each.table else "first of" for each in (old, new))
        yield Changed(where, "by", then, now)
    elif old.table is not None and new.table is not None:
        if old.table.columns != new.table.columns and {*old.table.columns} != {*new.table.columns}:
            yield Changed(where, "by", ", ".join(old.table.columns), ", ".join(new.table.columns))
        if not comparable(old.table, new.table):
            then, now = (f"{len(each.table.rows)} rows" for each in (old, new) if each.table)
            yield Changed(where, "rows", then, f"{now}, too many to compare one by one")


def _of_fields(where: str, old: Any, new: Any, without: frozenset[str] = frozenset()) -> Iterator[Changed]:
    then, now = said(old), said(new)
    for field, before in then.items():
        after = now[field]
        if field in without or plain(before) == plain(after):
            continue
        read = isinstance(before or after, Text) or (field in _READ and isinstance(after or before, str))
        yield Changed(where, key_of(field), printed(before), printed(after), read)


# ---- the catalogue, figures apart


def of_catalogue(old: Catalogue, new: Catalogue) -> Iterator[Changed | Entry]:
    """Every entry that came, went, or says otherwise; the values of figures are compared by themselves."""
    for section, attribute in SECTIONS.items():
        then, now = getattr(old, attribute), getattr(new, attribute)
        yield from came_and_went(section, then, now)
        for entry in then:
            if entry in now:
                yield from _of_fields(f"catalogue/{section}/{entry}", then[entry], now[entry])
    for name, figure in old.figures.items():
        if name in new.figures and figure.source != new.figures[name].source:
            yield Changed(f"catalogue/figures/{name}", "from", figure.source, new.figures[name].source, True)
    yield from _of_places(old.places, new.places)


def came_and_went(section: str, then: Mapping[str, object], now: Mapping[str, object]) -> Iterator[Entry]:
    yield from (Entry(section, entry, "gone") for entry in then if entry not in now)
    yield from (Entry(section, entry, "new") for entry in now if entry not in then)


def _of_places(old: Places, new: Places) -> Iterator[Changed]:
    for part, then, now in (("kinds", old.kinds, new.kinds), ("places", old.things, new.things)):
        for name in {**then, **now}:
            before, after = printed(then.get(name, ())), printed(now.get(name, ()))
            if before != after:
                yield Changed(f"catalogue/places/{part}", name, before, after)
    for name in {**old.lists, **new.lists}:
        where = f"catalogue/places/lists/{name}"
        if name in old.lists and name in new.lists:
            yield from _of_list(where, old.lists[name], new.lists[name])
        else:
            was, is_now = ("a list" if name in lists else "" for lists in (old.lists, new.lists))
            yield Changed(where, "rows", was, is_now)


def _of_list(where: str, old: Table, new: Table) -> Iterator[Changed]:
    found = compare(old, new, str.__eq__)
    for part in found.parted:
        if not part.unnamed:
            yield Changed(where, found.row(part.cells), part.old or "", part.new or "")
