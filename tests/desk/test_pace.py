"""How long it took from decision to decision."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.record.helpers import HandClock
from tui.desk.pace import pace_in, pace_of
from tui.record import Writer, read


def written(path: Path, *moments: tuple[float, dict[str, Any]]) -> Path:
    clock = HandClock()
    writer = Writer.create(path, clock)
    for mono, event in moments:
        clock.seconds = mono
        writer.append(event)
    writer.close()
    return path


def routed(step: str) -> dict[str, Any]:
    return {"event": "routed", "circuit": "main", "tree": "t", "step": step, "rows": [], "to": "carry on"}


def test_seconds_are_counted_from_the_beginning_and_not_over_a_break(tmp_path: Path) -> None:
    opened = {"event": "opened", "circuit": ""}
    path = written(
        tmp_path / "v.jsonl",
        (100.0, opened),
        (130.0, routed("a")),
        (190.0, routed("b")),
        (7.0, {"event": "resumed", "circuit": ""}),  # another start of the machine: its clock began anew
        (27.0, routed("c")),
        (37.0, routed("a")),
    )
    pace = pace_of(read(path).lines)
    # within the seconds that the clock of the tests itself goes on by
    assert [pace.since[number] for number in (1, 2, 4)] == pytest.approx([30, 90, 110], abs=2)
    assert pace.since[5] == pace.whole == pytest.approx(120, abs=2)


def test_no_file_has_no_pace(tmp_path: Path) -> None:
    assert pace_in(None).whole == 0
    assert pace_in(tmp_path / "nothing.jsonl").since == {}
