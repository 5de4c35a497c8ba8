"""A clock that does what it is told, and a small visit to write down."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from tui.record import Writer

VISIT: tuple[dict[str, Any], ...] = (
    {"event": "opened", "circuit": None, "unit": "K-12", "format": "lowside-session 1"},
    {"event": "entered", "circuit": "main", "tree": "both-low", "text": "x"},
    {"event": "answered", "circuit": "main", "reading": "suction", "typed": "8 psig", "value": "8"},
    {"event": "noted", "circuit": "main", "text": "frost on the drier, 2 °C"},
    {"event": "finding", "circuit": "main", "cause": "drier-blocked", "could_be": []},
)
CLOSED = {"event": "closed", "circuit": None}


class HandClock:
    """Starts on 2026-11-25 09:30 at UTC-5; each question moves it half a second on."""

    def __init__(self) -> None:
        self.at = datetime(2026, 11, 25, 9, 30, tzinfo=timezone(timedelta(hours=-5)))
        self.seconds = 1000.0

    def now(self) -> datetime:
        return self.at

    def mono(self) -> float:
        self.seconds += 0.5
        return self.seconds


def write_visit(path: Path, *, closed: bool = False) -> Path:
    with Writer.create(path, HandClock()) as writer:
        for event in (*VISIT, CLOSED) if closed else VISIT:
            writer.append(event)
    return path
