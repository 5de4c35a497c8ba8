"""The words of every refusal of this room: each names the limit, in °F and °C or in psia and bara."""

from __future__ import annotations

from typing import Protocol

from tui.quantity import Refused

_PSI = 6894.757293168361  # Pa; UCUM [psi] = 1 lbf/in2


class Ends(Protocol):
    """The two ends of a saturation line, Pa absolute."""

    low: float
    high: float


class Limits(Protocol):
    """What a refusal names of a table. K and Pa absolute; None where it has no such point."""

    id: str
    low_K: float
    high_K: float
    critical_K: float | None
    critical_pa: float | None
    triple_K: float | None

    @property
    def dew(self) -> Ends: ...


def degrees(kelvin: float) -> str:
    """A temperature (K) in both scales: ``70.0 °F (21.1 °C)``."""
    celsius = kelvin - 273.15
    return f"{celsius * 1.8 + 32:.1f} °F ({celsius:.1f} °C)"


def pressure(pa: float) -> str:
    """An absolute pressure (Pa) in both units: ``85.8 psia (5.92 bara)``."""
    fine = 1 if abs(pa) < 0.1e5 else 0
    return f"{pa / _PSI:.{1 + fine}f} psia ({pa / 1e5:.{2 + fine}f} bara)"


def not_a_pressure(refrigerant: str, pa: float) -> Refused:
    """For zero, negative or no-number absolute pressures."""
    return Refused(
        "not-a-pressure",
        f"{refrigerant}: {pressure(pa)} is not an absolute pressure; it must be more than 0.",
        "Check the gauge reading and the altitude: a gauge cannot show a deeper vacuum than the atmosphere.",
    )


def not_a_temperature(refrigerant: str, kelvin: float) -> Refused:
    """For temperatures at or below absolute zero, or no number."""
    return Refused(
        "not-a-temperature",
        f"{refrigerant}: {degrees(kelvin)} is not a temperature; it must be above -459.7 °F (-273.1 °C).",
        "Check the reading and its unit.",
    )


def outside_temperature(table: Limits, kelvin: float) -> Refused:
    """For temperatures (K) outside a table: below, under the triple point, above or supercritical."""
    if not 0.0 < kelvin < float("inf"):
        return not_a_temperature(table.id, kelvin)
    if kelvin < table.low_K:
        return _below(table, degrees(kelvin), (table.low_K, table.dew.low))
    if table.critical_K is not None and kelvin > table.critical_K:
        return _supercritical(table, degrees(kelvin))
    return _above(table, degrees(kelvin), (table.high_K, table.dew.high))


def outside_mid(table: Limits, kelvin: float, low: tuple[float, float], high: tuple[float, float]) -> Refused:
    """For mid temperatures (K) beyond what both lines hold; ``low`` and ``high`` as (K, Pa absolute)."""
    what = f"{degrees(kelvin)} between bubble and dew"
    return _below(table, what, low) if kelvin < low[0] else _above(table, what, high)


def outside_pressure(table: Limits, line: Ends, pa: float) -> Refused:
    """For pressures (Pa absolute) outside a line of a table."""
    if pa < line.low:
        return _below(table, pressure(pa), (table.low_K, line.low))
    if table.critical_pa is not None and pa > table.critical_pa:
        return _supercritical(table, pressure(pa))
    return _above(table, pressure(pa), (table.high_K, line.high))


def not_vapour(refrigerant: str, pa: float, kelvin: float, dew_pa: float) -> Refused:
    """For a vapour density asked above the dew pressure of that temperature."""
    return Refused(
        "not-vapour",
        f"{refrigerant} at {degrees(kelvin)} and {pressure(pa)} is not all vapour: it condenses from "
        f"{pressure(dew_pa)} on.",
        "Check pressure and temperature, or ask for the liquid.",
    )


def _below(table: Limits, what: str, low: tuple[float, float]) -> Refused:
    end = f"{degrees(low[0])}, {pressure(low[1])}"
    if table.triple_K is not None and table.low_K == table.triple_K:
        return Refused(
            "below-triple-point",
            f"{table.id}: {what} is below the triple point ({end}); there is only solid and vapour there.",
            "Raise the pressure before liquid goes in, or check the reading.",
        )
    return Refused(
        "below-table",
        f"{table.id}: {what} is below the table, which begins at {end}.",
        "Check the reading; so deep there is no saturation figure here, and none is guessed.",
    )


def _above(table: Limits, what: str, high: tuple[float, float]) -> Refused:
    return Refused(
        "above-table",
        f"{table.id}: {what} is above the table, which ends at {degrees(high[0])}, {pressure(high[1])}, "
        "close to the critical point.",
        "Check the reading and the refrigerant; no figure is guessed above it.",
    )


def _supercritical(table: Limits, what: str) -> Refused:
    assert table.critical_K is not None  # only substances with a critical point in their table come here
    assert table.critical_pa is not None
    return Refused(
        "supercritical",
        f"{table.id}: {what} is above the critical point ({degrees(table.critical_K)}, "
        f"{pressure(table.critical_pa)}): it is supercritical, there is no condensing temperature.",
        "Check the reading and the refrigerant; a gas cooler has figures of its own, no saturation.",
    )
