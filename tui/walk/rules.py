"""By which rules a visit is judged: its opening names them, so one that began by earlier ones goes on and replays so.

1, where none are named: an instrument is wrong by the same in all its readings; a finding lists all that its step does.
2: part of that is each reading's own (`Accuracy.contributions`), a word that a sum gives can be close, and of what a
finding could be is left out what is known not to be.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tui.quantity import Refused

BEFORE, NOW = 1, 2


def rules_of(opened: Mapping[str, Any]) -> int:
    """Raises Refused (``newer``) for rules of a later lowside."""
    rules = opened.get("rules", BEFORE)
    if rules not in (BEFORE, NOW):
        say = f"This visit is judged by rules {rules}; this lowside knows those up to {NOW}."
        raise Refused("newer", say, "Use the newer program.")
    return int(rules)
