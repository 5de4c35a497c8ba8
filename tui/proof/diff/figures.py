"""Figures that changed, and what uses each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from tui.proof.diff.combinations import compare
from tui.proof.diff.content import printed
from tui.proof.diff.parts import kind_of
from tui.tree.check.names import Names, bits, derived_from, every_step, in_test, step_uses
from tui.tree.library import Library
from tui.tree.model import Decide, Figure, Judge, Repeat, Step, Tree, Wait, WorkOut


@dataclass(frozen=True, slots=True)
class Value:
    """`row`: for which words of its columns; empty for a figure that is one number. Empty: there was, or is, none."""

    row: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class UsedBy:
    """A step, or an entry of the catalogue, that hangs on a figure; `does`: what kind it is.

    through: the names it hangs on it by, in turn; empty where it names the figure itself.
    """

    at: str
    does: str
    through: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FigureChange:
    """`change`: ``new``, ``gone`` or ``changed``; of one that is only from another source, `values` is empty."""

    figure: str
    change: str
    values: tuple[Value, ...]
    used_by: tuple[UsedBy, ...]


def figure_changes(old: Library, new: Library) -> list[FigureChange]:
    """Every figure with another value, kind or source. Users are those of the library that has it, of now first."""
    then, now = old.catalogue.figures, new.catalogue.figures
    users = Users(new), Users(old)
    changes = []
    for name in {**now, **then}:
        before, after = then.get(name), now.get(name)
        if before is None or after is None:
            shown = tuple(_whole(figure) for figure in (before, after))
            change = "new" if before is None else "gone"
            changes.append(FigureChange(name, change, (Value("", *shown),), users[after is None].of(name)))
        elif values := tuple(_values(before, after)):
            changes.append(FigureChange(name, "changed", values, users[0].of(name)))
    return changes


def _whole(figure: Figure | None) -> str:
    if figure is None:
        return ""
    return printed(figure.value) if figure.table is None else f"by {', '.join(figure.table.columns)}"


def _values(old: Figure, new: Figure) -> Iterator[Value]:
    if old.kind is not new.kind or (old.table is None) != (new.table is None):
        yield Value("", *(f"{_whole(figure)} ({figure.kind.named})" for figure in (old, new)))
    elif old.table is None or new.table is None:
        if old.value is not None and new.value is not None and old.value.si != new.value.si:
            yield Value("", printed(old.value), printed(new.value))
    else:
        found = compare(old.table, new.table, lambda was, now: _si(old, was) == _si(new, now))
        for part in found.parted:
            if not part.unnamed:
                yield Value(found.row(part.cells), part.old or "", part.new or "")


def _si(figure: Figure, row: str) -> float | None:
    """None for what no row of a figure is for: it is then not known."""
    return figure.values[row].si if row in figure.values else None


class Users:
    """Who uses what in one library."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.names = Names.of(library.trees, library.catalogue)
        self.derived = derived_from(library.trees, self.names)
        self.by_bit = {bit: key for key, bit in self.names.bit.items()}

    def of(self, figure: str) -> tuple[UsedBy, ...]:
        """Steps that name it; then the decides, judges and waits that hang on what those work out or judge."""
        direct = [(t, s) for t, s in self._steps() if figure in _named(s, self.library)]
        hanging = 0
        for tree, step in direct:
            if isinstance(step, WorkOut | Judge):
                hanging |= self.derived[self.names.bit[self.names.key(tree.name, step.result)]]
        named = {(tree.name, step.name) for tree, step in direct}
        users = [UsedBy(f"{tree.name}/{step.name}", kind_of(step)) for tree, step in direct]
        for tree, step in self._steps():
            if isinstance(step, Decide | Judge | Wait | Repeat) and (tree.name, step.name) not in named:
                through = self._mask(tree, step) & hanging
                if through:
                    names = tuple(self.by_bit[bit].rpartition("/")[2] for bit in bits(through))
                    users.append(UsedBy(f"{tree.name}/{step.name}", kind_of(step), names))
        return (*users, *self._entries(figure))

    def _steps(self) -> Iterator[tuple[Tree, Step]]:
        for tree in self.library.trees.values():
            for step in every_step(tree.steps):
                yield tree, step

    def _mask(self, tree: Tree, step: Step) -> int:
        mask = self.names.mask(tree.name, step_uses(step, self.library.catalogue))
        for line in step.stops if isinstance(step, Repeat) else ():
            mask |= self.names.mask(tree.name, in_test(line.test))
        return mask

    def _entries(self, figure: str) -> Iterator[UsedBy]:
        catalogue = self.library.catalogue
        for caution in catalogue.cautions.values():
            if figure in {use.name for use in in_test(caution.when)}:
                yield UsedBy(f"catalogue/cautions/{caution.id}", "caution")
        for work in catalogue.works.values():
            if figure in {use.name for test in work.only_if for use in in_test(test)}:
                yield UsedBy(f"catalogue/work/{work.id}", "work")


def _named(step: Step, library: Library) -> set[str]:
    named = {use.name for use in step_uses(step, library.catalogue) if not use.by}
    for line in step.stops if isinstance(step, Repeat) else ():
        named |= {use.name for use in in_test(line.test)}
    return named


def with_figure(library: Library, figure: Figure) -> Library:
    """The same library with one figure in the place of its own."""
    figures: Mapping[str, Figure] = {**library.catalogue.figures, figure.id: figure}
    return replace(library, catalogue=replace(library.catalogue, figures=figures))
