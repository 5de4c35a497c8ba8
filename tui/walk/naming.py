"""The names of a unit's circuits, as a person gives them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tui.quantity import Refused

MAIN = "main"  # the only circuit of a unit whose circuits nobody named
MOST_CIRCUITS = 12
LONGEST_NAME = 30  # characters
_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4}


def circuit_names(text: str) -> tuple[str, ...]:
    """Names out of `cooler, freezer`; a number alone names them by number. Raises Refused.

    At most 12, each of at most 30 printable characters and no two alike whatever their case.
    """
    said = " ".join(text.split())
    number = _WORDS.get(said.lower(), int(said[:9]) if said.isascii() and said.isdecimal() else None)
    if number is not None:
        return _numbered(number)
    names = tuple(part.strip() for part in said.replace(" and ", ",").split(",") if part.strip())
    if not names:
        raise Refused("no-name", "No circuit is named.", "For example: 1, or: cooler, freezer.")
    if len(names) > MOST_CIRCUITS:
        raise _too_many(len(names))
    for name in names:
        if len(name) > LONGEST_NAME or not name.isprintable():
            raise Refused("bad-name", f"{name[:40]!r} is no name for a circuit.", f"At most {LONGEST_NAME} letters.")
    if len({name.lower() for name in names}) < len(names):
        raise Refused("same-name", "Two circuits have the same name.", "For example: cooler, freezer.")
    return names


def only_renamed(before: str, now: str) -> dict[str, str]:
    """Old name to new, where as many circuits are named in the same order and the new names are nobody's old one.

    Empty where they are other circuits, or the same. Raises Refused as `circuit_names`.
    """
    old, new = circuit_names(before), circuit_names(now)
    changed = {was: name for was, name in zip(old, new, strict=False) if was != name}
    fits = len(old) == len(new) and not set(changed.values()) & set(old)
    return changed if fits else {}


def with_new_name(event: Mapping[str, Any], renamed: Mapping[str, str]) -> dict[str, Any]:
    """An event of a circuit that has another name now."""
    changed = {part: renamed[event[part]] for part in ("circuit", "to") if event.get(part) in renamed}
    if event.get("event") != "switched":
        changed.pop("to", None)
    return {**event, **changed}


def _numbered(number: int) -> tuple[str, ...]:
    if number == 0:
        raise Refused("no-name", "A unit without a circuit can't be walked.", "Count its compressors.")
    if number > MOST_CIRCUITS:
        raise _too_many(number)
    return (MAIN,) if number == 1 else tuple(f"circuit {n}" for n in range(1, number + 1))


def _too_many(number: int) -> Refused:
    cure = "Make several units of it, each a visit of its own."
    return Refused("too-many", f"{number} circuits are too many for one visit; {MOST_CIRCUITS} at most.", cure)
