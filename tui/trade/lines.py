"""Superheat, subcooling and compression ratio.

Superheat stands on dew, subcooling on bubble. Superheat has two places, the evaporator outlet and
the compressor inlet, and one never stands in for the other: hence two names for one sum.
"""

from __future__ import annotations

from tui.quantity import Kind, Quantity, to_absolute
from tui.trade import saturation
from tui.trade.properties import Properties
from tui.trade.site import Site
from tui.trade.sums import Sum


def superheat(
    site: Site, properties: Properties, line: Quantity, suction: Quantity, refrigerant: str
) -> Quantity:
    """Line temperature less dew temperature at the gauge suction pressure; a difference in K.

    Below zero it is no superheat but a reading that can't be: shown as it is, not hidden.
    Raises Refused outside the saturation table.
    """
    return line - saturation.temperature("dew-temperature", site, properties, suction, refrigerant)


def subcooling(
    site: Site, properties: Properties, line: Quantity, head: Quantity, refrigerant: str
) -> Quantity:
    """Bubble temperature at the gauge head pressure less line temperature; a difference in K.

    Raises Refused outside the saturation table (above it there is no condensing at all).
    """
    return saturation.temperature("bubble-temperature", site, properties, head, refrigerant) - line


def compression_ratio(site: Site, properties: Properties, head: Quantity, suction: Quantity) -> Quantity:
    """Absolute head over absolute suction. Raises Refused at or below a full vacuum."""
    return to_absolute(head, site.atmosphere) / to_absolute(suction, site.atmosphere)


_ON_A_LINE = (Kind.TEMPERATURE, Kind.GAUGE_PRESSURE, Kind.CHOICE)

SUMS = (
    Sum(
        "superheat",
        _ON_A_LINE,
        Kind.TEMPERATURE_DIFFERENCE,
        "evaporator outlet less dew temperature",
        "definition",
        superheat,
    ),
    Sum(
        "compressor-superheat",
        _ON_A_LINE,
        Kind.TEMPERATURE_DIFFERENCE,
        "compressor inlet less dew temperature",
        "definition",
        superheat,
    ),
    Sum(
        "subcooling",
        _ON_A_LINE,
        Kind.TEMPERATURE_DIFFERENCE,
        "bubble temperature less line temperature",
        "definition",
        subcooling,
    ),
    Sum(
        "compression-ratio",
        (Kind.GAUGE_PRESSURE, Kind.GAUGE_PRESSURE),
        Kind.RATIO,
        "absolute head over absolute suction",
        "definition",
        compression_ratio,
    ),
)
