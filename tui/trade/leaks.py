"""Leaks: how small a one a method shows, and how long nitrogen must stand to show one.

A leak rate here is the mass of refrigerant that a year takes. Gas laws ideal, m' = Q M / (R T) with Q in
Pa m3/s; a flow through a fine hole viscous, Q ~ (p1^2 - p2^2) / viscosity (EN 1779 and the ASNT
Nondestructive Testing Handbook, 3rd ed., vol. 1, from memory).
"""

from __future__ import annotations

from math import log

from tui.quantity import Kind, Quantity, Refused, propagate, to_absolute
from tui.trade.carry import rectangular
from tui.trade.properties import MOLAR_MASS, NITROGEN, VISCOSITY, Properties
from tui.trade.saturation import of_property
from tui.trade.site import Site
from tui.trade.sums import Sum

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
BUBBLES = 1e-5 * 1e-6 * 101325.0  # Pa m3/s: 1e-5 std cm3/s, ASTM E515 clause 1.1
STANDARD_K = 273.15  # 0 °C, the std cm3 of ASTM E515: 1e-5 of them are 4.5e-10 mol
ROOM_K = 293.15  # 20 °C


def of_molar_mass(refrigerant: str) -> str:
    """Id of the error of a blend's molar mass."""
    return f"molar-mass:{refrigerant}"


def of_viscosity(gas: str) -> str:
    """Id of the error of a gas's viscosity."""
    return f"viscosity:{gas}"


def bubbles_limit(site: Site, properties: Properties, refrigerant: str) -> Quantity:
    """The smallest leak that soap bubbles show in a practised hand, as mass of this refrigerant a year.

    1e-5 std cm3/s (ASTM E515). The same hole; nothing is said of what one day's search finds.
    Raises Refused for a refrigerant that is not carried.
    """
    mass = _molar_mass(properties, refrigerant)
    moles = BUBBLES / (GAS_CONSTANT * STANDARD_K)
    return _rate(moles * mass.si, {source: moles * error for source, error in mass.errors.items()})


def vacuum_rise_limit(
    site: Site,
    properties: Properties,
    volume: Quantity,
    rise: Quantity,
    span: Quantity,
    refrigerant: str,
) -> Quantity:
    """The leak that makes a vacuum in `volume` rise by `rise` in `span`; a smaller one stays unseen.

    Q = V dp/dt, told as the same Q of refrigerant at 20 °C. Air that is drawn in by one atmosphere stands
    for refrigerant that is pushed out by several, so the real loss is rather larger; what boils out of
    the oil raises the vacuum too and is not told apart. Raises Refused for a volume, rise or time that isn't
    above zero and for a refrigerant that is not carried.
    """
    _above_zero(volume, "The volume of the circuit", "Give the volume that stands under vacuum.")
    _above_zero(rise, "The rise", "Give the smallest rise that your vacuum gauge shows.")
    _above_zero(span, "The time", "Give how long the valve was shut.")
    mass = _molar_mass(properties, refrigerant)

    def rate(m3: float, pa: float, s: float, kg_mol: float) -> float:
        return m3 * pa / s * kg_mol / (GAS_CONSTANT * ROOM_K)

    found = propagate(Kind.LEAK_RATE, rate, volume, rise, span, mass)
    return _rate(found.si, dict(found.errors))


def nitrogen_hold_needed(
    site: Site,
    properties: Properties,
    volume: Quantity,
    leak: Quantity,
    hold: Quantity,
    warm: Quantity,
    refrigerant: str,
    drop: Quantity,
) -> Quantity:
    """How long nitrogen at `hold` must stand until a leak of that rate has let it fall by `drop`.

    `leak` is what the hole lets out of refrigerant vapour at its saturation at `warm`; the nitrogen is as
    warm. The falling of the pressure slows the leak, which is reckoned with. All viscous: for
    leaks of less than about 1 g a year the flow is no longer viscous, nitrogen goes rather faster than
    told here and the time is long enough. Raises Refused for a volume, rate or drop that isn't above zero, for
    a drop down to the pressure of the air and for a refrigerant whose vapour doesn't stand above it.
    """
    _above_zero(volume, "The volume of the circuit", "Give the volume that the nitrogen fills.")
    _above_zero(leak, "The leak rate", "Give the smallest leak that must not be missed.")
    _above_zero(drop, "The fall of the pressure", "Give the smallest fall that your gauge shows.")
    air = site.atmosphere.pa
    vapour = _vapour_pressure(properties, warm, refrigerant)
    if vapour.si <= air:
        raise Refused(
            "out-of-range",
            f"{refrigerant} at {warm} stands no higher than the air outside: it does not leak out.",
            "Give the temperature at which the circuit stands warmest.",
        )
    absolute = to_absolute(hold, site.atmosphere)
    if absolute.si - drop.si <= air:
        raise Refused(
            "out-of-range",
            f"Nitrogen at {hold} can't fall by {drop}: the air outside stops it first.",
            "Hold more pressure, never above the plate, or take a smaller fall.",
        )
    thinness = _ratio(properties, refrigerant)
    mass = _molar_mass(properties, refrigerant)

    def seconds(m3: float, kg_s: float, pa: float, kelvin: float, fall: float, sat: float, m: float, r: float) -> float:
        of_refrigerant = kg_s * GAS_CONSTANT * kelvin / m  # Pa m3/s
        conductance = of_refrigerant * r / (sat**2 - air**2)  # of nitrogen: Q = conductance (p^2 - air^2)
        return m3 / conductance * (_below(pa - fall, air) - _below(pa, air))

    found = propagate(Kind.TIME_SPAN, seconds, volume, leak, absolute, warm, drop, vapour, mass, thinness)
    return found.shown_in(_fitting(found.si))


