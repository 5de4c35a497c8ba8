"""What a person typed, whichever driver took it: cleaned, and what of the walk it names."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

from tui.desk import saying
from tui.quantity import Refused, nearest
from tui.walk.prompt import ASK, Prompt

LONGEST_TAG = 60  # letters of a unit's tag

_WORD = re.compile(r"[^\s=:]+")
_BETWEEN = re.compile(r"^(?:[\s=:]|(?:pressure|temperature|temp|is)\b)+", re.IGNORECASE)


def cleaned(line: str) -> str:
    """A typed line without control characters, half characters and outer blanks."""
    if line.isascii() and line.isprintable():
        return " ".join(line.split())
    kept = (c if unicodedata.category(c) not in ("Cc", "Cs") else " " for c in line)
    return " ".join("".join(kept).split())


def place_of(prompt: Prompt) -> tuple[str, ...]:
    """Where in the walk a prompt stands."""
    return (prompt.kind, prompt.circuit, prompt.tree, prompt.step)


def chosen(prompt: Prompt, text: str) -> str | None:
    """The id of the choice that its number, its id or its words name; None for anything else."""
    choices = prompt.readings[0].choices if prompt.kind == ASK else prompt.choices
    return chosen_of(choices, text)


def chosen_of(choices: tuple[tuple[str, str], ...], text: str) -> str | None:
    """The same among choices (id, words)."""
    if saying.has_numbers(choices) and re.fullmatch(r"[1-9][0-9]?", text) and int(text) <= len(choices):
        return choices[int(text) - 1][0]
    lower = text.lower()
    return next((choice for choice, say in choices if lower in (choice.lower(), say.lower())), None)


def needed(text: str) -> str:
    """`text`; raises Refused (``empty``) where there is none."""
    if not text:
        raise Refused("empty", "Nothing was typed.", "Type the answer, or: couldn't WHY; or: help")
    return text


def begins_with_reading(line: str, readings: Collection[str]) -> tuple[str, str] | None:
    """``condenser air 95 °F``: the longest beginning that names a reading, and the rest; None if none does.

    ``suction pressure: 8.2`` and ``suction=8.2`` are the same as ``suction 8.2``.
    """
    parts = list(_WORD.finditer(line))
    for length in range(min(len(parts), 6), 0, -1):
        name = "-".join(part.group() for part in parts[:length]).lower()
        rest = _BETWEEN.sub("", line[parts[length - 1].end() :])
        if name in readings and rest:
            return name, rest
    return None


def named(line: str, readings: Collection[str]) -> tuple[str, str]:
    """The same, where a reading must be named. Raises Refused (``no-such-reading``)."""
    found = begins_with_reading(line, readings)
    if found is not None:
        return found
    parts = line.split()
    near = nearest(parts[0] if parts else "", list(readings))
    cure = f"Did you mean {near}?" if near else "For example: tell suction 12 psig"
    raise Refused("no-such-reading", f"{line!r} does not begin with a reading and go on with a value.", cure)
