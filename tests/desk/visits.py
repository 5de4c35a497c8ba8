"""A small walk typed line by line, as a person at a dumb terminal would."""

from __future__ import annotations

import io
from pathlib import Path

from tests.record.helpers import HandClock
from tui.desk.plain import run_plain
from tui.desk.session import Visit, resume
from tui.tree.library import Library
from tui.walk import Walk

TREES = Path(__file__).resolve().parents[1] / "walk" / "library"
SITE = {"altitude": "0 ft", "today": "2026-11-25"}

# To the first charge of a short R-134a circuit: R-134a at 4 psig is far below 15 °F, at 15 psig near it.
BEGINNING = ("r134a", "yes", "14 oz", "running", "35", "", "4")
CHARGE = ("", "100 oz", "", "98 oz", "skip it is steady already", "15")
TO_THE_END = (*BEGINNING, *CHARGE, "", "close")


def library() -> Library:
    return Library.load(TREES)


def begun(path: Path | None, clock: HandClock | None = None) -> Visit:
    walk = Walk.start(library(), "small", site=SITE, unit="K-12")
    return Visit.begin(walk, clock or HandClock(), path)


def typed(visit: Visit, *lines: str, notices: tuple[str, ...] = ()) -> tuple[bool, str]:
    """What `run_plain` gave back and showed; the input ends after the last line."""
    shown = io.StringIO()
    ended = run_plain(visit, io.StringIO("".join(f"{line}\n" for line in lines)), shown, notices)
    return ended, shown.getvalue()


def walked(path: Path, *lines: str) -> str:
    """A visit typed into a file, left where the lines end."""
    visit = begun(path)
    _, shown = typed(visit, *lines)
    visit.leave()
    return shown


def gone_on(path: Path, *lines: str) -> str:
    """The visit in a file resumed and typed on."""
    resumed = resume(path, library(), HandClock())
    _, shown = typed(resumed.visit, *lines, notices=resumed.notices)
    resumed.visit.leave()
    return shown
