"""What a read library is made of: typed, immutable, every part with its place in a file.

Nothing here reads, checks or walks. Names are those of the tree language.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from tui.quantity import Kind, Quantity
from tui.tree.spot import Spot

# --------------------------------------------------------------------------- expressions


@dataclass(frozen=True, slots=True)
class Literal:
    """A number with its unit, as written: ``5 dF``, ``7 %``, ``3``."""

    value: Quantity
    spot: Spot


@dataclass(frozen=True, slots=True)
class Name:
    """A reading, a result, a figure, or a bare answer word where one is expected."""

    name: str
    spot: Spot


@dataclass(frozen=True, slots=True)
class Call:
    """A sum of trade/ or refrigerant/, or smaller, larger, first-known."""

    function: str
    arguments: tuple[Expression, ...]
    spot: Spot


@dataclass(frozen=True, slots=True)
class OfSeries:
    """first last change total count lowest highest of a reading's or result's series."""

    function: str
    name: str
    spot: Spot


@dataclass(frozen=True, slots=True)
class Binary:
    """`operator` is one of + - * /."""

    operator: str
    left: Expression
    right: Expression
    spot: Spot


@dataclass(frozen=True, slots=True)
class Negative:
    operand: Expression
    spot: Spot


Expression: TypeAlias = Literal | Name | Call | OfSeries | Binary | Negative


@dataclass(frozen=True, slots=True)
class Compare:
    """`relation` is one of: below, above, at least, at most, before, on or after."""

    left: Expression
    relation: str
    right: Expression
    spot: Spot


@dataclass(frozen=True, slots=True)
class Is:
    """`subject` is [not] one of `words` (which may hold ``unknown``)."""

    subject: Expression
    words: tuple[str, ...]
    negated: bool
    spot: Spot


@dataclass(frozen=True, slots=True)
class AllOf:
    tests: tuple[Test, ...]
    spot: Spot


@dataclass(frozen=True, slots=True)
class AnyOf:
    tests: tuple[Test, ...]
    spot: Spot


Test: TypeAlias = Compare | Is | AllOf | AnyOf


@dataclass(frozen=True, slots=True)
class Text:
    """A sentence with ``<expression>`` parts; `parts` alternates freely."""

    source: str
    parts: tuple[str | Expression, ...]
    spot: Spot


# --------------------------------------------------------------------------- tables

UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Row:
    """`cells[i]` is the set of words column i may have, or None for ``any``."""

    source: str
    cells: tuple[frozenset[str] | None, ...]
    to: str
    spot: Spot


@dataclass(frozen=True, slots=True)
class Table:
    """Order-free rows over `columns`; `domains[i]` the words column i can take (no unknown)."""

    columns: tuple[str, ...]
    domains: tuple[tuple[str, ...], ...]
    rows: tuple[Row, ...]

    def row_for(self, words: tuple[str, ...]) -> Row | None:
        """The one row for these words. ``unknown`` matches only a cell that names it, or any."""
        for row in self.rows:
            if all(c is None or w in c for c, w in zip(row.cells, words, strict=True)):
                return row
        return None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of ``first of``; `test` None is ``otherwise``."""

    source: str
    test: Test | None
    to: str
    spot: Spot


