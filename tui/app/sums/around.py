"""What sums take for granted, as far as somebody has told it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from tui.quantity import Accuracy, Atmosphere, Kind, Quantity, Refused, default_unit
from tui.refrigerant import resolve
from tui.trade import Site

if TYPE_CHECKING:
    from tui.walk import Walk

FIGURES = ("evaporator-td", "condenser-split")
NO_TARGET = ("", "ice maker", "none of these")  # classes of equipment for which the trees judge neither


@dataclass(frozen=True, slots=True)
class Surroundings:
    """`units`: US or SI. `atmosphere`: the air that gauges read against. `refrigerant`: the one at hand.

    `known`: readings of the circuit at hand, and figures of its class, by their ids. `good_to`: what instruments
    are good to, by the catalogue's ids. `today`: the day of the visit.
    """

    units: str = "US"
    atmosphere: Atmosphere | None = None
    refrigerant: str = ""
    known: Mapping[str, Quantity] = field(default_factory=dict)
    good_to: Mapping[str, str] = field(default_factory=dict)
    today: date | None = None

    @property
    def air(self) -> Atmosphere:
        """The air here; sea level where nobody said."""
        return self.atmosphere or Atmosphere()

    @property
    def site(self) -> Site:
        return Site(self.air, self.today or date.today())

    @property
    def carried(self) -> str:
        """The refrigerant at hand, where there is a table of it; else empty."""
        try:
            return resolve(self.refrigerant)
        except Refused:
            return ""

    def accuracy(self, instrument: str, kind: Kind) -> Accuracy | None:
        """How good that instrument is for a reading of `kind`; None where it is not known."""
        text = self.good_to.get(instrument)
        if text is None:
            return None
        try:
            found = Accuracy.parse(text)
        except Refused:
            return None
        return found if found.fits(kind) else None


def around_of(walk: Walk) -> Surroundings:
    """The surroundings of a visit: its units, site and instruments, what is known of the circuit at hand."""
    machine = walk.machine
    values = walk.values()
    earlier = walk.earlier()  # what is not true any more is no figure to begin with
    known = {name: value for name, value in values.items() if isinstance(value, Quantity) and name not in earlier}
    if values.get("equipment", "") not in NO_TARGET:
        known = {**_figures(walk), **known}
    refrigerant = values.get("refrigerant")
    return Surroundings(
        walk.units,
        machine.at_site.atmosphere,
        refrigerant if isinstance(refrigerant, str) else "",
        known,
        {name: machine.good_to(name) for name in machine.catalogue.instruments},
        machine.at_site.today,
    )


def _figures(walk: Walk) -> dict[str, Quantity]:
    """TD and split that the catalogue has for this class of equipment."""
    from tui.tree.model import Name
    from tui.tree.spot import Spot

    circuit = walk.looked_at()
    if circuit is None:
        return {}
    evaluator = walk.machine.evaluator(circuit, "")
    found = {name: evaluator.quantity(Name(name, Spot("", 0, 0))) for name in FIGURES}
    unit = default_unit(Kind.TEMPERATURE_DIFFERENCE, walk.units)
    return {name: value.shown_in(unit) for name, value in found.items() if value is not None}
