"""Which input each event follows from: its own number where it is one, else that of an earlier event.

What a correction says again stands behind the correction and is of the input that it followed the first time; such
an event says so (`FOLLOWS`). Any other follows the last input before it. A remark (a note, a photo) has nothing that
follows from it: it may stand between an answer and what follows from that, where it was added to a file that was cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from tui.walk.inputs import INPUTS

FOLLOWS = "follows"
REMARKS = frozenset({"noted", "photographed"})


def followed(events: Iterable[Mapping[str, Any]]) -> list[int]:
    """For each event of a visit, in order, the number of the input it follows from; 0: the opening."""
    numbers: list[int] = []
    last = 0
    for number, event in enumerate(events):
        is_input = event["event"] in INPUTS
        numbers.append(number if is_input else int(event.get(FOLLOWS, last)))
        if is_input and event["event"] not in REMARKS:
            last = number
    return numbers