def _below(pa: float, air: float) -> float:
    """The integral of -dp / (p^2 - air^2), Pa absolute above the air's."""
    return -log((pa - air) / (pa + air)) / (2 * air)


def _fitting(seconds: float) -> str:
    """The unit in which a person plans such a wait."""
    for symbol, most in (("min", 2 * 3600.0), ("h", 2 * 86400.0), ("d", 60 * 86400.0)):
        if seconds < most:
            return symbol
    return "month"


def _molar_mass(properties: Properties, refrigerant: str) -> Quantity:
    """kg/mol, as a bare number with its error."""
    look = properties.look(MOLAR_MASS, refrigerant)
    return _bare(look.value, of_molar_mass(refrigerant), look.error)


def _ratio(properties: Properties, refrigerant: str) -> Quantity:
    """Viscosity of the refrigerant over that of nitrogen, both as gases at 20 °C and 1 atm."""
    one = properties.look(VISCOSITY, refrigerant)
    other = properties.look(VISCOSITY, NITROGEN)
    top = _bare(one.value, of_viscosity(refrigerant), one.error)
    return top / _bare(other.value, of_viscosity(NITROGEN), other.error)


def _vapour_pressure(properties: Properties, warm: Quantity, refrigerant: str) -> Quantity:
    """Absolute dew pressure; its errors are the temperature's and the saturation line's."""
    look = properties.look("dew-pressure", refrigerant, warm.si)
    errors = {source: look.slopes[0] * error for source, error in warm.errors.items()}
    line = of_property(refrigerant)
    errors[line] = errors.get(line, 0.0) - rectangular(look.error)
    return Quantity(Kind.ABSOLUTE_PRESSURE, look.value, errors=errors)


def _bare(value: float, source: str, half_width: float) -> Quantity:
    errors = {source: rectangular(half_width)} if half_width else {}
    return Quantity(Kind.NUMBER, value, errors=errors)


def _rate(kg_s: float, errors: dict[str, float]) -> Quantity:
    return Quantity(Kind.LEAK_RATE, kg_s, errors=errors)


def _above_zero(value: Quantity, what: str, cure: str) -> None:
    if not value.si > 0.0:
        raise Refused("out-of-range", f"{what} must be above zero.", cure)


SUMS = (
    Sum(
        "bubbles-limit",
        (Kind.CHOICE,),
        Kind.LEAK_RATE,
        "smallest leak that soap bubbles show",
        "ASTM E515: 1e-5 std cm3/s",
        bubbles_limit,
    ),
    Sum(
        "vacuum-rise-limit",
        (Kind.VOLUME, Kind.PRESSURE_DIFFERENCE, Kind.TIME_SPAN, Kind.CHOICE),
        Kind.LEAK_RATE,
        "smallest leak that such a rise of the vacuum shows",
        "Q = V dp/dt at 20 °C, ideal gas",
        vacuum_rise_limit,
    ),
    Sum(
        "nitrogen-hold-needed",
        (
            Kind.VOLUME,
            Kind.LEAK_RATE,
            Kind.GAUGE_PRESSURE,
            Kind.TEMPERATURE,
            Kind.CHOICE,
            Kind.PRESSURE_DIFFERENCE,
        ),
        Kind.TIME_SPAN,
        "how long nitrogen must stand until such a leak shows",
        "viscous flow by p^2 and viscosity (EN 1779, from memory), ideal gas at one temperature",
        nitrogen_hold_needed,
    ),
)
