"""Proofs over states: asked, fresh and settled before use; what risky work demands; unknowns."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tui.tree.check.compiled import Asked, Op, State
from tui.tree.check.effects import Effects
from tui.tree.check.layout import Act, Layout
from tui.tree.check.names import every_step
from tui.tree.check.paths import Way, way_to
from tui.tree.check.solve import Context, Solver
from tui.tree.check.unknown import unanswered
from tui.tree.model import Ask, Back, Catalogue, Decide, Do, FindingStep, Judge, Repeat, Step, Tree, WorkOut
from tui.tree.printing import print_test
from tui.tree.report import did_you_mean
from tui.tree.spot import Problem, Spot

Words = Callable[[Way], tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Complaint:
    """One mistake at one node in one context; `bits` lead to it, `words` makes message and cure.

    Told once per (code, tree, subject). `of_tree`: one line at the head of the tree cures all of its code.
    """

    code: str
    subject: str
    spot: Spot
    context: Context
    index: int
    bits: State
    words: Words
    of_tree: bool = False


@dataclass(slots=True)
class Prover:
    """Looks at every solved context once."""

    trees: Mapping[str, Tree]
    catalogue: Catalogue
    solver: Solver
    layout: Layout
    acts: Mapping[str, Act]
    told: dict[tuple[str, str, str], Complaint] = field(default_factory=dict)
    may_be_left: dict[tuple[str, str], State] = field(default_factory=dict)
    made: set[str] = field(default_factory=set)  # what some tree works out or judges
    open_lists: dict[str, tuple[str, ...]] = field(default_factory=dict)
    left: State = 0  # that anything is left

    def problems(self) -> list[Problem]:
        """All mistakes, each at its first place, with a way that leads to it."""
        causes: dict[tuple[object, ...], list[tuple[Complaint, Way]]] = {}
        for one in self.complaints():
            way = way_to(self.solver, one.context, one.index, one.bits)
            causes.setdefault(_cause(one, way), []).append((one, way))
        return [_told(together) for together in causes.values()]

    def complaints(self) -> list[Complaint]:
        """All mistakes by their places, none put together with others of one cause."""
        steps = (step for tree in self.trees.values() for step in every_step(tree.steps))
        self.made = {step.result for step in steps if isinstance(step, WorkOut | Judge)}
        self.left = sum(self.layout.left.values())
        for context in list(self.solver.contexts):
            for index, (op, state) in enumerate(zip(self.solver.ops[context.tree], context.before, strict=True)):
                if state is not None:
                    if state & op.bad:
                        self._tell_uses(context, index, op, state)
                    if (look := _LOOKS.get(type(op.node.step))) is not None:
                        look(self, context, index, op, state & op.met)
        self._leavings()
        return sorted(self.told.values(), key=lambda one: one.spot)

    def _tell(self, complaint: Complaint) -> None:
        key = (complaint.code, complaint.context.tree, complaint.subject)
        known = self.told.get(key)
        if known is None or complaint.spot < known.spot:
            self.told[key] = complaint

    # ---- names

    def _tell_uses(self, context: Context, index: int, op: Op, state: State) -> None:
        for bit, use in op.uses:
            mask = 1 << bit
            said = f"`{use.name}`" + (f" (`{use.by}` goes by it)" if use.by else "")
            if state & mask:
                words = self._missing(use.name, said)
                self._tell(Complaint("not-asked", use.name, use.spot, context, index, mask, words))
            elif not use.first and state & self.layout.stale(mask):
                stale = self.layout.stale(mask)
                words = _stale(said, self._can_be_asked(use.name))
                self._tell(Complaint("stale", use.name, use.spot, context, index, stale, words))

    def _missing(self, name: str, said: str) -> Words:
        if name not in self.catalogue.readings or self._can_be_asked(name) or name in self.made:
            return _not_asked(said, self._can_be_asked(name))
        near = did_you_mean(name, self.made, f"Add a step `work out: {name}` or `judge: {name}`.")
        return lambda way: (f"{said} is worked out in no tree.", near)

    def _can_be_asked(self, name: str) -> bool:
        reading = self.catalogue.readings.get(name)
        return reading is not None and reading.ask is not None

    # ---- asking

    def _ask(self, context: Context, index: int, op: Op, state: State) -> None:
        for asked in op.asked if state & op.wanted else ():
            if not state & asked.wants:
                continue
            if asked.act is not None:
                if state & asked.act.demands:
                    self._demands(context, index, op, asked.act, state, f"asking `{asked.reading.id}`")
                state = asked.act.on(state)
            if state & asked.unfit:
                self._fits(context, index, op, asked, state)
            state &= asked.keep

    def _fits(self, context: Context, index: int, op: Op, asked: Asked, state: State) -> None:
        reading, spot = asked.reading, op.node.step.spot
        wrong = {"running": self.layout.stopped, "stopped": self.layout.running}.get(reading.while_ or "", 0)
        if state & wrong:
            words = _compressor(reading.id, reading.while_ or "")
            self._tell(Complaint("wrong-compressor", reading.id, spot, context, index, wrong, words))
        disturbed = self.layout.disturbed(1 << self.layout.names.bit[reading.id])
        if reading.settles and state & disturbed:
            words = _not_settled(reading.id)
            self._tell(Complaint("not-settled", reading.id, spot, context, index, disturbed, words))

    # ---- work

    def _do(self, context: Context, index: int, op: Op, state: State) -> None:
        step, act = op.node.step, op.act
        assert isinstance(step, Do)
        if act is None or not state & act.demands:
            return
        if not step.once or state & self.layout.undone[act.work.id]:
            self._demands(context, index, op, act, state, f"`{step.name}`")

    def _demands(self, context: Context, index: int, op: Op, act: Act, state: State, what: str) -> None:
        """What a work demands and may lack here."""
        spot, work = op.node.step.spot, act.work.id

        def tell(code: str, subject: str, bits: State, words: Words) -> None:
            self._tell(Complaint(code, subject, spot, context, index, bits, words))

        for caution, bit in act.cautions.items():
            if state & bit:
                tell("caution-missing", caution, bit, _no_caution(what, work, caution))
        for group, bit in act.groups.items():
            if state & bit:
                tell("work-missing", " or ".join(group), bit, _no_work(what, work, group))
        for name, bits in act.needs.items():
            if state & bits:
                tell("need-missing", name, state & bits, _no_need(what, work, name))
        for test, bit in act.facts:
            if state & bit:
                said = print_test(test)
                tell("only-if-missing", said, bit, _not_stated(what, work, said))

    # ---- deciding

    def _decide(self, context: Context, index: int, op: Op, state: State) -> None:
        step = op.node.step
        assert isinstance(step, Decide)
        effects = self.solver.effects[context.tree]
        if step.unsettled or self.trees[context.tree].unsettled:
            return
        if step.must_be_settled:
            words = _settled(step.name)
            self._tell(Complaint("unsettled-missing", step.name, step.spot, context, index, 0, words, True))
        elif effects.open(op, state):
            unknown = self._unknown_here(op, effects, state)
            words = _unsettled(step.name, self.layout.names.words(unknown))
            bits = self.layout.unknown(unknown)
            self._tell(Complaint("unsettled-missing", step.name, step.spot, context, index, bits, words, True))

    def _unknown_here(self, op: Op, effects: Effects, state: State) -> int:
        needed = 0
        for bit, _ in op.uses:
            needed |= 1 << bit
        return needed & self.layout.unknown_in(state)

    def _list(self, context: Context, index: int, op: Op, state: State) -> None:
        """A list of places must say which they are where one of its columns may be unknown."""
        step = op.node.step
        assert isinstance(step, Repeat)
        for column in self._unanswered(step.places or "") if not op.node.turns else ():
            bit = self.layout.names.find(context.tree, column)
            unknown = 0 if bit is None else self.layout.unknown(1 << bit)
            if state & unknown:
                words = _no_places(step.places or "", column)
                self._tell(Complaint("unsettled-missing", column, step.spot, context, index, unknown, words))

    def _unanswered(self, places: str) -> tuple[str, ...]:
        """Columns of a list whose being unknown it has no places for."""
        if places not in self.open_lists:
            found = self.catalogue.places.lists.get(places)
            self.open_lists[places] = () if found is None else tuple(unanswered(found))
        return self.open_lists[places]

    # ---- ends

    def _end(self, context: Context, index: int, op: Op, state: State) -> None:
        step = op.node.step
        if isinstance(step, FindingStep):
            if step.go_on:
                return
            if step.leaving:
                key = (context.tree, step.name)
                self.may_be_left[key] = self.may_be_left.get(key, 0) | state
            if not state & self.left:
                return
            for thing, bit in self.layout.left.items():
                if state & bit and thing not in step.leaving and thing in self.catalogue.left_on:
                    self._clearing(context, index, op, state, thing)
        elif context.ends:
            for thing, bit in self.layout.left.items():
                if state & bit:
                    words = _back_leaves(thing)
                    self._tell(Complaint("left-on", thing, step.spot, context, index, bit, words))

    def _clearing(self, context: Context, index: int, op: Op, state: State, thing: str) -> None:
        work = self.catalogue.left_on[thing].work
        for (left, caution), bit in self.layout.unwarned.items():
            if left == thing and state & bit:
                words = _no_caution(f"Clearing `{thing}` before `{op.node.name}`", work, caution)
                spot = op.node.step.spot
                self._tell(Complaint("caution-missing", caution, spot, context, index, bit, words))

    def _leavings(self) -> None:
        for (tree, name), state in self.may_be_left.items():
            step = self.trees[tree].named[name]
            assert isinstance(step, FindingStep)
            for thing in step.leaving:
                bit = self.layout.left.get(thing, 0)
                if bit and not state & bit:
                    context = next(c for c in self.solver.contexts if c.tree == tree)
                    words = _never_left(thing)
                    flow = self.solver.graph.flows[tree]
                    self._tell(Complaint("left-on", thing, step.spot, context, flow.at[name], 0, words))


_LOOKS: Mapping[type[Step], Callable[[Prover, Context, int, Op, State], None]] = {
    Ask: Prover._ask,
    Do: Prover._do,
    Decide: Prover._decide,
    FindingStep: Prover._end,
    Back: Prover._end,
    Repeat: Prover._list,
}


def _cause(one: Complaint, way: Way) -> tuple[object, ...]:
    """What makes two complaints one: the same work before, or the same step for several names."""
    where = (one.code, one.context.tree)
    if one.code == "unsettled-missing" and one.of_tree:
        return where
    if one.code in ("not-settled", "wrong-compressor"):
        return (*where, way.since)
    return (*where, way.since, one.index)


def _told(together: list[tuple[Complaint, Way]]) -> Problem:
    """One problem for one cause; the other names it touches are listed."""
    one, way = together[0]
    message, cure = one.words(way)
    others = dict.fromkeys(f"`{other.subject}`" for other, _ in together[1:])
    also = f" The same goes for {', '.join(others)}." if others else ""
    return Problem(one.spot, one.code, f"{message}{also} Way: {way.shown()}.", cure)


# ---- words


def _not_asked(name: str, askable: bool) -> Words:
    verb = "asked" if askable else "worked out"
    cure = f"{'Ask it' if askable else 'Work it out or judge it'} on every way that leads here."
    return lambda way: (f"{name} is used before it is {verb}.", cure)


def _stale(name: str, askable: bool) -> Words:
    cure = f"{'Ask it' if askable else 'Take its readings and work it out'} again after the change."

    def words(way: Way) -> tuple[str, str]:
        since = f"`{way.since}` changed what it tells" if way.since else "what it tells has changed since"
        return f"{name} is no longer fresh here: {since}.", cure

    return words


def _compressor(name: str, wanted: str) -> Words:
    other = "stopped" if wanted == "running" else "running"
    cure = f"Take it before, or have the compressor {wanted} on every way to it."
    return lambda way: (
        f"`{name}` is a reading with the compressor {wanted}, and here it may be {other}.",
        cure,
    )


def _not_settled(name: str) -> Words:
    def words(way: Way) -> tuple[str, str]:
        since = f"`{way.since}`" if way.since else "earlier work"
        said = f"`{name}` has to settle, and nothing is waited for after {since} disturbed it."
        return said, "Put a `wait` between the work and the reading."

    return words


def _no_caution(what: str, work: str, caution: str) -> Words:
    said = f"{what} ({work}) comes before the caution `{caution}` is acknowledged."
    cure = f"Put `caution: {caution}` above it, on every way that leads here."
    return lambda way: (said, cure)


def _no_work(what: str, work: str, group: tuple[str, ...]) -> Words:
    first = " or ".join(f"`{one}`" for one in group)
    said = f"{what} ({work}) may come without {first} done before it."
    return lambda way: (said, f"Do {first} before it, on every way that leads here.")


def _no_need(what: str, work: str, name: str) -> Words:
    said = f"{what} ({work}) needs `{name}` known and fresh, and here it may not be."
    cure = f"Ask `{name}` before it, with a `couldn't:` that leads elsewhere."
    return lambda way: (said, cure)


def _not_stated(what: str, work: str, test: str) -> Words:
    said = f"{what} ({work}) is allowed only if {test}; no decide line has said so, still fresh, on this way."
    cure = f"Decide it before: a line or row that leads here only if {test}."
    return lambda way: (said, cure)


def _unsettled(name: str, unknown: list[str]) -> Words:
    which = " and ".join(f"`{one}`" for one in unknown) or "what a sum in it gives"
    said = f"`{name}` has no `unsettled:`, and {which} may be unknown here: more than one way stays open."
    cure = "Add `unsettled: STEP`, here or at the head of the tree, or name `unknown` in its rows or lines."
    return lambda way: (said, cure)


def _no_places(places: str, column: str) -> Words:
    said = f"`{column}` may be unknown here, and the list `{places}` has no places for that."
    cure = f"Name `unknown` in a row of `{places}`, or ask with `couldn't:`."
    return lambda way: (said, cure)


def _settled(name: str) -> Words:
    said = f"`{name}` must be settled, and has no `unsettled:` for when it can't be."
    return lambda way: (said, "Add `unsettled: STEP`, here or at the head of the tree.")


def _back_leaves(thing: str) -> Words:
    said = f"The walk can end here with this left: {thing}."
    cure = "This tree can be walked by itself: clear it before `back`, or end in a finding."
    return lambda way: (said, cure)


def _never_left(thing: str) -> Words:
    return lambda way: (f"Nothing leaves `{thing}` on any way to this finding.", "Take it out of `leaving:`.")
