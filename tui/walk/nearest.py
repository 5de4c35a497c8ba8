"""What it could be on the other side of a close call: the causes that the fewest further questions lead to.

A ranking, not a proof: everything known now is taken to hold on that way too, each further question costs one, and what
speaks against a known answer costs as much as ten. What a finding still leaves possible is told by `reach`, for sure.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator, Mapping
from itertools import count
from typing import TYPE_CHECKING

from tui.tree.model import Ask, Back, Decide, Do, FindingStep, Go, Repeat, Step, Wait
from tui.walk.circuit import CloseCall, Place
from tui.walk.excluding import excluded
from tui.walk.program import Program, program
from tui.walk.reach import targets

if TYPE_CHECKING:
    from tui.walk.circuit import Circuit, Frame
    from tui.walk.world import World

AGAINST = 10  # questions: more than lie between any two steps that agree with what is known
FARTHEST = 40  # questions
CARRY_ON = "carry on"

Way = tuple[tuple[Place, ...], str, str, int]  # who called, tree, step, questions


def close_call(frames: list[Frame], step: Step, ways: list[str], columns: tuple[str, ...]) -> CloseCall:
    """The close call made at `step`, where the last of these frames stands."""
    made = frames[-1].program
    tree = made.tree.name
    callers = tuple((frame.program.tree.name, frame.step.name) for frame in frames[:-1])
    places = tuple((tree, name) for way in ways for name in targets(made, step, way))
    return CloseCall(f"{tree}/{step.name}", callers, places, columns)


def nearest(world: World, circuit: Circuit, call: CloseCall) -> list[str]:
    """The causes that can be found on its other side, nearest first; between equals by name.

    Only in trees that are there: a replay may know none but those that were entered.
    """
    never = excluded(world, circuit)
    with world.properties.aside():
        found = _Search(world, circuit, call.columns).run(call)
    return [cause for _, cause in sorted((far, cause) for cause, far in found.items() if cause not in never)]


class _Search:
    """Dijkstra's, over the steps of all trees that are called from there."""

    def __init__(self, world: World, circuit: Circuit, supposed: tuple[str, ...]) -> None:
        self._world, self._circuit, self._supposed = world, circuit, supposed
        self._programs: dict[str, Program] = {}

    def run(self, call: CloseCall) -> dict[str, int]:
        order = count()
        heap = [(0, next(order), call.callers, tree, name) for tree, name in call.ways]
        seen: set[tuple[tuple[Place, ...], str, str]] = set()
        found: dict[str, int] = {}
        while heap:
            far, _, callers, tree, name = heapq.heappop(heap)
            if (callers, tree, name) in seen:
                continue
            seen.add((callers, tree, name))
            step = self._program(tree).steps[name]
            if isinstance(step, FindingStep):
                for cause in (step.cause,) if step.cause else step.could_be:
                    found.setdefault(cause, far)
                continue
            for there, onto, at, more in self._after(callers, tree, step):
                if far + more <= FARTHEST:
                    heapq.heappush(heap, (far + more, next(order), there, onto, at))
        found.pop("cannot-tell", None)
        return found

    def _program(self, tree: str) -> Program:
        if tree not in self._programs:
            self._programs[tree] = program(self._world.library.trees[tree])
        return self._programs[tree]

    def _after(self, callers: tuple[Place, ...], tree: str, step: Step) -> Iterator[Way]:
        if step.only_when is not None:
            needed = self._world.evaluator(self._circuit, tree).truth(step.only_when).likely
            if needed is not True:
                yield from self._to(callers, tree, step, CARRY_ON, 0)
            if needed is False:
                return
        if isinstance(step, Go | Back):
            yield from self._across(callers, tree, step)
            return
        for destination, more in _LEADS.get(type(step), _plain)(self, tree, step):
            yield from self._to(callers, tree, step, destination, more)

    def _to(self, callers: tuple[Place, ...], tree: str, step: Step, destination: str, more: int) -> Iterator[Way]:
        for name in targets(self._program(tree), step, destination):
            yield callers, tree, name, more

    def _across(self, callers: tuple[Place, ...], tree: str, step: Go | Back) -> Iterator[Way]:
        """Into a tree that is called, or back to where the call came from."""
        if isinstance(step, Go):
            if step.tree in self._world.library.trees:
                first = self._world.library.trees[step.tree].steps[0].name
                yield (*callers, (tree, step.name)), step.tree, first, 0
        elif callers:
            caller, name = callers[-1]
            go = self._program(caller).steps[name]
            if isinstance(go, Go) and step.outcome in go.comes_back:
                yield from self._to(callers[:-1], caller, go, go.comes_back[step.outcome], 0)

    def asked(self, tree: str, step: Ask) -> Iterator[tuple[str, int]]:
        scope = self._world.scope(self._circuit, tree)
        known = all(scope.get(reading) is not None for reading in step.readings)
        yield step.then or CARRY_ON, 0 if known else 1
        if step.couldnt:
            yield step.couldnt, AGAINST

    def done(self, _tree: str, step: Do | Wait) -> Iterator[tuple[str, int]]:
        yield step.then or CARRY_ON, 1
        for otherwise in (step.couldnt, step.cut_short if isinstance(step, Wait) else None):
            if otherwise:
                yield otherwise, AGAINST

    def decided(self, tree: str, step: Decide) -> Iterator[tuple[str, int]]:
        unsettled = step.unsettled or self._program(tree).tree.unsettled
        if unsettled:
            yield unsettled, AGAINST
        yield from self._rows(tree, step) if step.table is not None else self._lines(tree, step)

    def _rows(self, tree: str, step: Decide) -> Iterator[tuple[str, int]]:
        assert step.table is not None
        scope = self._world.scope(self._circuit, tree)
        words = [None if column in self._supposed else scope.get(column) for column in step.table.columns]
        for row in step.table.rows:
            pairs = zip(row.cells, words, strict=True)
            agrees = all(word is None or cell is None or word in cell for cell, word in pairs)
            yield row.to, 0 if agrees else AGAINST

    def _lines(self, tree: str, step: Decide) -> Iterator[tuple[str, int]]:
        evaluator, over = self._world.evaluator(self._circuit, tree), False
        for line in step.lines:
            found = True if line.test is None else evaluator.truth(line.test).likely
            if line.source in self._supposed:
                found = None
            yield line.to, AGAINST if over or found is False else 0
            over = over or found is True

    def rounds(self, _tree: str, step: Repeat) -> Iterator[tuple[str, int]]:
        yield step.steps[0].name, 0
        for destination in (*(line.to for line in step.stops), step.out):
            yield destination, 1


def _plain(_search: _Search, _tree: str, step: Step) -> Iterator[tuple[str, int]]:
    yield step.then or CARRY_ON, 0


_LEADS: Mapping[type, Callable[..., Iterator[tuple[str, int]]]] = {
    Ask: _Search.asked,
    Do: _Search.done,
    Wait: _Search.done,
    Decide: _Search.decided,
    Repeat: _Search.rounds,
}
