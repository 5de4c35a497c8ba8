"""Plain lines of at most 78 characters, to be pasted into any work order."""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Mapping
from itertools import zip_longest

WIDTH = 78
LABEL = 23  # columns of a label with its blank
_HALF = 14  # columns of a text that leaves room for a second label and text beside it

# A number and its unit stay on one line.
_UNITS = r"°|deg [FC]|d[FC]\b|psi|bar|inHg|kPa|mbar|micron|oz|lb|k?g\b|%|[AVWhsd]\b|min\b|ft|in\b|m?L\b"
_UNIT = re.compile(rf"(\d) ({_UNITS})")

_ASCII = {
    "°": "deg ",
    "µ": "u",
    "Ω": "ohm",
    "±": "+/-",
    "×": "x",
    "–": "-",
    "—": "-",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "²": "2",
    "³": "3",
    "′": "'",
    "…": "...",
    "⁄": "/",
}


class Page:
    """Lines as they are written; `ascii_only` for a stream that has no other letters."""

    def __init__(self, *, ascii_only: bool = False) -> None:
        self._ascii = ascii_only
        self._lines: list[str] = []

    @property
    def text(self) -> str:
        return "\n".join(self._lines) + "\n"

    def heading(self, text: str) -> None:
        """A heading, with an empty line before it."""
        if self._lines:
            self._lines.append("")
        self._lines += self._wrapped(text.upper(), "", "")

    def rows(self, rows: Mapping[str, str | list[str]]) -> None:
        """Label and text, or texts one below the other; empty ones are left out."""
        for label, said in rows.items():
            texts = [said] if isinstance(said, str) else said
            if any(texts):
                self.row(label, *texts)

    def row(self, label: str, *texts: str) -> None:
        """A label and what belongs to it: each text on lines of its own, continued under itself."""
        name = self._clean(label)
        rest = " " * (LABEL + 2)
        first = f"  {name:<{LABEL}}"
        if len(name) >= LABEL:
            self._lines += self._wrapped(name, "  ", "    ")
            first = rest
        for text in texts:
            self._lines += self._wrapped(text, first, rest)
            first = rest

    def pairs(self, rows: Mapping[str, str]) -> None:
        """Label and text, two beside each other where they are short; then the long ones as rows."""
        rows = {self._clean(label): self._clean(text) for label, text in rows.items()}
        short = {label: text for label, text in rows.items() if len(label) < LABEL and len(text) <= _HALF}
        cells = [f"{label:<{LABEL}}{text}" for label, text in short.items()]
        for left, right in zip_longest(cells[::2], cells[1::2], fillvalue=""):
            self._lines.append(f"  {left:<{LABEL + _HALF + 1}}{right}".rstrip())
        self.rows({label: text for label, text in rows.items() if label not in short})

    def timed(self, time: str, text: str) -> None:
        """What happened at a time of day."""
        self._lines += self._wrapped(text, f"  {time}  ", " " * 9)

    def item(self, text: str) -> None:
        """One of a list."""
        self._lines += self._wrapped(text, "  - ", "    ")

    def say(self, text: str) -> None:
        """A sentence of its own."""
        self._lines += self._wrapped(text, "  ", "  ")

    def banner(self, text: str) -> None:
        """What nobody may miss."""
        self._lines += self._wrapped(text, "*** ", "*** ")

    def _wrapped(self, text: str, first: str, rest: str) -> list[str]:
        whole = _UNIT.sub("\\1\u00a0\\2", self._clean(text))
        lines = textwrap.wrap(whole, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
        return [line.replace("\u00a0", " ") for line in lines] or [first.rstrip()]

    def _clean(self, text: str) -> str:
        """One line without control letters: what was typed must not move the cursor of who reads it."""
        text = "".join(c if c.isprintable() else " " for c in text)
        return in_ascii(text) if self._ascii else text


def in_ascii(text: str) -> str:
    """The same in letters that every terminal has."""
    if text.isascii():
        return text
    parted = unicodedata.normalize("NFKD", "".join(_ASCII.get(c, c) for c in text))
    bare = "".join(_ASCII.get(c, c) for c in parted if not unicodedata.combining(c))
    return bare.encode("ascii", "replace").decode()
