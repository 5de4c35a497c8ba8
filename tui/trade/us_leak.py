"""Leak rates as 40 CFR 82.152 and 84.102 define them (a year of 365 days there)."""

from __future__ import annotations

from collections.abc import Sequence

from tui.quantity import Kind, Quantity, Refused
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

DAY = 86400.0
YEAR = 365.0  # days, by the rule

# A rate exactly at a threshold is not over it: 4 lb of 20 lb must be 20 %, not a hair above.
_DIGITS = 12


def us_leak_rate(
    site: Site,
    properties: Properties,
    added: Quantity,
    full: Quantity,
    last_addition: Quantity,
    this_addition: Quantity,
) -> Quantity:
    """Annualising method: (added / full) / (shorter of days since last addition and 365, over 365).

    Several additions for one leak count as one. Raises Refused for a full charge that isn't above
    zero and for dates less than a day apart: additions of one day belong to one service.
    """
    _full_charge(full)
    days = (this_addition - last_addition).si / DAY
    if days < 1.0:
        raise Refused(
            "no-time-between",
            "Both additions lie on one day, or the wrong way round.",
            "Count additions of one day as one, and give the day of the addition before it.",
        )
    return _rounded((added / full) * (YEAR / min(days, YEAR)))


def us_rolling_leak_rate(
    additions: Sequence[tuple[Quantity, Quantity]],
    full: Quantity,
    today: Quantity,
    verified: Quantity | None = None,
) -> Quantity:
    """Rolling method: what was added in the last 365 days over the full charge.

    `additions` are (mass, date). `verified`: date of the last successful follow-up verification
    test, which shortens the look back. No division by the shorter time. Raises Refused for a full
    charge that isn't above zero.
    """
    _full_charge(full)
    since = today.si - YEAR * DAY
    if verified is not None:
        since = max(since, verified.si)
    total = Quantity(Kind.MASS, 0.0)
    for mass, day in additions:
        if since < day.si <= today.si:
            total = total + mass
    return _rounded(total / full)


def _full_charge(full: Quantity) -> None:
    if full.si <= 0.0:
        raise Refused("out-of-range", "The full charge must be above zero.", "Read the plate again.")


def _rounded(share: Quantity) -> Quantity:
    return Quantity(Kind.RATIO, round(share.si, _DIGITS), errors=share.errors)


SUMS = (
    Sum(
        "us-leak-rate",
        (Kind.MASS, Kind.MASS, Kind.DATE, Kind.DATE),
        Kind.RATIO,
        "leak rate by the annualising method",
        "40 CFR 82.152 and 84.102, leak rate",
        us_leak_rate,
    ),
)
