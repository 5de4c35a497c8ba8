"""Which causes can still be found from a place: the steps that can be reached, read off the trees.

What a person would have to say yes to first (an offer) does not count.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.tree.model import Ask, Back, Decide, Do, FindingStep, Go, Repeat, Step, Tree, Wait
from tui.walk.program import Program, program

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk.circuit import Frame

Seen = tuple[frozenset[str], frozenset[str]]
NOTHING: Seen = frozenset(), frozenset()


class Reach:
    """`seen` of a step is (cause ids, outcomes by which its tree may come back)."""

    def __init__(self, library: Library) -> None:
        self._trees = library.trees
        self._given: dict[str, frozenset[str]] = {}
        self._programs: dict[str, Program] = {}
        self._known: dict[str, dict[str, Seen]] = _kept(library.trees)

    def from_frames(self, frames: list[Frame]) -> frozenset[str]:
        """Causes that can be found by going on from where these frames stand."""
        return self._from(frames, len(frames) - 1, frames[-1].step.name) if frames else frozenset()

    def from_destination(self, frames: list[Frame], step: Step, destination: str) -> frozenset[str]:
        """Causes that could be found if `step` went to `destination`."""
        causes: frozenset[str] = frozenset()
        for name in targets(frames[-1].program, step, destination):
            causes |= self._from(frames, len(frames) - 1, name)
        return causes

    def _from(self, frames: list[Frame], depth: int, step: str) -> frozenset[str]:
        made = frames[depth].program
        causes, outcomes = self._seen(made.tree.name, step)
        if depth > 0:
            caller = frames[depth - 1]
            go = caller.step
            if isinstance(go, Go):
                for outcome in outcomes & go.comes_back.keys():
                    for name in targets(caller.program, go, go.comes_back[outcome]):
                        causes |= self._from(frames, depth - 1, name)
        return causes

    def beyond(self, tree: str) -> dict[str, list[str]]:
        """The trees this one leads to, each with the causes that can be found from its beginning.

        A session keeps it: its replay may know only the trees that were entered.
        """
        called = dict.fromkeys(c for step in self._program(tree).steps.values() for c in _called(step))
        return {name: sorted(self._causes(name)) for name in called}

    def give(self, beyond: Mapping[str, list[str]]) -> None:
        """What an earlier `beyond` said, for trees that are not here."""
        missing = {name: frozenset(causes) for name, causes in beyond.items() if name not in self._trees}
        if missing:
            self._given.update(missing)
            self._known = {}  # other walks on these trees were not told

    def _causes(self, tree: str) -> frozenset[str]:
        if tree not in self._trees:
            return self._given.get(tree, frozenset())
        return self._seen(tree, self._trees[tree].steps[0].name)[0]

    def _seen(self, tree: str, step: str) -> Seen:
        if tree not in self._known:
            self._known[tree] = {}  # trees make no ring; should they, it ends here
            self._known[tree] = self._read(self._program(tree))
        return self._known[tree].get(step, NOTHING)

    def _read(self, made: Program) -> dict[str, Seen]:
        """What lies below each step in its own tree, and all of the trees that are entered from there."""
        causes = {name: self._own_causes(step) for name, step in made.steps.items()}
        outcomes = {name: {step.outcome} if isinstance(step, Back) else set() for name, step in made.steps.items()}
        after = {name: _after(made, step) for name, step in made.steps.items()}
        grown = True
        while grown:  # from the bottom up; only a round needs it more than once
            grown = False
            for name in reversed(made.steps):
                before = len(causes[name]) + len(outcomes[name])
                causes[name].update(*(causes[below] for below in after[name]))
                outcomes[name].update(*(outcomes[below] for below in after[name]))
                grown |= len(causes[name]) + len(outcomes[name]) > before
        return {name: (frozenset(causes[name] - {"cannot-tell"}), frozenset(outcomes[name])) for name in made.steps}

    def _own_causes(self, step: Step) -> set[str]:
        own = set().union(*map(self._causes, _called(step)))
        if isinstance(step, FindingStep):
            own.update(step.could_be, [step.cause] if step.cause else [])
        return own

    def _program(self, tree: str) -> Program:
        if tree not in self._programs:
            self._programs[tree] = program(self._trees[tree])
        return self._programs[tree]


_last: list[tuple[Mapping[str, Tree], dict[str, dict[str, Seen]]]] = []


def _kept(trees: Mapping[str, Tree]) -> dict[str, dict[str, Seen]]:
    """What was read off these trees for the walk before: read once for all walks on one library."""
    if not _last or _last[0][0] is not trees:
        _last[:] = [(trees, {})]
    return _last[0][1]


def _after(made: Program, step: Step) -> tuple[str, ...]:
    """The steps of its own tree that a step can lead to."""
    led = (targets(made, step, destination) for destination in destinations(step, made.tree.unsettled))
    return tuple(dict.fromkeys(name for names in led for name in names))


def _called(step: Step) -> list[str]:
    if isinstance(step, Go):
        return [step.tree]
    return [step.go_on] if isinstance(step, FindingStep) and step.go_on else []


def destinations(step: Step, default_unsettled: str | None) -> list[str]:
    """Where a step can lead, as destinations of the language (``carry on``, ``go round``, a name)."""
    if isinstance(step, FindingStep | Back):
        return []
    found = _own_destinations(step, default_unsettled)
    if isinstance(step, Ask | Do | Wait) and step.couldnt:
        found.append(step.couldnt)
    if isinstance(step, Wait) and step.cut_short:
        found.append(step.cut_short)
    if step.only_when is not None:
        found.append("carry on")
    return found


def _own_destinations(step: Step, default_unsettled: str | None) -> list[str]:
    if isinstance(step, Decide):
        rows = step.table.rows if step.table is not None else step.lines
        unsettled = step.unsettled or default_unsettled
        return [row.to for row in rows] + ([unsettled] if unsettled else [])
    if isinstance(step, Repeat):
        return [step.steps[0].name, *(line.to for line in step.stops), step.out]
    if isinstance(step, Go):
        return list(step.comes_back.values()) or (["carry on"] if step.each_circuit else [])
    return [step.then or "carry on"]


def targets(made: Program, step: Step, destination: str) -> list[str]:
    """The steps a destination may mean; a round may begin again or be the last."""
    if destination == "carry on":
        below = made.below[step.name]
        if below is not None:
            return [below.name]
        inside = made.inside[step.name]
        return [] if inside is None else [inside.name]
    if destination == "go round":
        return [next(made.around(step)).name]
    return [destination]
