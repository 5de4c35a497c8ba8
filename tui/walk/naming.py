"""The names of a unit's circuits, as a person gives them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Any

from tui.quantity import Kind, Refused
from tui.quantity.spelling import spelled

MAIN = "main"  # the only circuit of a unit whose circuits nobody named
MOST_CIRCUITS = 12
LONGEST_NAME = 24  # characters
_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4}
_SIGNS = "0123456789- "
_CURE = "As in: cooler, freezer. Letters, digits, blanks and hyphens; or how many there are."
_MEASURED = re.compile(r"(?<![^\W\d_])(\d+) ?([^\W\d_]{2,})")  # a number and the word behind it
_READ_OFF = (Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.MASS)


def circuit_names(text: str) -> tuple[str, ...]:
    """Names out of `cooler, freezer`, as a person types them; a number alone names them by number. Raises Refused.

    At most 12, no two alike whatever their case, each of at most 24 letters, digits, blanks and hyphens, and none
    a reading with its unit.
    """
    names = recorded_names(text)
    for name in names:
        _plain(name)
    return names


def recorded_names(text: str) -> tuple[str, ...]:
    """The same out of a record, which may hold names that are not taken any more. Raises Refused."""
    said = " ".join(text.split())
    number = _WORDS.get(said.lower(), int(said[:9]) if said.isascii() and said.isdecimal() else None)
    if number is not None:
        return _numbered(number)
    names = tuple(part.strip() for part in said.replace(" and ", ",").split(",") if part.strip())
    if not names:
        raise Refused("no-name", "No circuit is named.", "For example: 1, or: cooler, freezer.")
    if len(names) > MOST_CIRCUITS:
        raise _too_many(len(names))
    if len({name.lower() for name in names}) < len(names):
        raise Refused("same-name", "Two circuits have the same name.", "For example: cooler, freezer.")
    return names


def only_renamed(before: str, now: str) -> dict[str, str]:
    """Old name to new, where as many circuits are named in the same order and the new names are nobody's old one.

    Empty where they are other circuits, or the same. Raises Refused as `recorded_names`.
    """
    old, new = recorded_names(before), recorded_names(now)
    changed = {was: name for was, name in zip(old, new, strict=False) if was != name}
    fits = len(old) == len(new) and not set(changed.values()) & set(old)
    return changed if fits else {}


def with_new_name(event: Mapping[str, Any], renamed: Mapping[str, str]) -> dict[str, Any]:
    """An event of a circuit that has another name now."""
    changed = {part: renamed[event[part]] for part in ("circuit", "to") if event.get(part) in renamed}
    if event.get("event") != "switched":
        changed.pop("to", None)
    return {**event, **changed}


def _plain(name: str) -> None:
    """Raises Refused for what is no short plain name."""
    if len(name) > LONGEST_NAME:
        say = f"{name[:LONGEST_NAME]!r}... is too long for the name of a circuit: {LONGEST_NAME} letters at most."
        raise Refused("bad-name", say, _CURE)
    strange = next((sign for sign in name if sign not in _SIGNS and unicodedata.category(sign)[0] not in "LM"), None)
    if strange is not None or name[0] in "- ":
        raise Refused("bad-name", f"{name!r}: the name of a circuit has no {strange or name[0]!r} there.", _CURE)
    for number, word in _MEASURED.findall(name):
        if any(_spells(word, kind) for kind in _READ_OFF):
            say = f"{name!r} reads like something measured ({number} {word}), not like the name of a circuit."
            raise Refused("bad-name", say, f"{_CURE} Readings are asked for after that.")


def _spells(word: str, kind: Kind) -> bool:
    try:
        return spelled(word, kind, None) is not None
    except Refused:  # a bare degree
        return True


def _numbered(number: int) -> tuple[str, ...]:
    if number == 0:
        raise Refused("no-name", "A unit without a circuit can't be walked.", "Count its compressors.")
    if number > MOST_CIRCUITS:
        raise _too_many(number)
    return (MAIN,) if number == 1 else tuple(f"circuit {n}" for n in range(1, number + 1))


def _too_many(number: int) -> Refused:
    cure = "Make several units of it, each a visit of its own."
    return Refused("too-many", f"{number} circuits are too many for one visit; {MOST_CIRCUITS} at most.", cure)
