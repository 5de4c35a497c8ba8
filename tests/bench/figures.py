"""One measured figure beside its limit."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Figure:
    """`measured` may be at most `limit`; `detail` says from what it was made."""

    name: str
    measured: float
    limit: float
    detail: str

    @property
    def well(self) -> bool:
        return self.measured <= self.limit

    def row(self) -> str:
        verdict = "well" if self.well else "OVER"
        return f"{self.name:<52} {self.measured:>9.3f} {self.limit:>7.2f}  {verdict:<5} {self.detail}"


def seconds_of(action: Callable[[], object], times: int, rounds: int = 7) -> float:
    """Median over `rounds` of the seconds one call takes, each round `times` calls."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        for _ in range(times):
            action()
        taken.append((time.perf_counter() - start) / times)
    return median(taken)


def cpu_seconds_of(action: Callable[[], object], times: int, rounds: int = 7) -> float:
    """As `seconds_of`, in seconds of this process's CPU."""
    taken = []
    for _ in range(rounds):
        start = time.process_time()
        for _ in range(times):
            action()
        taken.append((time.process_time() - start) / times)
    return median(taken)
