"""Words of a session's own catalogue: its trees are in it, so it reads the same when those here have changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from tui.quantity import Kind, Quantity, Refused, from_json, show, usual_unit
from tui.quantity.dates import long_date
from tui.record import Reading
from tui.tree.embed import extract
from tui.tree.model import Decide, Judge, WorkOut
from tui.walk.kinds import spoken
from tui.walk.looks import names_in, names_in_test

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.tree.model import Catalogue, Step
    from tui.tree.model import Reading as Asked


# A record need not have the entry of a cause that no tree of it names.
CANNOT_TELL = "Cannot be told from here"
NOT_SETTLED = "What was measured does not settle it. The next test is named."
VERDICTS = {"on": "as wanted", "unknown": "not known"}


def library_of(reading: Reading) -> Library | None:
    """The library embedded in a session, None where it can't be read (its ids are then all there is)."""
    try:
        return _library(tuple(extract(reading.events).texts().items()))
    except Refused:
        return None


@lru_cache(maxsize=16)  # visits of one folder have often entered the same trees; reading them is most of the work
def _library(texts: tuple[tuple[str, str], ...]) -> Library:
    from tui.tree.library import Library

    return Library.from_texts(dict(texts), partial=True)


@dataclass(frozen=True, slots=True)
class Wording:
    """Words for ids. Without a library, or for what is not in it, the id as it is spoken."""

    library: Library | None

    @property
    def catalogue(self) -> Catalogue | None:
        return None if self.library is None else self.library.catalogue

    def asked(self, reading: str) -> Asked | None:
        """A reading or shared result by id."""
        return None if self.catalogue is None else self.catalogue.readings.get(reading)

    def cause(self, cause: str) -> str:
        found = None if self.catalogue is None else self.catalogue.causes.get(cause)
        if found is None:
            return CANNOT_TELL if cause == "cannot-tell" else sentence(spoken(cause))
        return found.say

    def customer(self, cause: str) -> str:
        """What the customer is told; empty where nothing is known."""
        found = None if self.catalogue is None else self.catalogue.causes.get(cause)
        if found is None:
            return NOT_SETTLED if cause == "cannot-tell" else ""
        return found.customer

    def caution(self, caution: str) -> str:
        found = None if self.catalogue is None else self.catalogue.cautions.get(caution)
        return spoken(caution) if found is None else found.say

    def instrument(self, instrument: str) -> str:
        found = None if self.catalogue is None else self.catalogue.instruments.get(instrument)
        return (found.say if found is not None else "") or spoken(instrument)

    def cleared(self, thing: str) -> str:
        """How a thing left on is cleared; empty where nothing is known."""
        found = None if self.catalogue is None else self.catalogue.left_on.get(thing)
        return "" if found is None else found.tell

    def tree(self, tree: str) -> str:
        found = None if self.library is None else self.library.trees.get(tree)
        return spoken(tree) if found is None else found.title

    def value(self, reading: str, stored: Any) -> str:
        """A reading's value in words; one that is a cause (what an earlier visit found) by the cause's words."""
        text, asked = shown(stored), self.asked(reading)
        return self.cause(text) if asked is not None and "cannot-tell" in asked.answers else text

    def step(self, place: str) -> Step | None:
        """The step at ``tree/step``."""
        tree, _, step = place.partition("/")
        found = None if self.library is None else self.library.trees.get(tree)
        return None if found is None else found.named.get(step)


    def behind(self, name: str, tree: str) -> set[str]:
        """The names that a tree works a result out of, or judges it by; in any tree where this one does not."""
        if self.library is None:
            return set()
        trees = [each for each in (self.library.trees.get(tree), *self.library.trees.values()) if each is not None]
        for each in trees:
            steps = (step for step in each.named.values() if isinstance(step, WorkOut | Judge) and step.result == name)
            found = {below for step in steps for below in _in_step(step)} - {name}
            if found:
                return found
        return set()


def _in_step(step: WorkOut | Judge) -> Iterator[str]:
    parts = (step.expression,) if isinstance(step, WorkOut) else (step.compare, step.target, step.on_from, step.on_to)
    for part in parts:
        if part is not None:
            yield from names_in(part)


def sentence(text: str) -> str:
    """With a capital."""
    return text[:1].upper() + text[1:]


def counted(number: int, one: str, many: str) -> str:
    """``1 wait``, ``2 waits``."""
    return f"{number} {one if number == 1 else many}"


def shown(stored: Any) -> str:
    """A stored value as it was given: in its own unit, with the digits it was typed with."""
    if not isinstance(stored, Mapping):
        return "not known"
    value = from_json(dict(stored))
    if isinstance(value, Quantity) and value.kind is Kind.DATE:
        return long_date(value.si)
    return show(value)


def figure(stored: Any, units: str) -> str:
    """A stored value as the visit's units show it (``US`` or ``SI``); what was typed in them stays as typed."""
    value = quantity(stored)
    if value is None or value.kind is Kind.DATE:
        return shown(stored)
    usual = usual_unit(value, units)
    return show(value) if value.typed and value.unit == usual else show(value, usual)


def quantity(stored: Any) -> Quantity | None:
    """The number a stored value is, if it is one."""
    value = from_json(dict(stored)) if isinstance(stored, Mapping) else None
    return value if isinstance(value, Quantity) else None


def names_of(step: Step | None, rows: list[str]) -> list[str]:
    """What a decision looked at: the columns its row asks for, or the names in the line taken (all, for otherwise).

    A column that is ``any`` in the row has decided nothing; where no row is known, all columns.
    """
    if not isinstance(step, Decide):
        return []
    if step.table is not None:
        cells = [row.cells for row in step.table.rows if row.source in rows]
        asked = [name for i, name in enumerate(step.table.columns) if any(each[i] is not None for each in cells)]
        return asked or list(step.table.columns)
    taken = [line for line in step.lines if line.source in rows and line.test is not None]
    lines = taken or [line for line in step.lines if line.test is not None]
    return list(dict.fromkeys(name for line in lines if line.test is not None for name in names_in_test(line.test)))
