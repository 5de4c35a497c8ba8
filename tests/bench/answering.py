"""What the core needs for one answer, against a JSON round trip of all events that the answer writes."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from typing import Any

from tests.bench.figures import Figure
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, begin, drive

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 9


@dataclass
class Stopwatch:
    """Carries out intents. `taken`, `trips`: seconds of each, and of its events' round trip."""

    walk: Walk
    taken: list[float] = field(default_factory=list)
    trips: list[float] = field(default_factory=list)

    def act(self, intent: Callable[[Walk], object]) -> object:
        before = len(self.walk.events)
        start = time.perf_counter()
        result = intent(self.walk)
        _ = self.walk.prompt  # what is asked next belongs to the answer
        self.taken.append(time.perf_counter() - start)
        written = self.walk.events[before:]
        start = time.perf_counter()
        for event in written:
            json.loads(json.dumps(event))
        self.trips.append(time.perf_counter() - start)
        return result


def answer_figures() -> tuple[list[Figure], Mapping[str, Any]]:
    """Of every intent of the answers files in tests/answers; and an answered reading as a sample event."""
    library = Library.load(bundled_trees())
    files = sorted((ROOT / "tests" / "answers").glob("*.yaml"))
    ratios: list[float] = []
    sample: Mapping[str, Any] = {}
    for file in files:
        answers = Answers.read(file)
        watches = []
        for _ in range(ROUNDS):
            watches.append(Stopwatch(begin(library, answers)))
            drive(watches[-1].walk, answers, watches[-1].act)
        ratios += _ratios(watches)
        sample = next(e for e in watches[0].walk.events if e["event"] == "answered" and "reading" in e)
    detail = f"the slowest of {len(ratios)} answers in {len(files)} files; their median {median(ratios):.1f}"
    return [Figure("one answer / JSON round trip of its events", max(ratios), 50, detail)], sample


def _ratios(watches: list[Stopwatch]) -> list[float]:
    """Of each answer: its best seconds over the rounds, by the best seconds of its events' round trip.

    The best, for only a disturbance from outside makes the same work slower.
    """
    answers = len(watches[0].taken)
    return [min(w.taken[each] for w in watches) / min(w.trips[each] for w in watches) for each in range(answers)]
