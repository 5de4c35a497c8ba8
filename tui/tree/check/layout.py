"""What is true at a place in a walk, as one integer.

Every bit says that something *may* be so on some way to the place, so two ways meet by ``or``, and
what must hold on every way is kept as the bit that it may not hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from tui.tree.check.names import Names, every_step, in_test
from tui.tree.model import AllOf, Catalogue, Expression, Judge, Name, OfSeries, Test, Tree, Work, WorkOut

FIELDS = 6  # missing, stale, unknown, disturbed, given, to be asked again
GIVEN_OVER_STALE = 3  # fields between them
CATALOGUE = ""  # the tree whose own names a catalogue test can see: none


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing an ``only if`` demands, with the names it hangs on."""

    test: Test
    names: int


@dataclass(slots=True)
class Layout:
    """Where each bit stands. A mask of names is moved to a field with `missing`, `stale` ..."""

    names: Names
    n: int
    full: int
    cautions: dict[str, int] = field(default_factory=dict)
    undone: dict[str, int] = field(default_factory=dict)
    done: dict[str, int] = field(default_factory=dict)
    groups: dict[tuple[str, ...], int] = field(default_factory=dict)
    facts: list[Fact] = field(default_factory=list)
    fact_of: dict[int, int] = field(default_factory=dict)  # id of a test -> its fact
    fact_base: int = 0
    left: dict[str, int] = field(default_factory=dict)
    unwarned: dict[tuple[str, str], int] = field(default_factory=dict)  # thing left, caution not given
    running: int = 0
    stopped: int = 0
    own: dict[str, int] = field(default_factory=dict)  # tree -> mask of its own names
    every_own: int = 0  # the own names of all trees
    own_fields: dict[str | None, int] = field(default_factory=dict)  # of a tree, of all (None), in all fields
    on_facts: int = 0  # names that some fact hangs on
    whole: int = 0  # every bit there is
    unit: int = 0  # names of the whole unit
    known: int = 0  # names always known
    shared: int = 0  # results that may be there or not wherever a walk begins: those of the unit, and those that stay

    def stale(self, mask: int) -> int:
        return mask << self.n

    def unknown(self, mask: int) -> int:
        return mask << 2 * self.n

    def disturbed(self, mask: int) -> int:
        return mask << 3 * self.n

    def given(self, mask: int) -> int:
        return mask << 4 * self.n

    def again(self, mask: int) -> int:
        """To be asked again though still true: a round asks afresh what is asked in it."""
        return mask << 5 * self.n

    def unknown_in(self, state: int) -> int:
        """The names that may be unknown here."""
        return state >> 2 * self.n & self.full

    def given_in(self, state: int) -> int:
        """The names that may have been given before."""
        return state >> 4 * self.n & self.full

    def fields(self, mask: int) -> int:
        """These names in all fields."""
        spread = mask
        for number in range(1, FIELDS):
            spread |= mask << number * self.n
        return spread

    def fact_bits(self, names: int, holds: Callable[[Test], bool]) -> int:
        """The facts on any of these names for which `holds` says yes."""
        mask = 0
        for number, fact in enumerate(self.facts if names & self.on_facts else ()):
            if fact.names & names and holds(fact.test):
                mask |= 1 << self.fact_base + number
        return mask

    def facts_on(self, names: int) -> int:
        """The facts that hang on any of these names."""
        mask = 0
        for number, fact in enumerate(self.facts if names & self.on_facts else ()):
            if fact.names & names:
                mask |= 1 << self.fact_base + number
        return mask

    def start(self) -> int:
        """A circuit at its door: nothing asked, nothing done, the compressor running."""
        there = self.known | self.shared
        state = self.full & ~there | self.given(there) | self.unknown(self.shared) | self.running
        for table in (self.cautions, self.undone, self.groups):
            for bit in table.values():
                state |= bit
        return state | ((1 << len(self.facts)) - 1) << self.fact_base

    def without_own(self, state: int, tree: str | None = None) -> int:
        """With a tree's own names (or every tree's) as if never given."""
        mask = self.own.get(tree, 0) if tree is not None else self.every_own
        return state & ~self.own_fields[tree] | mask if mask else state


def lay_out(trees: Mapping[str, Tree], catalogue: Catalogue, names: Names) -> Layout:
    """Give everything the proofs follow its bit."""
    n = len(names.bit)
    made = Layout(names, n, (1 << n) - 1)
    at = _Counter(FIELDS * n)
    made.cautions = {caution: at.bit() for caution in catalogue.cautions}
    made.undone = {work: at.bit() for work in catalogue.works}
    made.done = {work: at.bit() for work in catalogue.works}
    for work in catalogue.works.values():
        for group in work.after_work:
            if group not in made.groups:
                made.groups[group] = at.bit()
    made.left = {thing: at.bit() for thing in _things(catalogue)}
    for thing, caution in _warned(catalogue):
        made.unwarned[thing, caution] = at.bit()
    made.running, made.stopped = at.bit(), at.bit()
    made.fact_base = at.next
    for work in catalogue.works.values():
        for test in work.only_if:
            for part in parts(test):
                made.fact_of[id(part)] = len(made.facts)
                made.facts.append(Fact(part, names.mask(CATALOGUE, in_test(part))))
                made.on_facts |= made.facts[-1].names
    made.whole = (1 << made.fact_base + len(made.facts)) - 1
    _sort_names(made, catalogue)
    made.own_fields = {None: made.fields(made.every_own)}
    made.own_fields |= {tree: made.fields(mask) for tree, mask in made.own.items()}
    made.shared = _shared(trees, catalogue, names)
    return made


