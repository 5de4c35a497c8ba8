"""Where in a file something stands, and what is wrong there."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """A place in a file: line and column count from 1."""

    path: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in one place; `severity` is ``error`` (stops) or ``warning``."""

    spot: Spot
    code: str
    message: str
    cure: str = ""
    severity: str = "error"