# --------------------------------------------------------------------------- steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`name` is the step's id in its tree (given by ``name:``, else by its key, else made).

    `labelled` says a trainer may jump to it. `path` is its place: indexes down the lists.
    """

    name: str
    spot: Spot
    path: tuple[int, ...]
    labelled: bool = False
    why: Text | None = None
    how: Text | None = None
    only_when: Test | None = None
    then: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask(Step):
    readings: tuple[str, ...]
    question: Text | None = None
    couldnt: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionStep(Step):
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Do(Step):
    tell: Text
    work: str
    couldnt: str | None = None
    once: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait(Step):
    """`once`: not asked again while nothing has changed since a wait as long as this.

    `cut_short` is where a wait leads that did not last as long as it should.
    """

    duration: Expression
    because: Text
    couldnt: str | None = None
    cut_short: str | None = None
    once: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOut(Step):
    """`result` is the name it gives; `kind` and `answers` are filled in by the typing."""

    result: str
    expression: Expression
    kind: Kind
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Judge(Step):
    """Either `target` with `band`, or `on_from` and/or `on_to`. `sides` are those that exist."""

    result: str
    compare: Expression
    target: Expression | None = None
    band: Expression | None = None
    on_from: Expression | None = None
    on_to: Expression | None = None
    sides: tuple[str, ...] = ("low", "on", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Decide(Step):
    """Either `table` or `lines`. `unsettled` is a destination or None (the tree's default)."""

    table: Table | None = None
    lines: tuple[Line, ...] = ()
    unsettled: str | None = None
    must_be_settled: bool = False
    overrule: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat(Step):
    """`most` rounds, or once for each place of the list `places` (variable ``place``)."""

    steps: tuple[Step, ...]
    most: int | None = None
    places: str | None = None
    stops: tuple[Line, ...] = ()
    out: str = ""  # `when rounds run out` or `afterwards`


@dataclass(frozen=True, slots=True, kw_only=True)
class Go(Step):
    tree: str
    each_circuit: bool = False
    comes_back: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Back(Step):
    outcome: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingStep(Step):
    """`cause` a cause id; or `could_be` ids with `told_apart`. Both empty: a stop.

    `customer`: what the customer is told, where the cause's own words don't say enough.
    `still_true`: nothing is done between the finding and its offer, so what was read counts on.
    """

    cause: str | None = None
    could_be: tuple[str, ...] = ()
    told_apart: Text | None = None
    seen: Text
    next: Text
    customer: Text | None = None
    go_on: str | None = None
    offer: str | None = None
    still_true: bool = False
    leaving: tuple[str, ...] = ()


# --------------------------------------------------------------------------- catalogue


@dataclass(frozen=True, slots=True)
class Reading:
    """Something a person can say, or (no `ask`) a result shared between trees.

    `low`/`high` bound what is accepted, in SI of its kind. `set_` is known from settings. `good_for` is how
    long it stays fresh by itself, where the catalogue says so. `names`: its text names the unit's circuits.
    `worked_out`: a tree may work it out, and an ask then finds it known. `days`: a date is one of the ``past`` or of
    the ``future``, today is of both; empty: any. `stays`: known through the visit, also to somebody who begins anew
    after a finding. `rating`: the most that the plate allows.
    """

    id: str
    spot: Spot
    ask: str | None
    kind: Kind
    answers: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    range_text: str = ""
    unit: str = ""
    instrument: str | None = None
    of: str = "circuit"
    while_: str | None = None
    settles: bool = False
    must: bool = False
    work: str | None = None
    remembered: bool = False
    set_: bool = False
    how: str = ""
    good_for: Quantity | None = None
    names: bool = False
    worked_out: bool = False
    days: str = ""
    stays: bool = False
    rating: bool = False

    @property
    def beforehand(self) -> bool:
        """Is it known before anything is asked, as from an earlier visit? Day and region are the site's."""
        return self.set_ and self.id not in ("today", "region")


@dataclass(frozen=True, slots=True)
class Instrument:
    """`good_to` and `checked_good_to` are accuracy texts (``0.5 psi``, ``10 % of reading``).

    `check` says in words how its error is taken out (zero it; ice bath).
    """

    id: str
    spot: Spot
    good_to: str
    say: str = ""
    check: str = ""
    checked_good_to: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    id: str
    spot: Spot
    say: str
    when: Test | None = None


@dataclass(frozen=True, slots=True)
class Cause:
    """`say` for the technician, `customer` for the customer.

    `settle`: it condemns a part, so the decides that lead to it must be settled. `not_when`: where that is known to
    hold it can't be this, whatever the trees still lead to. `not_on`: classes of equipment on which it can't happen,
    each with the reason.
    """

    id: str
    spot: Spot
    say: str
    customer: str = ""
    settle: bool = False
    not_when: Test | None = None
    not_on: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Work:
    """What a risky act demands first, makes stale, and leaves behind.

    `settle`: refrigerant goes in or a circuit is opened, so the decides that lead to it must be
    settled (catalogue key ``must be settled: yes``).
    """

    id: str
    spot: Spot
    after_cautions: tuple[str, ...] = ()
    after_work: tuple[tuple[str, ...], ...] = ()  # all of; each any of
    needs: tuple[str, ...] = ()
    only_if: tuple[Test, ...] = ()
    changes: tuple[str, ...] = ()  # reading ids, groups already spread out
    undoes: tuple[str, ...] = ()
    leaves: tuple[str, ...] = ()
    clears: tuple[str, ...] = ()
    compressor: str | None = None
    settle: bool = False


@dataclass(frozen=True, slots=True)
class LeftOn:
    """How a thing left behind (``cylinder on``) is cleared before any end or stop.

    `too_much`: what is said as well where more of it was let in than the plate allows. `stay`: nobody works on another
    circuit while it is on.
    """

    id: str
    spot: Spot
    tell: str
    work: str
    too_much: str = ""
    stay: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """The one place a number stands. Either `value`, or `columns` with `rows`."""

    id: str
    spot: Spot
    kind: Kind
    source: str
    value: Quantity | None = None
    table: Table | None = None
    values: Mapping[str, Quantity] = field(default_factory=dict)  # Row.to -> value


@dataclass(frozen=True, slots=True)
class Places:
    """`things`: place -> {place-kind: word, ...}; `lists`: list name -> Table to comma lists."""

    kinds: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    things: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    lists: Mapping[str, Table] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Doubt:
    """What can hardly be so: while `when` holds, a reading it names is asked about before it is taken."""

    id: str
    spot: Spot
    when: Test
    say: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    readings: Mapping[str, Reading]
    instruments: Mapping[str, Instrument]
    cautions: Mapping[str, Caution]
    causes: Mapping[str, Cause]
    works: Mapping[str, Work]
    left_on: Mapping[str, LeftOn]
    figures: Mapping[str, Figure]
    places: Places
    doubts: Mapping[str, Doubt] = field(default_factory=dict)


# --------------------------------------------------------------------------- tree, library


@dataclass(frozen=True, slots=True)
class Tree:
    """`of` is ``unit`` or ``circuit``; `uses` lists the catalogue entries as (section, id)."""

    name: str
    title: str
    edition: str
    of: str
    steps: tuple[Step, ...]
    spot: Spot
    text: str
    digest: str
    unsettled: str | None = None
    uses: tuple[tuple[str, str], ...] = ()
    named: Mapping[str, Step] = field(default_factory=dict)  # every step by name
    outcomes: tuple[str, ...] = ()
