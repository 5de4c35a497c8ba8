"""What a step back takes away, told from the events alone: the same that the walk itself still stands on."""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Any

import pytest

from tests.walk.test_random import FITTING, WORDS, tried
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.counted import origins


def decided(events: Sequence[dict[str, Any]]) -> list[tuple[str, str, str]]:
    """The decisions that still count."""
    counts = origins(events)
    kept: dict[int, dict[str, Any]] = {}
    for number, event in enumerate(events):
        if event["event"] == "undone":
            kept = {n: each for n, each in kept.items() if counts[n] < event["back_to"]}
        elif event["event"] == "corrected":
            kept = {n: each for n, each in kept.items() if counts[n] <= event["event_no"]}
        elif event["event"] == "routed":
            kept[number] = event
    return sorted((e["circuit"], f"{e['tree']}/{e['step']}", " or ".join(e["rows"])) for e in kept.values())


@pytest.mark.parametrize("seed", range(60))
def test_a_step_back_after_a_correction_keeps_what_was_decided_before(library: Library, seed: int) -> None:
    dice = random.Random(seed)
    circuits = dice.choice([["main"], ["left", "right"]])
    known: dict[str, Any] = {"circuits": {name: {} for name in circuits}}
    walk = Walk.start(library, "small", site={"altitude": "0 ft"}, known=known)
    for _ in range(70):
        given = dice.choice(walk.given() or [None])
        right = dice.choice(FITTING.get(given.reading, WORDS)) if given is not None else "nonsense"
        slips: list[tuple[Any, ...]] = [
            ("undo", dice.randint(1, 4)),
            ("correct", given.event_no if given is not None else 0, right),
        ]
        tried(walk, [dice.choice(slips) if dice.random() < 0.25 else ("right", dice.randint(0, 2))])
    assert decided(walk.events) == sorted((each.circuit, each.at, each.row) for each in walk.trail())
