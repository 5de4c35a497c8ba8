"""What a person typed, whichever driver took it: cleaned, and what of the walk it names."""

from __future__ import annotations

import re
from collections.abc import Collection

from tui.desk.line import chosen_of
from tui.quantity import Refused, nearest
from tui.walk.kinds import ASK
from tui.walk.prompt import Prompt

_WORD = re.compile(r"[^\s=:]+")
_BETWEEN = re.compile(r"^(?:[\s=:]|(?:pressure|temperature|temp|is)\b)+", re.IGNORECASE)


def place_of(prompt: Prompt) -> tuple[str, ...]:
    """Where in the walk a prompt stands."""
    return (prompt.kind, prompt.circuit, prompt.tree, prompt.step)


def chosen(prompt: Prompt, text: str) -> str | None:
    """The id of the choice that its number, its id or its words name; None for anything else."""
    choices = prompt.readings[0].choices if prompt.kind == ASK else prompt.choices
    return chosen_of(choices, text)


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
    """The same, where a reading must be named. Raises Refused (``no-such-reading``, ``no-value``)."""
    found = begins_with_reading(line, readings)
    if found is not None:
        return found
    parts = line.split()
    if "-".join(parts).lower() in readings:
        raise Refused("no-value", f"{' '.join(parts)}: and the value?", "Type it after the name, in one line.")
    near = nearest(parts[0] if parts else "", list(readings))
    cure = f"Did you mean {near}?" if near else "For example: tell suction 12 psig"
    raise Refused("no-such-reading", f"{line!r} does not begin with a reading and go on with a value.", cure)
