"""Figures written in both systems in a text, ``10 psig (0.7 barg)``: each reader is shown his own.

Whoever writes rounds both as a person would; nothing is converted.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

# units of one kind, US and metric; a difference in °F is what people say for dF
_PAIRS = (
    ("°F|dF", "°C|dC|K"),
    ("psig|psia|psi|inHg vac|inHg", "barg|bara|bar|kPag|kPa|MPag"),
    ("oz/yr", "g/yr"),
    ("oz|lb", "kg|g"),
    ("ft|in", "mm|cm|m"),
)
_NUMBER = r"-?\d+(?:[.,/]\d+)*"
_FIGURE = rf"{_NUMBER}(?: (?:to|or|and) {_NUMBER})*"
_BEGIN, _END = r"(?<![\w.<])", r"(?![\w/])"


def _both(first: str, second: str) -> str:
    return rf"({_FIGURE} (?:{first})) \(({_FIGURE} (?:{second}))\)"


_TWINS = [(re.compile(_BEGIN + _both(us, si)), re.compile(_BEGIN + _both(si, us))) for us, si in _PAIRS]
_UNITS = "|".join(unit for pair in _PAIRS for units in pair for unit in units.split("|") if unit != "in")
_ALONE = re.compile(rf"{_BEGIN}{_FIGURE} (?:{_UNITS}){_END}")  # *in* alone is mostly a word


def own_figures(text: str, system: str) -> str:
    """The text with the figures of one system, ``US`` or ``SI``, wherever it has both; else as it is."""
    if "(" not in text:
        return text
    own, other = (2, 1) if system == "SI" else (1, 2)
    for us_first, si_first in _TWINS:
        text = si_first.sub(rf"\{other}", us_first.sub(rf"\{own}", text))
    return text


def lone_figures(text: str) -> Iterator[str]:
    """Figures that stand in one system only: a reader of the other has to convert them."""
    for us_first, si_first in _TWINS:
        text = si_first.sub("", us_first.sub("", text))
    for found in _ALONE.finditer(text):
        yield found.group()
