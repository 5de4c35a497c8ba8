"""Which names stand in a place of a library, and what each of them is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple, Protocol

from tui.quantity import Kind

WORD_KINDS = frozenset({Kind.CHOICE, Kind.YES_NO})


class Typed(NamedTuple):
    """A kind (None: broken or not known, nothing more is told of it) and the words it can be."""

    kind: Kind | None
    answers: tuple[str, ...] = ()

    @property
    def is_words(self) -> bool:
        return self.kind in WORD_KINDS and bool(self.answers)


BROKEN = Typed(None)
_NAMED = ("readings", "figures", "places")
PLACE = "place"


def words(answers: tuple[str, ...]) -> Typed:
    """What can be one of these words."""
    return Typed(Kind.YES_NO if set(answers) == {"yes", "no"} else Kind.CHOICE, answers)


class Signature(Protocol):
    """What the typing must know of one of the trade's sums."""

    @property
    def arguments(self) -> tuple[Kind, ...]: ...
    @property
    def result(self) -> Kind: ...
    @property
    def answers(self) -> tuple[str, ...]: ...


class Scope:
    """Names of the catalogue, and inside a tree its own results and places.

    `used` collects the catalogue's names that were met since it was last emptied. `open_`: sections of
    the catalogue that could not be read: then an unknown name is told by nobody.
    """

    __slots__ = ("_open", "_own", "entries", "figures", "places", "readings", "used")

    def __init__(
        self,
        readings: Mapping[str, Typed],
        figures: Mapping[str, Typed],
        open_: set[str] | None = None,
        own: Mapping[str, Callable[[], Typed]] | None = None,
        places: Mapping[str, Typed] | None = None,
    ) -> None:
        self.readings = readings
        self.figures = figures
        self._open = set() if open_ is None else open_
        self.places = places or {}
        self._own = own or {}
        self.used: set[tuple[str, str]] = set()

    @property
    def open(self) -> bool:
        return not self._open.isdisjoint(_NAMED)

    def missing(self) -> list[str]:
        """Sections of the catalogue that should hold names and hold none; from now on they count as not read."""
        found = [section for section, names in (("readings", self.readings), ("figures", self.figures)) if not names]
        self._open.update(found)
        return found

    def find(self, name: str) -> Typed | None:
        """What the name is; None where it is not known here."""
        found = self.readings.get(name)
        if found is not None:
            self.used.add(("readings", name))
            return found
        found = self.figures.get(name)
        if found is not None:
            self.used.add(("figures", name))
            return found
        own = self._own.get(name)
        if own is not None:
            return own()
        found = self.places.get(name)
        if found is not None:
            self.used.add(("places", "all"))
            return found
        return BROKEN if self.open else None

    def names(self) -> list[str]:
        """Every name known here, the tree's own first."""
        return [*self._own, *self.places, *self.readings, *self.figures]
