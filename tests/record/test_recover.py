"""A torn end is set aside, whole lines are never touched, and a second blow in between loses nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.record.helpers import VISIT, write_visit
from tui.quantity.refused import Refused
from tui.record import read, recover, verify


@pytest.fixture
def torn(tmp_path: Path) -> Path:
    path = write_visit(tmp_path / "2026-11-25T0930-K-12-0a1b.jsonl")
    path.write_bytes(path.read_bytes()[:-7])
    return path


def test_the_torn_end_is_moved_beside(torn: Path) -> None:
    before = torn.read_bytes()
    recovered = recover(torn)
    assert recovered.aside == torn.with_name("2026-11-25T0930-K-12-0a1b.torn-1")
    assert torn.read_bytes() + recovered.aside.read_bytes() == before
    assert recovered.reading.state == "open"
    assert recovered.reading.events == list(VISIT[:-1])
    assert recovered.aside.name in recovered.message


def test_at_every_byte(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl")
    whole = path.read_bytes()
    last = whole.rindex(b"\n", 0, -1) + 1
    for number, end in enumerate(range(last + 1, len(whole)), start=1):
        path.write_bytes(whole[:end])
        recovered = recover(path)
        assert recovered.aside == path.with_name(f"visit.torn-{number}")
        assert recovered.aside.read_bytes() == whole[last:end]
        assert path.read_bytes() == whole[:last]


def test_what_is_not_torn_is_left_alone(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl")
    before = path.read_bytes()
    recovered = recover(path)
    assert (recovered.aside, recovered.message, recovered.reading.state) == (None, "", "open")
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("contents", [b"", b'{"at":"2026-11-2'])
def test_nothing_whole_in_it(tmp_path: Path, contents: bytes) -> None:
    path = tmp_path / "visit.jsonl"
    path.write_bytes(contents)
    with pytest.raises(Refused) as refused:
        recover(path)
    assert refused.value.code == "nothing-recorded"
    assert path.read_bytes() == contents


def test_an_altered_file_is_refused(torn: Path) -> None:
    torn.write_bytes(torn.read_bytes().replace(b"8 psig", b"9 psig"))
    before = torn.read_bytes()
    with pytest.raises(Refused) as refused:
        recover(torn)
    assert refused.value.code == "altered"
    assert "Line 3" in refused.value.message
    assert torn.read_bytes() == before


@pytest.mark.parametrize("failing_call", [1, 2, 3])
def test_the_disk_fails_while_setting_aside(torn: Path, failing_call: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """fsync of the side file, of the folder, of the cut log: whichever fails, every byte is still there."""
    before = torn.read_bytes()
    calls = 0

    def failing(handle: int) -> None:
        nonlocal calls
        calls += 1
        if calls == failing_call:
            raise OSError(5, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", failing)
        with pytest.raises(Refused, match="disk reports an error"):
            recover(torn)
    sides = sorted(torn.parent.glob("*.torn-*"))
    if failing_call < 3:
        assert torn.read_bytes() == before
    else:
        assert torn.read_bytes() + sides[0].read_bytes() == before
    recover(torn)
    assert verify(torn).state == "open"
    assert read(torn).events == list(VISIT[:-1])
