"""What a difference does to examples: each walked with the trees then and now, and with one figure changed alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from tui.proof.diff.difference import CHANGED, Difference
from tui.proof.diff.figures import with_figure
from tui.proof.diff.parts import CATALOGUE
from tui.proof.examples import Found, found_by, walked
from tui.proof.reading import OWN_KEYS
from tui.quantity import Refused
from tui.tree import source
from tui.tree.library import Library
from tui.tree.model import Figure
from tui.walk import Walk
from tui.walk.answers import Answers


@dataclass(frozen=True, slots=True)
class Ending:
    """The findings a visit ends in; `refused`: why it could not be walked to an end, else empty."""

    found: tuple[Found, ...]
    refused: str = ""


@dataclass(frozen=True, slots=True)
class EndsElsewhere:
    """An example that ends otherwise than before."""

    name: str
    old: Ending
    new: Ending


@dataclass(frozen=True, slots=True)
class Tried:
    """`walked`: how many examples there are. `alone`: by figure, what it does when nothing else changes.

    A figure that is new, gone or of another kind can't be tried alone and is not in it.
    """

    walked: int
    elsewhere: tuple[EndsElsewhere, ...]
    alone: Mapping[str, tuple[EndsElsewhere, ...]]


@dataclass(frozen=True, slots=True)
class _Before:
    """How an example ended with the old trees, the trees it came by and the figures it looked up."""

    answers: Answers
    ending: Ending
    trees: frozenset[str]
    figures: frozenset[str]


def visits(files: Mapping[str, Path]) -> dict[str, Answers]:
    """The visits of example files by name; of two with one name the later. What they expect is not looked at.

    files: by how messages name them. Raises Refused for a file that can't be read and a visit that is none.
    """
    found: dict[str, Answers] = {}
    for named, file in files.items():
        for key, node in source.read_text(named, source.read_bytes(file, named), flow=True).entries:
            if not isinstance(node, source.Mapping):
                where = f"{key.spot.path}:{key.spot.line}:{key.spot.column}"
                say = f"{where}: {key.text}: a visit was expected here."
                raise Refused("bad-example", say, "See: lowside examples")
            found[key.text] = Answers.from_node(node, key.path, besides=OWN_KEYS)
    return found


def tried(old: Library, new: Library, difference: Difference, examples: Mapping[str, Answers]) -> Tried:
    """Walk the examples; those that come by nothing that changed are not walked again."""
    touch = _Touch.of(difference)
    if not touch.any:
        return Tried(len(examples), (), {})
    before = {name: _before(old, answers) for name, answers in examples.items()}
    again = {name: each for name, each in before.items() if touch.touches(each)}
    elsewhere = tuple(_otherwise(new, again, difference.names))
    alone = {}
    for name in touch.figures:
        figure = _alone(old, new, name)
        if figure is not None:
            users = {example: each for example, each in before.items() if name in each.figures or each.ending.refused}
            alone[name] = elsewhere if touch.only(name) else tuple(_otherwise(with_figure(old, figure), users, {}))
    return Tried(len(examples), elsewhere, alone)


@dataclass(frozen=True, slots=True)
class _Touch:
    """What of a difference can end a visit elsewhere. every: it can't be said which visits."""

    trees: frozenset[str]
    figures: tuple[str, ...]
    every: bool

    @classmethod
    def of(cls, difference: Difference) -> _Touch:
        trees = {each.tree for each in difference.elsewhere} | {each.tree for each in difference.steps}
        trees |= {each.tree for each in difference.trees if each.change != CHANGED}
        told = {each.where for each in difference.changed if not each.read}
        entries = {where for where in told if where.startswith(CATALOGUE)}
        trees |= {where.partition("/")[0] for where in told - entries}
        figures = tuple(change.figure for change in difference.figures)
        return cls(frozenset(trees), figures, bool(entries or difference.entries))

    @property
    def any(self) -> bool:
        return bool(self.trees or self.figures or self.every)

    def only(self, figure: str) -> bool:
        return self.figures == (figure,) and not (self.trees or self.every)

    def touches(self, before: _Before) -> bool:
        """A visit that came by none of it ends where it did."""
        known = not before.ending.refused
        return self.every or not known or bool(before.trees & self.trees or before.figures & {*self.figures})


def _alone(old: Library, new: Library, name: str) -> Figure | None:
    """The figure as it is now, where the trees of before can use it."""
    before, after = old.catalogue.figures.get(name), new.catalogue.figures.get(name)
    if before is None or after is None or before.kind is not after.kind:
        return None
    columns = after.table.columns if after.table is not None else ()
    known = before.table.columns if before.table is not None else ()
    return after if set(columns) <= set(known) else None


def _before(old: Library, answers: Answers) -> _Before:
    looked_up = _Noted(old.catalogue.figures)
    noting = replace(old, catalogue=replace(old.catalogue, figures=looked_up))
    walk, refused = walked(noting, answers)
    trees = {event["tree"] for event in walk.events if event["event"] == "entered"} if walk is not None else set()
    return _Before(answers, _ending(walk, refused), frozenset(trees), frozenset(looked_up.asked))


def _ending(walk: Walk | None, refused: str) -> Ending:
    return Ending(found_by(walk) if walk is not None else (), refused)


def _otherwise(
    library: Library, before: Mapping[str, _Before], names: Mapping[str, Mapping[str, str]]
) -> Iterator[EndsElsewhere]:
    """Those that end otherwise with this library; a finding of another name only is the same one."""
    for name, each in before.items():
        now = _ending(*walked(library, each.answers))
        then = tuple(_renamed(found, names) for found in each.ending.found)
        if (then, bool(each.ending.refused)) != (now.found, bool(now.refused)):
            yield EndsElsewhere(name, each.ending, now)


def _renamed(found: Found, names: Mapping[str, Mapping[str, str]]) -> Found:
    tree, _, step = found.at.partition("/")
    return replace(found, at=f"{tree}/{names.get(tree, {}).get(step, step)}")


class _Noted(dict[str, Figure]):
    """Figures that note which of them were looked up."""

    def __init__(self, figures: Mapping[str, Figure]) -> None:
        super().__init__(figures)
        self.asked: set[str] = set()

    def get(self, name: str, otherwise: Any = None) -> Any:
        if name in self:
            self.asked.add(name)
        return super().get(name, otherwise)

    def __getitem__(self, name: str) -> Figure:
        self.asked.add(name)
        return super().__getitem__(name)
