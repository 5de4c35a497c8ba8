"""A difference as JSON, for programs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.proof.diff.difference import Difference
    from tui.proof.diff.sessions import Session
    from tui.proof.diff.tried import Ending, EndsElsewhere, Tried

Shape = dict[str, object]


def shape(old: str, new: str, found: Difference, walked: Tried, sessions: Sequence[Session] | None) -> Shape:
    """`sessions` is null where none were asked for; `alone` of a figure where it can't be tried alone."""
    return {
        "old": old,
        "new": new,
        "same": found.nothing,
        "trees": [asdict(each) for each in found.trees],
        "elsewhere": [{**asdict(each), "by": list(each.by)} for each in found.elsewhere],
        "steps": [asdict(each) for each in found.steps],
        "changed": [asdict(each) for each in found.changed],
        "entries": [asdict(each) for each in found.entries],
        "figures": [
            {
                "figure": each.figure,
                "change": each.change,
                "values": [asdict(value) for value in each.values],
                "used_by": [{"at": use.at, "does": use.does, "through": list(use.through)} for use in each.used_by],
                "alone": _endings(walked.alone[each.figure]) if each.figure in walked.alone else None,
            }
            for each in found.figures
        ],
        "examples": {"walked": walked.walked, "elsewhere": _endings(walked.elsewhere)},
        "sessions": None if sessions is None else [asdict(each) for each in sessions],
    }


def _endings(endings: Sequence[EndsElsewhere]) -> list[Shape]:
    return [{"name": each.name, "old": _ending(each.old), "new": _ending(each.new)} for each in endings]


def _ending(ending: Ending) -> Shape:
    found = [{**asdict(each), "could_be": list(each.could_be)} for each in ending.found]
    return {"found": found, "refused": ending.refused}
