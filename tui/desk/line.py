"""A typed line by itself: cleaned, and which of some choices it takes."""

from __future__ import annotations

import re
import unicodedata

Choices = tuple[tuple[str, str], ...]

LONGEST_TAG = 60  # letters of a unit's tag


def cleaned(line: str) -> str:
    """A typed line without control characters, half characters and outer blanks."""
    if line.isascii() and line.isprintable():
        return " ".join(line.split())
    kept = (c if unicodedata.category(c) not in ("Cc", "Cs") else " " for c in line)
    return " ".join("".join(kept).split())


def chosen_of(choices: tuple[tuple[str, str], ...], text: str) -> str | None:
    """The id of the choice (id, words) that its number, its id or its words name; None for anything else."""
    if has_numbers(choices) and re.fullmatch(r"[1-9][0-9]?", text) and int(text) <= len(choices):
        return choices[int(text) - 1][0]
    lower = text.lower()
    return next((choice for choice, say in choices if lower in (choice.lower(), say.lower())), None)


def has_numbers(choices: tuple[tuple[str, str], ...]) -> bool:
    """Not among more than nine where one has a digit in its words: 22 may be the name of one."""
    return len(choices) <= 9 or not any(character.isdigit() for _, say in choices for character in say)
