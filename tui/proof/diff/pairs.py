"""Which step of a tree was which before: by its name, else by what it says."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from tui.proof.diff.content import alike, plain
from tui.tree.check.names import every_step
from tui.tree.model import Repeat, Step, Tree

_LIKE_ENOUGH = 0.5  # of all pieces of two steps, for one to be the other under a new name
CARRY_ON, GO_ROUND = "carry on", "go round"


@dataclass(frozen=True, slots=True)
class Place:
    """`inside`: the repeat it stands in, or empty. `below`: the step below in the same list, or empty."""

    inside: str
    below: str


@dataclass(slots=True)
class Pairs:
    """Steps of a tree then and now. `now` is the name now by the name then."""

    old: Tree
    new: Tree
    now: dict[str, str] = field(default_factory=dict)
    places: tuple[dict[str, Place], dict[str, Place]] = ({}, {})

    @classmethod
    def of(cls, old: Tree, new: Tree) -> Pairs:
        pairs = cls(old, new, places=(_places(old), _places(new)))
        pairs._by_name()
        pairs._by_content()
        pairs._by_likeness()
        return pairs

    def both(self) -> Iterator[tuple[Step, Step]]:
        """Each step that stands in both, then and now, in the order of now."""
        then = {now: old for old, now in self.now.items()}
        for step in every_step(self.new.steps):
            if step.name in then:
                yield self.old.named[then[step.name]], step

    def gone(self) -> list[Step]:
        return [step for step in every_step(self.old.steps) if step.name not in self.now]

    def added(self) -> list[Step]:
        there = set(self.now.values())
        return [step for step in every_step(self.new.steps) if step.name not in there]

    def renamed(self) -> list[tuple[Step, Step]]:
        """Steps a person gave another name; names that are made follow from what stands above."""
        return [(old, new) for old, new in self.both() if old.name != new.name and (old.labelled or new.labelled)]

    def moved(self) -> list[Step]:
        """The fewest steps that must have been moved for the rest to stand in the order of before."""
        order = {step.name: place for place, step in enumerate(every_step(self.old.steps))}
        lists: dict[str, list[tuple[int, Step]]] = {}
        away = []
        for old, new in self.both():
            inside = self.places[1][new.name].inside
            if self.now.get(was := self.places[0][old.name].inside, was) == inside:
                lists.setdefault(inside, []).append((order[old.name], new))
            else:
                away.append(new)
        return away + [step for steps in lists.values() for step in _out_of_order(steps)]

    def same(self, step: tuple[Step, Step], old: str, new: str) -> bool:
        """Whether two destinations of a step are one place. What was put between is told as a new step."""
        if old == new and old in (CARRY_ON, GO_ROUND):
            return True
        then, now = self.meant(0, step[0], old), self.meant(1, step[1], new)
        return self.now.get(then, then) == now

    def meant(self, side: int, step: Step, to: str) -> str:
        """`carry on` is the step below; at the end of a round it is another round."""
        place = self.places[side][step.name]
        if to != CARRY_ON:
            return to
        return place.below or (GO_ROUND if place.inside else CARRY_ON)

    # ---- pairing

    def _by_name(self) -> None:
        for name, step in self.old.named.items():
            other = self.new.named.get(name)
            if other is not None and step.labelled and other.labelled:
                self.now[name] = name

    def _by_content(self) -> None:
        """The same words: best with the same made name and in the same repeat, then in the order of the page."""
        keys: tuple[Callable[[int, Step], object], ...] = (
            lambda side, step: (step.name, self._around(side, step)),
            lambda side, step: self._around(side, step),
            lambda side, step: "",
        )
        for key in keys:
            waiting: dict[object, list[Step]] = {}
            for step in self.added():
                waiting.setdefault((key(1, step), plain(step)), []).append(step)
            for step in self.gone():
                found = waiting.get((key(0, step), plain(step)))
                if found:
                    self.now[step.name] = found.pop(0).name

    def _around(self, side: int, step: Step) -> str:
        inside = self.places[side][step.name].inside
        return self.now.get(inside, inside) if side == 0 else inside

    def _by_likeness(self) -> None:
        gone, added = self.gone(), self.added()
        likeness = [
            (-score, abs(i / len(gone) - j / len(added)), i, j)
            for i, old in enumerate(gone)
            for j, new in enumerate(added)
            if (score := alike(old, new)) >= _LIKE_ENOUGH
        ]
        taken: set[int] = set()
        for _, _, i, j in sorted(likeness):
            if gone[i].name not in self.now and j not in taken:
                taken.add(j)
                self.now[gone[i].name] = added[j].name


def _places(tree: Tree) -> dict[str, Place]:
    found: dict[str, Place] = {}

    def look(steps: Sequence[Step], inside: str) -> None:
        for step, below in zip(steps, [*(each.name for each in steps[1:]), ""], strict=True):
            found[step.name] = Place(inside, below)
            if isinstance(step, Repeat):
                look(step.steps, step.name)

    look(tree.steps, "")
    return found


def _out_of_order(steps: Sequence[tuple[int, Step]]) -> list[Step]:
    """Those outside of the longest run that rises."""
    ends: list[int] = []  # the smallest end of a run of each length
    lengths = []
    for number, _ in steps:
        at = bisect_left(ends, number)
        ends[at : at + 1] = [number]
        lengths.append(at + 1)
    kept, wanted = set(), len(ends)
    for i in range(len(steps) - 1, -1, -1):
        if lengths[i] == wanted:
            kept.add(i)
            wanted -= 1
    return [step for i, (_, step) in enumerate(steps) if i not in kept]
