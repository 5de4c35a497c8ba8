"""A result taken into the line of the step: ``use`` for the first, ``use 2`` for the second."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from tui.quantity import Refused

Use = Callable[[str], None]
_USE = re.compile(r"use(?: ([1-9]))?", re.IGNORECASE)


def use_of(line: str) -> int | None:
    """Which result a line wants to use, from 1; None for any other line."""
    found = _USE.fullmatch(line)
    return None if found is None else int(found.group(1) or 1)


def usable(results: Sequence[str], place: int, use: Use | None) -> None:
    """Hands that result over. Raises Refused where there is none, or no step that could take it."""
    if use is None:
        raise Refused("not-now", "There is no step here that could take it.", "Write it down, or note it at a visit.")
    if not results:
        raise Refused("not-now", "There is no result to use here yet.", "Fill in the fields first.")
    if place > len(results):
        raise Refused("not-now", f"There is no result {place}.", f"There are {len(results)}: use 1 is the first.")
    use(results[place - 1])
