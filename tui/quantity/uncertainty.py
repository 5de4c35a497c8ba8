"""How far a value can be trusted, and what a comparison of two is worth.

JCGM 100 (GUM): a half-width is a rectangular distribution (4.3.7), contributions add as signed
sensitivities by source (5.1), coverage factor 2 (6.2). JCGM 106: a margin inside the expanded
uncertainty decides nothing for certain (8.3, guard bands).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from tui.quantity.kinds import Kind, difference_of
from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.value import COVERAGE, Quantity

_NOISE = 1e-12
OWN_SHARE = 3 / 8
"""How much of the variance (u squared) of an instrument's fixed error is another one in its next reading.

Two readings of one instrument are correlated, not equally wrong (JCGM 100, 5.2 and F.1.2.3). What is a share of the
reading is the scale's, and the same again. Of what is fixed a part comes with the place: how a clamp sits, which of a
set it is, what liquid stands in a hose. No figure is published for what is in a van, so the least is taken at which a
difference of two is told close, before or after, when one is wrong by twice what it is good to: 4 sqrt(2 s / 3) >= 2.
Such a difference has 0.87 of one reading's error: more than nothing (all shared), less than 1.4 times (nothing shared).
"""


def propagate(
    kind: Kind, function: Callable[..., float], *quantities: Quantity, unit: str = "",
) -> Quantity:
    """`function` of the SI values of `quantities`, its errors carried by central differences.

    function: floats in SI to a float in SI of `kind`. The step is the quantity's own standard
    uncertainty. Where the function refuses on one side, the other side's slope is taken.
    Raises what the function raises at the values themselves.
    """
    values = [quantity.si for quantity in quantities]
    result = function(*values)
    errors: dict[str, float] = {}
    for place, quantity in enumerate(quantities):
        if not quantity.errors or not quantity.u:
            continue
        slope = _slope(function, values, place, quantity.u, result)
        for source, error in quantity.errors.items():
            errors[source] = errors.get(source, 0.0) + slope * error
    return Quantity(kind, result, unit, "", errors)


def _slope(function: Callable[..., float], values: list[float], place: int, u: float, middle: float) -> float:
    step = max(u, abs(values[place]) * 1e-9)
    points: list[tuple[float, float]] = []
    for moved in (values[place] - step, values[place] + step):
        try:
            points.append((moved, function(*values[:place], moved, *values[place + 1:])))
        except Refused:
            points.append((values[place], middle))
    (x1, y1), (x2, y2) = points
    if x1 == x2:
        raise Refused("out-of-range", "This value stands too near a limit to say how sure it is.",
                      "Use a finer instrument, or take another reading.")
    return (y2 - y1) / (x2 - x1)


@dataclass(frozen=True)
class Accuracy:
    """What an instrument is good to: a half-width, ``fixed`` (SI) plus ``relative`` of the reading.

    kind: of the fixed part (a difference, never a point on a scale), None when all is of the reading.
    """

    fixed: float
    relative: float
    kind: Kind | None
    text: str

    @classmethod
    def parse(cls, text: str) -> Accuracy:
        """Read ``0.5 psi``, ``1 % of 250 psi``, ``10 % of reading``, or such parts joined by `` + ``.

        Refused with the codes of `parse_literal`, ``wrong-kind`` or ``unreadable``.
        """
        fixed, relative, kind = 0.0, 0.0, None
        for part in text.split(" + "):
            more_fixed, more_relative, its_kind = _part(part.strip(), text)
            if its_kind is not None and kind is not None and its_kind is not kind:
                raise Refused("wrong-kind", f"{quoted(text)} adds {kind.named} to {its_kind.named}.", _CURE)
            fixed, relative, kind = fixed + more_fixed, relative + more_relative, its_kind or kind
        return cls(fixed, relative, kind, text)

    @classmethod
    def declared(cls, text: str) -> Accuracy:
        """As `parse`, of an instrument that somebody declares now: what none can be is refused (``no-accuracy``).

        That is never being wrong, or being wrong by more than it could still be read for. `parse` takes those too:
        an old record may hold them.
        """
        found = cls.parse(text)
        widest = _WIDEST.get(found.kind) if found.kind is not None else None
        finest = _FINEST * (widest[0] if widest is not None else 1.0)
        if found.relative < _FINEST and found.fixed < finest:
            say = f"{quoted(text)} says that it is never wrong; every instrument is, by a little."
            raise Refused("no-accuracy", say, f"Its papers say by how much. {_CURE}")
        if found.relative >= 1.0 or (widest is not None and found.fixed > widest[0]):
            most = "less than 100 % of reading" if found.relative >= 1.0 or widest is None else f"at most {widest[1]}"
            raise Refused("no-accuracy", f"{quoted(text)} is so wide that nothing could be read with it.",
                          f"It is how far it may be off, {most}. {_CURE}")
        return found

    def fits(self, kind: Kind) -> bool:
        """Can this be the accuracy of a reading of `kind`?

        A share of the reading makes no sense for a temperature or a date: their zero is arbitrary.
        """
        if self.relative and kind in (Kind.TEMPERATURE, Kind.DATE):
            return False
        return self.kind is None or self.kind is difference_of(kind)

    def half_width(self, si: float) -> float:
        """Half-width in SI at a reading of `si`."""
        return self.fixed + self.relative * abs(si)

    def standard(self, si: float) -> float:
        """Standard uncertainty in SI: a rectangular half-width over the root of 3 (JCGM 100, 4.3.7)."""
        return self.half_width(si) / math.sqrt(3)

    def contributions(self, si: float, instrument: str, own: str) -> dict[str, float]:
        """Of a reading of `si`, by source: what the instrument is wrong by each time, and what is this reading's own.

        Standard uncertainties in SI; their root sum of squares is that of `standard`, whatever the share.
        """
        whole, alone = self.standard(si), math.sqrt(OWN_SHARE) * self.fixed / math.sqrt(3)
        return {instrument: math.sqrt(whole**2 - alone**2), own: alone} if alone else {instrument: whole}


# The widest half-width that anybody would still measure with, in SI and in words: no source, judged from what is sold.
_WIDEST = {
    Kind.PRESSURE_DIFFERENCE: (100 * 6894.757293168361, "100 psi (7 bar)"),
    Kind.TEMPERATURE_DIFFERENCE: (20.0, "36 dF (20 dC)"),
    Kind.MASS: (5.0, "5 kg (11 lb)"),
    Kind.CURRENT: (50.0, "50 A"),
    Kind.VOLTAGE: (50.0, "50 V"),
}
_FINEST = 1e-6  # of the widest, or of the reading: nothing in a van is that fine
_CURE = "Write it as 0.5 psi, 1 % of 250 psi, or 10 % of reading."


def _part(part: str, whole: str) -> tuple[float, float, Kind | None]:
    from tui.quantity.literal import parse_literal

    head, of, tail = part.partition(" of ")
    share = parse_literal(head)
    if share.si < 0:
        raise Refused("unreadable", f"{quoted(whole)}: how far it may be off is counted from zero up.", _CURE)
    if (not of and share.kind in (Kind.RATIO, Kind.NUMBER)):
        raise Refused("unreadable", f"{quoted(whole)} says no accuracy.", _CURE)
    if not of:
        if difference_of(share.kind) is not share.kind:
            raise Refused("wrong-kind", f"{quoted(head)} is {share.kind.named}; an accuracy is a difference.",
                          "Write dF, dC, psi or bar.")
        return share.si, 0.0, share.kind
    if share.kind is not Kind.RATIO:
        raise Refused("wrong-kind", f"{quoted(head)} is no share: write it in %.", _CURE)
    if tail.strip() == "reading":
        return 0.0, share.si, None
    full = parse_literal(tail.strip())
    kind = difference_of(full.kind)
    if full.kind in (Kind.TEMPERATURE, Kind.DATE):
        raise Refused("wrong-kind", f"A share of {full.kind.named} says nothing.", _CURE)
    return share.si * abs(full.si), 0.0, kind


@dataclass(frozen=True)
class Comparison:
    """`verdict` low, on or high; `margin` = value minus the nearest edge, with its errors.

    u: standard uncertainty of the margin (SI). close: the margin is inside twice that; `other` is then
    the verdict on the other side of that edge, else None. others: every verdict still possible beside
    `verdict` (two, where the uncertainty is wider than the band).
    """

    verdict: str
    margin: Quantity
    u: float
    close: bool
    other: str | None
    others: tuple[str, ...] = ()


def compare(value: Quantity, low: Quantity | None, high: Quantity | None) -> Comparison:
    """Is `value` below `low`, above `high`, or on (edges included)? None: that side doesn't exist.

    Errors of one source in value and edge cancel. Raises KindRefused for another kind, ValueError
    without any edge.
    """
    sides = []
    verdict = "on"
    for edge, beyond, sign in ((low, "low", -1.0), (high, "high", 1.0)):
        if edge is None:
            continue
        margin = _snapped(value - edge, value.si, edge.si)
        if margin.si * sign > 0 and verdict == "on":
            verdict = beyond
        sides.append((margin, beyond))
    if not sides:
        raise ValueError("a comparison needs an edge")
    nearest = min(sides, key=lambda side: abs(side[0].si))
    doubtful = [side for side in sides if abs(side[0].si) < COVERAGE * side[0].u]
    margin, beyond = min(doubtful, key=lambda side: abs(side[0].si)) if doubtful else nearest
    close = bool(doubtful)
    other = ("on" if verdict == beyond else beyond) if close else None
    others = {"on"} if any(verdict == side[1] for side in doubtful) else set()
    others |= {side[1] for side in doubtful if side[1] != verdict}
    return Comparison(verdict, margin, margin.u, close, other,
                      tuple(word for word in ("low", "on", "high") if word in others))


def _snapped(margin: Quantity, value: float, edge: float) -> Quantity:
    """A margin of nothing but rounding is none."""
    if margin.si and abs(margin.si) <= _NOISE * max(abs(value), abs(edge)):
        return Quantity(margin.kind, 0.0, margin.unit, "", margin.errors)
    return margin
