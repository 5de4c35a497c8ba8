"""Two libraries compared: trees, steps, ways, words, figures. What that does to examples and sessions is apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tui.proof.diff.figures import FigureChange, figure_changes
from tui.proof.diff.pairs import Pairs
from tui.proof.diff.parts import Changed, Entry, kind_of, of_catalogue, of_step
from tui.proof.diff.ways import UNSETTLED, WAY, Elsewhere, elsewhere
from tui.tree.library import Library
from tui.tree.model import Step, Tree

NEW, GONE, CHANGED, RENAMED, MOVED = "new", "gone", "changed", "renamed", "moved"


@dataclass(frozen=True, slots=True)
class TreeChange:
    """`change`: new, gone, or changed: its text is another, if only in its layout. Editions as written."""

    tree: str
    change: str
    old_edition: str
    new_edition: str


@dataclass(frozen=True, slots=True)
class StepChange:
    """`change`: new, gone, renamed or moved. `was`: its name before, of one renamed. `does`: what kind it is."""

    tree: str
    step: str
    change: str
    does: str
    was: str = ""


@dataclass(slots=True)
class Difference:
    """Empty lists where nothing differs. `names`: by tree, each step's name now by its name then, where they differ."""

    trees: list[TreeChange] = field(default_factory=list)
    elsewhere: list[Elsewhere] = field(default_factory=list)
    steps: list[StepChange] = field(default_factory=list)
    changed: list[Changed] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    figures: list[FigureChange] = field(default_factory=list)
    names: dict[str, dict[str, str]] = field(default_factory=dict)

    @property
    def nothing(self) -> bool:
        """Whether both do and say the same; a tree may still be laid out otherwise."""
        told = (self.elsewhere, self.steps, self.changed, self.entries, self.figures)
        return not any(told) and all(
            tree.change == CHANGED and tree.old_edition == tree.new_edition for tree in self.trees
        )


def difference(old: Library, new: Library) -> Difference:
    """All that parts two libraries that were read without an error."""
    found = Difference(figures=figure_changes(old, new))
    for name in {**old.trees, **new.trees}:
        before, after = old.trees.get(name), new.trees.get(name)
        if before is None or after is None or before.digest != after.digest:
            change = NEW if before is None else GONE if after is None else CHANGED
            editions = [tree.edition if tree is not None else "" for tree in (before, after)]
            found.trees.append(TreeChange(name, change, *editions))
        if before is not None and after is not None:
            _compare(before, after, found)
    for each in of_catalogue(old.catalogue, new.catalogue):
        if isinstance(each, Entry):
            found.entries.append(each)
        else:
            found.changed.append(each)
    return found


def _compare(old: Tree, new: Tree, found: Difference) -> None:
    pairs = Pairs.of(old, new)
    found.steps += _steps(pairs)
    found.changed += _head(old, new)
    found.names |= {new.name: names} if (names := {o: n for o, n in pairs.now.items() if o != n}) else {}
    if old.unsettled != new.unsettled and pairs.now.get(old.unsettled or "", old.unsettled) != new.unsettled:
        words = "where any decide stays open"
        found.elsewhere.append(Elsewhere(new.name, "", WAY, UNSETTLED, words, old.unsettled, new.unsettled))
    for before, after in pairs.both():
        found.elsewhere += elsewhere(pairs, before, after)
        found.changed += of_step(f"{new.name}/{after.name}", before, after)


def _head(old: Tree, new: Tree) -> Iterator[Changed]:
    if old.title != new.title:
        yield Changed(new.name, "title", old.title, new.title, read=True)
    if old.of != new.of:
        yield Changed(new.name, "of", old.of, new.of)


def _steps(pairs: Pairs) -> Iterator[StepChange]:
    tree = pairs.new.name

    def one(step: Step, change: str, was: str = "") -> StepChange:
        return StepChange(tree, step.name, change, kind_of(step), was)

    yield from (one(step, GONE) for step in pairs.gone())
    yield from (one(step, NEW) for step in pairs.added())
    yield from (one(new, RENAMED, old.name) for old, new in pairs.renamed())
    yield from (one(step, MOVED) for step in pairs.moved())
