"""Trade units for the tests of this folder, by exact factors (UCUM), apart from the code under test."""

from __future__ import annotations

PSI = 4.4482216152605 / 0.0254**2  # Pa: lbf / in2
ATM = 101325.0  # Pa
INHG = 3386.389  # Pa per inHg, conventional mercury at 0 °C
SEA_LEVEL = 14.696  # psia


def fahrenheit(degrees: float) -> float:
    """°F to K."""
    return (degrees - 32) / 1.8 + 273.15


def in_fahrenheit(kelvin: float) -> float:
    """K to °F."""
    return (kelvin - 273.15) * 1.8 + 32


def psig(pa: float) -> float:
    """Pa absolute to psi above one standard atmosphere."""
    return (pa - ATM) / PSI


def from_psig(gauge: float) -> float:
    """psi above one standard atmosphere to Pa absolute."""
    return gauge * PSI + ATM
