"""EU: tonnes of CO2 equivalent and how often a circuit is checked for leaks. Regulation (EU) 2024/573, Art. 5."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused
from tui.trade.properties import LAW_GWP, Properties
from tui.trade.site import Site
from tui.trade.sums import Sum

NO_DUTY, YEARLY, HALF_YEARLY, QUARTERLY = "no duty", "12 months", "6 months", "3 months"
INTERVALS = (NO_DUTY, YEARLY, HALF_YEARLY, QUARTERLY)

# From so much on: 12, 6, 3 months. Annex I in t CO2 equivalent, Annex II section 1 in kg (from memory).
_TONNES = (5.0, 50.0, 500.0)
_KILOS = (1.0, 10.0, 100.0)
# Hermetic and labelled so: no duty below.
_HERMETIC_TONNES, _HERMETIC_KILOS = 10.0, 2.0

# 5 t must be 5 t, not a hair below.
_DIGITS = 9


def eu_tonnes(site: Site, properties: Properties, refrigerant: str, charge: Quantity) -> Quantity:
    """t CO2 equivalent: kg x GWP / 1000, the GWP by Regulation (EU) 2024/573.

    What that lists not (ozone depleting substances, R-600a): 517/2014, then AR4. Raises Refused for a
    charge that isn't above zero and for a refrigerant that is not carried.
    """
    _full_charge(charge)
    per_kilo = properties.look(LAW_GWP, refrigerant).value / 1000
    errors = {source: per_kilo * error for source, error in charge.errors.items()}
    return Quantity(Kind.NUMBER, round(per_kilo * charge.si, _DIGITS), errors=errors)


def eu_check_interval(
    site: Site, properties: Properties, refrigerant: str, charge: Quantity, hermetic: str
) -> str:
    """How often a leak check is due.

    `hermetic`: ``yes`` only for hermetically sealed equipment that its label calls so. A blend with gases of
    both annexes answers to both, the shorter interval counts. Not known here: a leakage detection system, which
    doubles every interval; residential buildings (hermetic: 3 kg instead of 2). Raises Refused for ozone depleting
    substances, which have a regulation of their own, for a charge that isn't above zero and for a refrigerant that
    is not carried.
    """
    _full_charge(charge)
    if properties.fact("ozone-depleting", refrigerant) != "no":
        raise Refused(
            "not-covered",
            f"{refrigerant} depletes ozone: the F-gas regulation does not say how often it is checked.",
            "Look it up in Regulation (EU) 2024/590 and ask the certified person.",
        )
    first, second = (float(share) / 100 for share in properties.fact("eu-annexes", refrigerant).split())
    tonnes = eu_tonnes(site, properties, refrigerant, charge).si if first else 0.0
    kilos = round(second * charge.si, _DIGITS)
    if hermetic == "yes" and tonnes < _HERMETIC_TONNES and kilos < _HERMETIC_KILOS:
        return NO_DUTY
    return INTERVALS[max(_step(tonnes, _TONNES), _step(kilos, _KILOS))]


def _step(amount: float, bounds: tuple[float, ...]) -> int:
    return sum(amount >= bound for bound in bounds)


def _full_charge(charge: Quantity) -> None:
    if charge.si <= 0.0:
        raise Refused("out-of-range", "The full charge must be above zero.", "Read the plate again.")


SUMS = (
    Sum(
        "eu-tonnes",
        (Kind.CHOICE, Kind.MASS),
        Kind.NUMBER,
        "tonnes of CO2 equivalent",
        "Regulation (EU) 2024/573: mass x GWP",
        eu_tonnes,
    ),
    Sum(
        "eu-check-interval",
        (Kind.CHOICE, Kind.MASS, Kind.CHOICE),
        Kind.CHOICE,
        "how often a leak check is due in the EU",
        "Regulation (EU) 2024/573 Art. 5 (517/2014 Art. 4)",
        eu_check_interval,
        INTERVALS,
    ),
)
