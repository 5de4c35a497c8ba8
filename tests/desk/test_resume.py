"""Wherever the power goes, a visit goes on at its last whole line."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.desk.visits import BEGINNING, CHARGE, TO_THE_END, TREES, begun, gone_on, library, walked
from tests.record.helpers import HandClock, write_visit
from tui.desk.session import resume
from tui.quantity import Refused
from tui.record import read, verify
from tui.record.replay import replay
from tui.tree.library import Library


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


def test_cut_after_every_line_and_walked_on_to_the_same_end(path: Path) -> None:
    walked(path, *TO_THE_END)
    lines, events = path.read_bytes().splitlines(keepends=True), read(path).events
    for kept in range(1, len(lines)):
        path.write_bytes(b"".join(lines[:kept]))
        resumed = resume(path, library(), HandClock())
        after = read(path).events
        resumed.visit.leave()
        assert after[:kept] == events[:kept]
        assert after[-1]["event"] == "resumed"
        # What follows from the last whole line by itself is written again, and nothing else.
        assert after[kept:-1] == events[kept : len(after) - 1]
        assert resumed.visit.walk.events == after
        assert replay(path).same


def test_cut_at_every_byte_of_the_last_line(path: Path) -> None:
    walked(path, *BEGINNING)
    whole, events = path.read_bytes(), read(path).events
    last = whole.rindex(b"\n", 0, -1) + 1
    for end in range(last + 1, len(whole)):
        path.write_bytes(whole[:end])
        resumed = resume(path, library(), HandClock())
        resumed.visit.leave()
        assert resumed.notices[0].startswith("The last line was torn")
        assert read(path).events[: len(events) - 1] == events[:-1]
        aside = max(path.parent.glob("visit.torn-*"), key=lambda found: found.stat().st_mtime_ns)
        assert whole[last:end] in [found.read_bytes() for found in path.parent.glob("visit.torn-*")]
        aside.unlink()


def test_the_seconds_restart_at_resumed(path: Path) -> None:
    walked(path, *BEGINNING)
    before = read(path).lines[-1].mono
    gone_on(path, *CHARGE[:2])
    lines = read(path).lines
    resumed = next(line for line in lines if line.event["event"] == "resumed")
    assert before > resumed.mono
    assert lines[-1].mono > resumed.mono


@pytest.mark.parametrize(
    ("prepare", "code"),
    [
        (lambda path: None, "missing"),
        (lambda path: path.mkdir(), "not-a-file"),
        (lambda path: path.touch(), "nothing-recorded"),
        (lambda path: path.write_bytes(b"hello\n"), "foreign"),
        (lambda path: write_visit(path, closed=True), "closed"),
        (lambda path: write_visit(path), "damaged-text"),
        (
            lambda path: path.write_bytes(write_visit(path).read_bytes().replace(b"8 psig", b"9 psig")),
            "altered",
        ),
    ],
)
def test_what_cannot_go_on(path: Path, prepare: Callable[[Path], object], code: str) -> None:
    prepare(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(Refused) as refused:
        resume(path, library(), HandClock())
    assert refused.value.code == code
    assert str(path) in refused.value.message
    assert (path.read_bytes() if path.is_file() else None) == before


def test_open_elsewhere(path: Path) -> None:
    visit = begun(path)
    with pytest.raises(Refused) as refused:
        resume(path, library(), HandClock())
    assert refused.value.code == "open-elsewhere"
    visit.leave()
    resume(path, library(), HandClock()).visit.leave()


def test_a_refused_resume_lets_go_of_the_lock(path: Path) -> None:
    walked(path, *TO_THE_END)
    for _ in range(2):
        with pytest.raises(Refused) as refused:
            resume(path, library(), HandClock())
        assert refused.value.code == "closed"


def edited(folder: Path, name: str, old: str, new: str) -> Library:
    shutil.copytree(TREES, folder, dirs_exist_ok=True)
    text = (folder / name).read_text()
    assert old in text
    (folder / name).write_text(text.replace(old, new))
    return Library.load(folder)


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("small.yaml", "tell: Add a little.", "tell: Add a spoonful."),
        ("small.yaml", "by: fan\n  rows:\n    running", "by: fan\n  rows:\n    running"),
        ("catalogue/figures.yaml", "is: 5 dF", "is: 9 dF"),
    ],
)
def test_a_visit_goes_on_with_the_trees_it_began_with(
    path: Path, tmp_path: Path, name: str, old: str, new: str
) -> None:
    walked(path, *BEGINNING)
    today = edited(tmp_path / "today", name, old, new)
    resumed = resume(path, today, HandClock())
    resumed.visit.leave()
    assert bool(resumed.notices) == (old != new)
    gone_on(path, *CHARGE, "", "close")
    assert verify(path).state == "whole"
    assert replay(path).same


def test_a_tree_not_yet_entered_may_find_more_than_it_did(path: Path, tmp_path: Path) -> None:
    walked(path, *BEGINNING[:2])
    more = """- decide: odd
  by: suction-level
  rows:
    low or on: carry on
    high: blocked
  unsettled: carry on
- back: taken
- finding: blocked
  cause: drier-blocked
  seen: Odd.
  next: Look at the drier.
"""
    today = edited(tmp_path / "today", "readings.yaml", "- back: taken\n", more)
    resume(path, today, HandClock()).visit.leave()
    gone_on(path, *BEGINNING[2:], *CHARGE, "", "close")
    assert verify(path).state == "whole"


def test_trees_that_changed_elsewhere_are_nobody_s_business(path: Path, tmp_path: Path) -> None:
    walked(path, *BEGINNING)
    today = edited(tmp_path / "today", "whole-unit.yaml", "title: The whole unit", "title: All of it")
    resumed = resume(path, today, HandClock())
    resumed.visit.leave()
    assert resumed.notices == ()
