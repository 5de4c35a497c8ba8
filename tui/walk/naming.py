"""The names of a unit's circuits, as a person gives them."""

from __future__ import annotations

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


def _numbered(number: int) -> tuple[str, ...]:
    if number == 0:
        raise Refused("no-name", "A unit without a circuit can't be walked.", "Count its compressors.")
    if number > MOST_CIRCUITS:
        raise _too_many(number)
    return (MAIN,) if number == 1 else tuple(f"circuit {n}" for n in range(1, number + 1))


def _too_many(number: int) -> Refused:
    cure = "Make several units of it, each a visit of its own."
    return Refused("too-many", f"{number} circuits are too many for one visit; {MOST_CIRCUITS} at most.", cure)
