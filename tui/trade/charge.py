"""Weighing: how much to add, how much went in, what was missing, how fast it went."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

# Steps are 5 to 10 % of the plate (common practice). A tree may choose less, never more: the next
# step must not carry a small circuit past its plate.
LARGEST_STEP = 0.10


def step_size(
    site: Site, properties: Properties, nameplate: Quantity, share: Quantity, most: Quantity
) -> Quantity:
    """Mass of one addition: `share` of the nameplate charge, never above `most`.

    Raises Refused for a plate or a most that isn't above zero, and for a share outside 0 to 10 %.
    """
    _above_zero(nameplate, "The nameplate charge")
    _above_zero(most, "The most for one step")
    if not 0.0 < share.si <= LARGEST_STEP:
        raise Refused(
            "out-of-range",
            f"A step of {share.si:.0%} of the nameplate charge is not a small step.",
            "5 to 10 % is common practice.",
        )
    wanted = nameplate * share
    return most if most.si < wanted.si else wanted


def net_added(
    site: Site, properties: Properties, before: Quantity, now: Quantity, hoses: Quantity
) -> Quantity:
    """What the circuit got: the scale's change less what the hoses hold, taken off once.

    One scale gives both readings, so a scale that is off by a fixed amount does no harm.
    """
    return before - now - hoses


def share_missing(site: Site, properties: Properties, missing: Quantity, nameplate: Quantity) -> Quantity:
    """Missing mass as a share of the nameplate charge. Raises Refused unless the plate is above zero."""
    _above_zero(nameplate, "The nameplate charge")
    return missing / nameplate


def leak_per_year(
    site: Site, properties: Properties, missing: Quantity, last_right: Quantity, today: Quantity
) -> Quantity:
    """Mean leak rate since the charge was last known right, kg/s (a year is 365.25 d, UCUM `a`).

    Raises Refused if nothing is missing (below zero) or if no day has passed: never a division by
    nothing, never a rate from a date that lies ahead.
    """
    if missing.si < 0.0:
        raise Refused(
            "out-of-range",
            "More is in it than the plate says: that is no leak rate.",
            "Weigh again, or read the plate again.",
        )
    span = today - last_right
    if span.si <= 0.0:
        raise Refused(
            "no-time-between",
            "The charge was last known right on this very day or later: no rate can be told.",
            "Give the day of the visit before, or leave the rate out.",
        )
    return missing / span


def leak_over(site: Site, properties: Properties, missing: Quantity, span: Quantity) -> Quantity:
    """Mean leak rate of a mass lost in a time span, kg/s, told in the mass's own unit a year.

    Raises Refused for a mass below or a time not above zero.
    """
    if missing.si < 0.0:
        raise Refused("out-of-range", "Less than nothing was lost: that is no leak rate.", "Weigh again.")
    if span.si <= 0.0:
        raise Refused("no-time-between", "No time has passed: no rate can be told.", "Give the time it took.")
    rate = missing / span
    return rate.shown_in(f"{missing.unit}/yr") if missing.unit else rate


def leak_share(
    site: Site, properties: Properties, missing: Quantity, span: Quantity, nameplate: Quantity
) -> Quantity:
    """Share of the nameplate charge that such a leak takes in a year (365.25 d, UCUM `a`).

    A plain rate: rules have a year and a look back of their own. Raises Refused as `leak_over`, and
    unless the plate is above zero.
    """
    _above_zero(nameplate, "The nameplate charge")
    return leak_over(site, properties, missing, span) * Quantity.of(1, "yr") / nameplate


def _above_zero(mass: Quantity, what: str) -> None:
    if mass.si <= 0.0:
        raise Refused("out-of-range", f"{what} must be above zero.", "Read the plate again.")


SUMS = (
    Sum(
        "step-size",
        (Kind.MASS, Kind.RATIO, Kind.MASS),
        Kind.MASS,
        "how much to add at once",
        "common practice: 5 to 10 % of the nameplate charge",
        step_size,
    ),
    Sum(
        "net-added",
        (Kind.MASS, Kind.MASS, Kind.MASS),
        Kind.MASS,
        "what went in: the scale's change less what the hoses hold",
        "balance of mass",
        net_added,
    ),
    Sum(
        "share-missing",
        (Kind.MASS, Kind.MASS),
        Kind.RATIO,
        "share of the nameplate charge that was missing",
        "definition",
        share_missing,
    ),
    Sum(
        "leak-per-year",
        (Kind.MASS, Kind.DATE, Kind.DATE),
        Kind.LEAK_RATE,
        "mean leak rate since the charge was last right",
        "definition; UCUM year of 365.25 days",
        leak_per_year,
    ),
    Sum(
        "leak-over",
        (Kind.MASS, Kind.TIME_SPAN),
        Kind.LEAK_RATE,
        "mass lost over the time it took",
        "definition; UCUM year of 365.25 days",
        leak_over,
    ),
    Sum(
        "leak-share",
        (Kind.MASS, Kind.TIME_SPAN, Kind.MASS),
        Kind.RATIO,
        "share of the nameplate charge that is lost in a year",
        "definition; UCUM year of 365.25 days",
        leak_share,
    ),
)
