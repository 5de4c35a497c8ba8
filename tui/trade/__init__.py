"""The trade's sums: pure functions of quantities, each with its units, its errors and its source.

Trees call them by name out of SUMS. Nothing here asks, draws, remembers or reads a clock.
"""

from __future__ import annotations

from tui.refrigerant import Look
from tui.trade import (
    air,
    charge,
    electrical,
    eu,
    hoses,
    leaks,
    lines,
    nitrogen,
    orifice,
    saturation,
    standing,
    targets,
    us_leak,
    us_recovery,
    us_rule,
)
from tui.trade.properties import Properties, TableProperties
from tui.trade.site import Site
from tui.trade.sums import Sum

_MODULES = (
    saturation,
    targets,
    lines,
    hoses,
    charge,
    standing,
    nitrogen,
    orifice,
    air,
    leaks,
    us_leak,
    us_recovery,
    us_rule,
    eu,
    electrical,
)

SUMS: dict[str, Sum] = {
    one.name: one
    for module in _MODULES
    for one in module.SUMS
}

__all__ = ["SUMS", "Look", "Properties", "Site", "Sum", "TableProperties"]
