"""What a person typed, whichever driver took it: cleaned, and what of the walk it names."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from tui.desk.everyday import NOTHING, reading_called, unknown
from tui.desk.line import chosen_of
from tui.quantity import Kind, Refused
from tui.walk.kinds import ASK, spoken
from tui.walk.prompt import Prompt

_WORD = re.compile(r"[^\s=:]+")
_BETWEEN = re.compile(r"^(?:[\s=:]|(?:pressure|temperature|temp|is)\b)+", re.IGNORECASE)
_NOT_KNOWN = frozenset(
    f"{who}{words}"
    for who in ("", "i ")
    for words in (
        *("not known", "unknown", "not had", "never had", "don't know", "dont know", "do not know", "can't tell"),
        *("cant tell", "can't say", "no idea", "nobody knows", "not readable", "unreadable", "can't read it", "n/a"),
    )
)


def place_of(prompt: Prompt) -> tuple[str, ...]:
    """Where in the walk a prompt stands."""
    return (prompt.kind, prompt.circuit, prompt.tree, prompt.step)


def chosen(prompt: Prompt, text: str) -> str | None:
    """The id of the choice that its number, its id or its words name; None for anything else."""
    choices = prompt.readings[0].choices if prompt.kind == ASK else prompt.choices
    return chosen_of(choices, text)


def says_not_known(reading: str, kind: Kind, text: str) -> bool:
    """Whether `text`, which is no choice of this reading, says in plain words that it can't be had.

    ``suction not known`` does so too. At a question for words these are an answer.
    """
    named_so = begins_with_reading(text, {reading})
    text = named_so[1] if named_so else text
    return kind is not Kind.TEXT and " ".join(text.lower().replace("\u2019", "'").split()) in _NOT_KNOWN


def needed(text: str) -> str:
    """`text`; raises Refused (``empty``) where there is none."""
    if not text:
        raise Refused("empty", "Nothing was typed.", "Type the answer; or: not known; or: help")
    return text


def begins_with_reading(
    line: str, readings: Collection[str], here: Mapping[str, str] = NOTHING
) -> tuple[str, str] | None:
    """``condenser air 95 °F``: the longest beginning that names a reading, and the rest; None if none does.

    ``suction pressure: 8.2`` and ``suction=8.2`` are the same as ``suction 8.2``; everyday names count as ids do.
    here: see `tui.desk.everyday.called_here`.
    """
    parts = list(_WORD.finditer(line))
    for length in range(min(len(parts), 6), 0, -1):
        name = "-".join(part.group() for part in parts[:length]).lower()
        rest = _BETWEEN.sub("", line[parts[length - 1].end() :])
        reading = reading_called(name, readings, here)
        if reading is not None and rest:
            return reading, rest
    return None


def named(line: str, readings: Collection[str]) -> tuple[str, str]:
    """The same, where a reading must be named. Raises Refused (``no-such-reading``, ``no-value``)."""
    found = begins_with_reading(line, readings)
    if found is not None:
        return found
    name = reading_called("-".join(line.lower().split()), readings)
    if name is not None:
        raise Refused("no-value", f"{spoken(name)}: what does it read?", "Type the value after the name.")
    raise unknown(line, readings)
