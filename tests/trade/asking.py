"""A short way to ask a sum by its name, as a tree does."""

from __future__ import annotations

from dataclasses import replace

from tui.quantity import Atmosphere, Quantity, Value, parse_literal
from tui.trade import SUMS, Site, TableProperties

SEA_LEVEL = Site(Atmosphere())
TABLES = TableProperties()


def site_at(altitude: str) -> Site:
    return Site(Atmosphere.from_altitude(parse_literal(altitude)))


def value(said: str | Quantity) -> Value:
    """``15 °F`` is a quantity, ``R-134a`` a word."""
    if isinstance(said, str) and (said[0].isdigit() or said[0] == "-"):
        return parse_literal(said)
    return said


def ask(name: str, *said: str | Quantity, site: Site = SEA_LEVEL) -> Value:
    return SUMS[name].call(site, TABLES, *(value(one) for one in said))


def work_out(name: str, *said: str | Quantity, site: Site = SEA_LEVEL) -> Quantity:
    found = ask(name, *said, site=site)
    assert isinstance(found, Quantity)
    return found


def unsure(said: str, source: str, half_width: str) -> Quantity:
    """A reading of one instrument that is good to a half-width."""
    one = parse_literal(said)
    return replace(one, errors={source: parse_literal(half_width).si / 3**0.5})
