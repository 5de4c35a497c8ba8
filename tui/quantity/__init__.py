"""Quantities: kinds, units, reading what people type, printing, uncertainty.

Floor 0: imports nothing of the project but itself, and nothing heavy.
"""

from __future__ import annotations

from tui.quantity.atmosphere import Atmosphere, standard_atmosphere, to_absolute, to_gauge
from tui.quantity.kinds import WORDS, Kind, KindRefused, difference_of, kind_of, negative_of
from tui.quantity.literal import parse_literal
from tui.quantity.parse import parse
from tui.quantity.refused import Refused
from tui.quantity.show import clock_span, echo, pounds_and_ounces, show, usual_unit
from tui.quantity.stored import from_json, to_json
from tui.quantity.twins import lone_figures, own_figures
from tui.quantity.uncertainty import Accuracy, Comparison, compare, propagate
from tui.quantity.units import UNITS, Unit, default_unit, unit, units_of
from tui.quantity.value import COVERAGE, Quantity, Value
from tui.quantity.words import nearest

__all__ = [
    "COVERAGE", "UNITS", "WORDS", "Accuracy", "Atmosphere", "Comparison", "Kind", "KindRefused", "Quantity",
    "Refused", "Unit", "Value", "clock_span", "compare", "default_unit", "difference_of", "echo", "from_json",
    "kind_of", "lone_figures", "nearest", "negative_of", "own_figures", "parse", "parse_literal", "pounds_and_ounces",
    "propagate", "show", "standard_atmosphere", "to_absolute", "to_gauge", "to_json", "unit", "units_of",
    "usual_unit",
]
