"""Numbers as people type them: decimal comma or point, thousands, fractions, a minus of any sort."""

from __future__ import annotations

import math
import re

from tui.quantity.refused import Refused
from tui.quantity.typed import quoted

NUMBER = re.compile(
    r"([+-]?) ?"
    r"(?:(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+)"  # 1/4, 1 1/4, 1-1/4
    r"|([0-9][0-9.,]*(?:(?<=[0-9.])[eE][+-]?[0-9]+(?![0-9a-zA-Z]))?|[.,][0-9]+))"
)
"""The head of a text: sign, whole, numerator, denominator, decimal."""

_LARGEST = 1e15


def take_number(text: str, start: int = 0) -> tuple[float, str, int] | None:
    """Number, its sign (``""``, ``+``, ``-``) and the place after it; None where none stands.

    Refused ``ambiguous`` (``1,234``), ``unreadable`` (``1.2.3``) or ``out-of-range`` (``1e999``).
    """
    found = NUMBER.match(text, start)
    if found is None:
        return None
    sign, whole, above, below, decimal = found.groups()
    end = found.end()
    if decimal is not None:
        if decimal[-1] == "," and len(decimal) > 1:  # a comma between two things, not in a number
            decimal, end = decimal[:-1], end - 1
        elif decimal[-1] == "." and len(decimal) > 1:
            decimal = decimal[:-1]
        size = read_decimal(decimal)
    else:
        size = _fraction(found.group(), whole, above, below)
    if size > _LARGEST:
        raise Refused("out-of-range", f"{quoted(found.group())} is too large to be measured.",
                      "Type the figure as the instrument shows it.")
    return (-size if sign == "-" else size), sign, end


def _fraction(text: str, whole: str | None, above: str, below: str) -> float:
    if max(len(whole or ""), len(above), len(below)) > 9 or int(below) == 0:
        raise Refused("unreadable", f"{quoted(text)} is no number.", "Type it as 0.25 or 1/4.")
    return int(whole or 0) + int(above) / int(below)


def read_decimal(text: str) -> float:
    """The number of digits with points and commas (no sign). Refused as `take_number`."""
    if text.isdigit():
        return float(text)
    mantissa, exponent = text, ""
    if "e" in text or "E" in text:
        mantissa, _, exponent = text.lower().partition("e")
    points, commas = mantissa.count("."), mantissa.count(",")
    if commas:
        mantissa = _without_commas(mantissa, points, commas)
    elif points > 1:
        mantissa = _ungrouped(mantissa, ".", mantissa)
    value = float(f"{mantissa}e{exponent}") if exponent else float(mantissa)
    return value if math.isfinite(value) else math.inf


def _without_commas(text: str, points: int, commas: int) -> str:
    """Commas read as decimal sign or as thousands, whichever is the only way."""
    if points == 0 and commas == 1:
        before, after = text.split(",")
        if len(after) == 3 and 1 <= len(before) <= 3 and before != "0":
            raise Refused("ambiguous", f"{quoted(text)} can be {before}{after} or {before}.{after}.",
                          f"Type {before}{after}, or {before}.{after} with a point.")
        return f"{before}.{after}"
    if points == 0:
        return _ungrouped(text, ",", text)
    last = max(text.rfind(","), text.rfind("."))
    mark = text[last]
    if text.count(mark) != 1:
        raise _no_number(text)
    return _ungrouped(text[:last], "," if mark == "." else ".", text) + "." + text[last + 1:]


def _ungrouped(text: str, mark: str, whole: str) -> str:
    """Digits in groups of three, the mark between them taken out."""
    groups = text.split(mark)
    if not 1 <= len(groups[0]) <= 3 or any(len(group) != 3 or not group.isdigit() for group in groups[1:]):
        raise _no_number(whole)
    return "".join(groups)


def _no_number(text: str) -> Refused:
    return Refused("unreadable", f"{quoted(text)} is no number.", "Type digits with one decimal point.")
