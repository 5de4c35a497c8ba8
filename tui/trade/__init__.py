"""The trade's sums: pure functions of quantities, each with its units, its errors and its source.

Trees call them by name out of SUMS. Nothing here asks, draws, remembers or reads a clock.
"""

from __future__ import annotations

from tui.refrigerant import Look
from tui.trade import saturation
from tui.trade.properties import Properties, TableProperties
from tui.trade.site import Site
from tui.trade.sums import Sum

SUMS: dict[str, Sum] = {one.name: one for room in (saturation,) for one in room.SUMS}

__all__ = ["SUMS", "Look", "Properties", "Site", "Sum", "TableProperties"]
