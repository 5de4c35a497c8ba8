"""Which US leak repair rule a circuit falls under: 40 CFR 82.157 or 84.106."""

from __future__ import annotations

from tui.quantity import Quantity, Refused, parse_literal
from tui.quantity.kinds import Kind
from tui.trade.properties import LAW_GWP, Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

NONE, OZONE, HFC = "none", "40 CFR 82", "40 CFR 84"

OZONE_FROM = parse_literal("50 lb").si
HFC_FROM = parse_literal("15 lb").si
HFC_SINCE = parse_literal("2026-01-01").si
HFC_GWP = 53.0


def us_leak_rule(
    site: Site, properties: Properties, refrigerant: str, charge: Quantity, today: Quantity
) -> str:
    """``40 CFR 82``: 50 lb or more of a refrigerant with a class I or II substance in it. ``40 CFR 84``: from
    2026-01-01 15 lb or more with a GWP above 53, not ozone depleting alone. Else ``none``.

    `charge`: full charge of this one circuit. Not known here: residential and light commercial air
    conditioning and heat pumps, which 84.106 leaves out; state rules; a blend of both kinds at 50 lb or more,
    which falls under both and is told as 82. `none` says only that these two rules don't ask for a
    repair: venting is forbidden all the same. Raises Refused for a charge that isn't above zero and for a
    refrigerant that is not carried.
    """
    if charge.si <= 0.0:
        raise Refused("out-of-range", "The full charge must be above zero.", "Read the plate again.")
    ozone = properties.fact("ozone-depleting", refrigerant)
    if ozone != "no" and charge.si >= OZONE_FROM:
        return OZONE
    if ozone == "all" or today.si < HFC_SINCE or charge.si < HFC_FROM:
        return NONE
    return HFC if properties.look(LAW_GWP, refrigerant).value > HFC_GWP else NONE


SUMS = (
    Sum(
        "us-leak-rule",
        (Kind.CHOICE, Kind.MASS, Kind.DATE),
        Kind.CHOICE,
        "which US leak repair rule it falls under",
        "40 CFR 82.157(a) and 84.106(a)",
        us_leak_rule,
        (NONE, OZONE, HFC),
    ),
)
