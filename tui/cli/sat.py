"""Saturation of a refrigerant: a temperature gives its pressures, a pressure its temperatures.

  lowside sat R-134a 15 psig
  lowside sat r404a -10F

psi, bar and kPa mean gauge, as on the manifold; psia and bara count from a perfect vacuum. Gauge pressures
are at the altitude in the settings, else at sea level (101.325 kPa).
With --json, "error" is the half-width of the table's own error, in kelvin of saturation temperature.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from textwrap import fill
from typing import TYPE_CHECKING

from tui.quantity import Kind, Quantity, Refused, parse, show, to_absolute, to_gauge
from tui.quantity.value import Value

if TYPE_CHECKING:
    from tui.quantity import Atmosphere

_KINDS = (Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.ABSOLUTE_PRESSURE)
_CURE = "Give a pressure or a temperature with its unit: 15 psig, 1.5 bar, 10 inHg, 30 psia, 35F or 2 °C."


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("refrigerant", metavar="REFRIGERANT", help="as you say it: R-134a, r134a, 134A")
    parser.usage = "lowside sat [-h] [--json] REFRIGERANT VALUE"
    parser.add_argument("value", nargs="+", metavar="VALUE", help="one, with its unit: 15 psig, 1.5 bar, -10F, 2 °C")
    parser.add_argument("--json", action="store_true", help="for programs")


def in_order(given: list[str]) -> list[str]:
    """Options first, so that `-10F` stays a value."""
    options = [text for text in given if text.startswith("--") or text == "-h"]
    return [*options, "--", *(text for text in given if text not in options)]


def run(options: argparse.Namespace) -> int:
    """Print bubble and dew with the error of the tables."""
    from tui.cli.preferences import atmosphere
    from tui.refrigerant import facts, resolve

    refrigerant = resolve(options.refrigerant)
    asked = understood(" ".join(options.value))
    found = saturation(refrigerant, asked, atmosphere())
    known = facts(refrigerant)
    if options.json:
        from tui.cli.output import print_json

        print_json(found.shape() | {"estimated": known.estimated, "error": known.error_K})
    else:
        print(found.in_words())
        doubt = "Estimated: good" if known.estimated else "Good"
        print(f"{doubt} to ±{known.error_K * 1.8:.1f} dF (±{known.error_K:.1f} dC).")
        if known.note:
            print(fill(known.note, 80))
    return 0


def understood(text: str) -> Quantity:
    """A gauge pressure, a temperature or an absolute pressure. Refused for anything else and bare numbers."""
    for kind in _KINDS:
        try:
            value: Value = parse(text, kind, shown=None)
        except Refused as refused:
            if refused.code == "wrong-kind":
                continue
            if refused.code in ("no-unit", "unreadable", "wrong-unit"):
                raise Refused(refused.code, refused.message, _CURE) from refused
            raise
        assert isinstance(value, Quantity)
        return value
    raise Refused("wrong-kind", f"“{text}” is neither a pressure nor a temperature.", _CURE)


@dataclass(frozen=True, slots=True)
class Saturation:
    """Bubble and dew, in K or Pa absolute, of one refrigerant at what was asked."""

    refrigerant: str
    asked: Quantity
    bubble: float
    dew: float
    atmosphere: Atmosphere

    def shape(self) -> dict[str, object]:
        return {
            "refrigerant": self.refrigerant,
            "bubble": self._both(self.bubble),
            "dew": self._both(self.dew),
        }

    def _both(self, si: float) -> dict[str, float]:
        if self.asked.kind is Kind.TEMPERATURE:
            return {"bara": round(si / 1e5, 6), "psig": round(self._gauge(si).to("psig"), 4)}
        kelvin = Quantity(Kind.TEMPERATURE, si)
        return {"degC": round(kelvin.to("°C"), 4), "degF": round(kelvin.to("°F"), 4)}

    def _gauge(self, pa: float) -> Quantity:
        return to_gauge(Quantity(Kind.ABSOLUTE_PRESSURE, pa), self.atmosphere)

    def in_words(self) -> str:
        head = f"{self.refrigerant} at {show(self.asked)} ({self.atmosphere.source})"
        if self.bubble == self.dew:
            return f"{head}\nsaturated {self._say(self.dew)}"
        return f"{head}\nbubble {self._say(self.bubble)}\ndew    {self._say(self.dew)}"

    def _say(self, si: float) -> str:
        if self.asked.kind is Kind.TEMPERATURE:
            gauge, absolute = self._gauge(si), Quantity(Kind.ABSOLUTE_PRESSURE, si)
            return f"{show(gauge)} = {show(gauge, 'barg')} = {show(absolute, 'bara')}"
        kelvin = Quantity(Kind.TEMPERATURE, si)
        return f"{kelvin.to('°F'):.1f} °F = {kelvin.to('°C'):.1f} °C"


def saturation(refrigerant: str, asked: Quantity, atmosphere: Atmosphere) -> Saturation:
    """Both lines at a temperature or pressure. Refused above or below what the tables hold."""
    from tui.refrigerant import bubble_pressure, bubble_temperature, dew_pressure, dew_temperature

    if asked.kind is Kind.TEMPERATURE:
        bubble, dew = bubble_pressure(refrigerant, asked.si), dew_pressure(refrigerant, asked.si)
    else:
        absolute = to_absolute(asked, atmosphere).si if asked.kind is Kind.GAUGE_PRESSURE else asked.si
        bubble, dew = bubble_temperature(refrigerant, absolute), dew_temperature(refrigerant, absolute)
    return Saturation(refrigerant, asked, bubble, dew, atmosphere)
