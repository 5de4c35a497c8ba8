"""Which causes can still be found from a place: the steps that can be reached, read off the trees.

What a person would have to say yes to first (an offer) does not count.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.tree.model import Ask, Back, Decide, Do, FindingStep, Go, Repeat, Step, Wait
from tui.walk.program import Program, program

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.walk.circuit import Frame

Place = tuple[str, str]
Seen = tuple[frozenset[str], frozenset[str]]


class Reach:
    """`seen` of a place is (cause ids, outcomes by which its tree may come back)."""

    def __init__(self, library: Library) -> None:
        self._trees = library.trees
        self._given: dict[str, frozenset[str]] = {}
        self._programs: dict[str, Program] = {}
        self._known: dict[Place, Seen] = {}
        self._next: dict[Place, tuple[str, ...]] = {}

    def from_frames(self, frames: list[Frame]) -> frozenset[str]:
        """Causes that can be found by going on from where these frames stand."""
        return self._from(frames, len(frames) - 1, frames[-1].step.name) if frames else frozenset()

    def from_destination(self, frames: list[Frame], step: Step, destination: str) -> frozenset[str]:
        """Causes that could be found if `step` went to `destination`."""
        causes: frozenset[str] = frozenset()
        for name in _target(frames[-1].program, step, destination):
            causes |= self._from(frames, len(frames) - 1, name)
        return causes

    def _from(self, frames: list[Frame], depth: int, step: str) -> frozenset[str]:
        made = frames[depth].program
        causes, outcomes = self._seen((made.tree.name, step))
        if depth > 0:
            caller = frames[depth - 1]
            go = caller.step
            if isinstance(go, Go):
                for outcome in outcomes & go.comes_back.keys():
                    for name in _target(caller.program, go, go.comes_back[outcome]):
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
        self._given.update((name, frozenset(causes)) for name, causes in beyond.items())

    def _causes(self, tree: str) -> frozenset[str]:
        if tree not in self._trees:
            return self._given.get(tree, frozenset())
        return self._seen((tree, self._trees[tree].steps[0].name))[0]

    def _seen(self, place: Place) -> Seen:
        """What lies below in the place's own tree, and all of the trees that are entered from there."""
        if place not in self._known:
            self._known[place] = frozenset(), frozenset()  # trees make no ring; should they, it ends here
            tree = place[0]
            steps = self._program(tree).steps
            causes: set[str] = set()
            outcomes: set[str] = set()
            reached, todo = {place[1]}, [place[1]]
            while todo:
                step = steps[todo.pop()]
                if isinstance(step, FindingStep):
                    causes.update(step.could_be, [step.cause] if step.cause else [])
                elif isinstance(step, Back):
                    outcomes.add(step.outcome)
                causes.update(*map(self._causes, _called(step)))
                todo += [after for after in self._after(tree, step) if after not in reached]
                reached.update(self._after(tree, step))
            causes.discard("cannot-tell")
            self._known[place] = (frozenset(causes), frozenset(outcomes))
        return self._known[place]

    def _program(self, tree: str) -> Program:
        if tree not in self._programs:
            self._programs[tree] = program(self._trees[tree])
        return self._programs[tree]

    def _after(self, tree: str, step: Step) -> tuple[str, ...]:
        """The steps of its own tree that a step can lead to: asked again for every place before it, so found once."""
        place = tree, step.name
        if place not in self._next:
            made = self._program(tree)
            led = (_target(made, step, destination) for destination in destinations(step, made.tree.unsettled))
            self._next[place] = tuple(dict.fromkeys(name for names in led for name in names))
        return self._next[place]


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


def _target(made: Program, step: Step, destination: str) -> list[str]:
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