def _shared(trees: Mapping[str, Tree], catalogue: Catalogue, names: Names) -> int:
    """Results that may be known or not wherever a walk begins, and later.

    Those of the unit: some circuit gives them, and another may give another value at any time. Those that stay: given
    before a finding, they are known to whoever goes on after it.
    """
    mask = 0
    for step in (step for tree in trees.values() if tree.of == "circuit" for step in every_step(tree.steps)):
        reading = catalogue.readings.get(step.result) if isinstance(step, WorkOut | Judge) else None
        if reading is not None and reading.ask is None and (reading.of == "unit" or reading.stays):
            mask |= 1 << names.bit[reading.id]
    return mask


class _Counter:
    def __init__(self, start: int) -> None:
        self.next = start

    def bit(self) -> int:
        self.next += 1
        return 1 << self.next - 1


def parts(test: Test) -> tuple[Test, ...]:
    """What ``and`` joins; any other test alone."""
    return test.tests if isinstance(test, AllOf) else (test,)


def _warned(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """Cautions before a thing's clearing that are not demanded by all that leaves it."""
    for thing, left_on in catalogue.left_on.items():
        clearing = catalogue.works.get(left_on.work)
        leaving = [set(work.after_cautions) for work in catalogue.works.values() if thing in work.leaves]
        for caution in clearing.after_cautions if clearing is not None else ():
            if caution in catalogue.cautions and not all(caution in given for given in leaving):
                yield thing, caution


def _things(catalogue: Catalogue) -> dict[str, None]:
    things: dict[str, None] = dict.fromkeys(catalogue.left_on)
    for work in catalogue.works.values():
        things |= dict.fromkeys(work.leaves)
    return things


def _sort_names(made: Layout, catalogue: Catalogue) -> None:
    for key, bit in made.names.bit.items():
        reading = catalogue.readings.get(key)
        if reading is None:
            tree = key.partition("/")[0]
            made.own[tree] = made.own.get(tree, 0) | 1 << bit
            made.every_own |= 1 << bit
            continue
        if reading.of == "unit":
            made.unit |= 1 << bit
        if reading.set_:
            made.known |= 1 << bit


@dataclass(slots=True)
class Act:
    """A work as it changes the state: bits kept, bits set, names made stale if given.

    `given` are the bits that say these names are given, `to_stale` bits above those that say they are stale.
    """

    work: Work
    keep: int = 0
    set: int = 0
    changes: int = 0
    given: int = 0
    to_stale: int = 0
    cautions: dict[str, int] = field(default_factory=dict)
    groups: dict[tuple[str, ...], int] = field(default_factory=dict)
    needs: dict[str, int] = field(default_factory=dict)
    facts: list[tuple[Test, int]] = field(default_factory=list)
    demands: int = 0
    unwarned: list[tuple[int, int]] = field(default_factory=list)

    def on(self, state: int) -> int:
        """The state once it is done."""
        more = (state & self.given) >> self.to_stale | self.set
        for caution, bit in self.unwarned:
            more |= bit if state & caution else 0
        return state & self.keep | more


def act(work: Work, layout: Layout, derived: list[int]) -> Act:
    """Compile a work. `derived` is what hangs on each name."""
    made = Act(work, keep=layout.whole)
    for reading in work.changes:
        bit = layout.names.bit.get(reading)
        if bit is not None:
            made.changes |= derived[bit]
            made.set |= layout.disturbed(1 << bit)
    made.given, made.to_stale = layout.given(made.changes), GIVEN_OVER_STALE * layout.n
    made.set |= layout.facts_on(made.changes)
    _effects(made, work, layout)
    _demands(made, work, layout)
    return made


def _effects(made: Act, work: Work, layout: Layout) -> None:
    clear = layout.undone[work.id]
    made.set |= layout.done[work.id]
    for group, bit in layout.groups.items():
        if work.id in group:
            clear |= bit
        elif set(group) & set(work.undoes):
            made.set |= bit
    for other in work.undoes:
        made.set |= layout.undone.get(other, 0)
        clear |= layout.done.get(other, 0)
    for thing in work.clears:
        clear |= layout.left.get(thing, 0)
    for thing in work.leaves:
        made.set |= layout.left[thing]
    for (thing, caution), bit in layout.unwarned.items():
        if thing in work.clears:
            clear |= bit
        if thing in work.leaves:
            made.unwarned.append((layout.cautions[caution], bit))
    if work.compressor == "running":
        clear |= layout.stopped
        made.set |= layout.running
    elif work.compressor == "stopped":
        clear |= layout.running
        made.set |= layout.stopped
    made.keep &= ~clear


def _demands(made: Act, work: Work, layout: Layout) -> None:
    made.cautions = {c: layout.cautions[c] for c in work.after_cautions if c in layout.cautions}
    made.groups = {group: layout.groups[group] for group in work.after_work}
    for name in work.needs:
        bit = layout.names.bit.get(name)
        if bit is not None:
            mask = 1 << bit
            made.needs[name] = mask | layout.stale(mask) | layout.unknown(mask)
    for test in work.only_if:
        for part in parts(test):
            made.facts.append((part, 1 << layout.fact_base + layout.fact_of[id(part)]))
    for bits in (made.cautions.values(), made.groups.values(), made.needs.values()):
        for bit in bits:
            made.demands |= bit
    for _, bit in made.facts:
        made.demands |= bit


def domain_of(catalogue: Catalogue) -> Callable[[Expression], frozenset[str] | None]:
    """Which words an expression can be, where all are known."""
    from tui.trade import SUMS

    def domain(e: Expression) -> frozenset[str] | None:
        if isinstance(e, Name | OfSeries):
            reading = catalogue.readings.get(e.name)
            return frozenset(reading.answers) if reading is not None and reading.answers else None
        function = getattr(e, "function", "")
        found = SUMS.get(function)
        return frozenset(found.answers) if found is not None and found.answers else None

    return domain


