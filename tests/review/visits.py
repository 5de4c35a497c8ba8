"""Visits written down: with everything in them that a sheet has to tell."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

from tests.record.helpers import HandClock
from tui.desk.session import Visit
from tui.record import read
from tui.review import sheet_of
from tui.tree.library import Library
from tui.walk import Walk

SMALL = Path(__file__).resolve().parents[1] / "walk" / "library"
SITE = {"altitude": "0 ft", "today": "2026-11-25"}
EDGE = "12.0 psig"  # evaporating at 10 °F, the very edge of what is wanted
DIGEST = "a1" * 32


@dataclass
class Recorded:
    """A visit tied to its file; each act is a minute later."""

    visit: Visit
    clock: HandClock
    path: Path

    @property
    def walk(self) -> Walk:
        return self.visit.walk

    def act(self, *acts: Callable[[Walk], Any]) -> None:
        for each in acts:
            self.clock.at += timedelta(minutes=1)
            self.visit.act(each)

    def answer(self, *texts: Any) -> None:
        for text in texts:
            self.act(lambda walk, given=text: walk.answer(given))  # type: ignore[misc]

    def sheet(self, *, ascii_only: bool = False) -> str:
        self.visit.leave()
        return sheet_of(read(self.path), ascii_only=ascii_only)


def begun(path: Path, tree: str = "small", **options: Any) -> Recorded:
    options.setdefault("site", SITE)
    options.setdefault("unit", "K-12")
    walk = Walk.start(Library.load(SMALL), tree, **options)
    clock = HandClock()
    return Recorded(Visit.begin(walk, clock, path), clock, path)


def to_the_gauges(recorded: Recorded) -> Recorded:
    """R-134a, box wanted 35 °F, cautions read; the suction is asked next."""
    recorded.answer("R-134a", "yes", "14 oz", {"fan": "running", "box-wanted": "35 °F"})
    recorded.act(lambda walk: walk.acknowledge())
    return recorded


def charged(recorded: Recorded) -> Recorded:
    """From low suction to the finding: one step of charge brings it up."""
    recorded.answer("4 psig")
    recorded.act(lambda walk: walk.done())
    recorded.answer("100 oz")
    recorded.act(lambda walk: walk.done())
    recorded.answer("98 oz")
    recorded.act(lambda walk: walk.waited(30.0, "it is steady already"))
    recorded.answer("15 psig")
    recorded.act(lambda walk: walk.done())
    return recorded


def section(sheet: str, title: str) -> str:
    """The lines below a heading, up to the next empty line."""
    _, _, rest = sheet.partition(f"{title}\n")
    assert rest, f"no section {title} in\n{sheet}"
    return rest.partition("\n\n")[0]


def flat(text: str) -> str:
    """On one line, so that a break does not matter."""
    return " ".join(text.split())
