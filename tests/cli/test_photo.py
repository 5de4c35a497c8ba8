"""`lowside photo`: a photo goes to a visit that was closed, or one that is still open; 0 or 2."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.desk.visits import BEGINNING, begun, typed
from tui.desk.lock import SessionLock
from tui.record import read, verify
from tui.record.replay import replay


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "leak.jpg"
    path.write_bytes(b"light")
    return path


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "visit.jsonl"
    visit = begun(path)
    typed(visit, *BEGINNING, "close enough")
    visit.leave()
    return path


def test_a_closed_visit_stays_whole(lowside: Command, log: Path, photo: Path) -> None:
    done = lowside("photo", log, photo)
    assert (done.code, done.out) == (0, f"Kept as {log.with_suffix('') / 'leak.jpg'}.\n")
    assert read(log).events[-1]["event"] == "photographed"
    assert verify(log).state == "whole"
    assert replay(log).same
    assert "leak.jpg" in lowside("sheet", log).out


def test_an_open_visit_can_be_resumed(lowside: Command, tmp_path: Path, photo: Path) -> None:
    path = tmp_path / "open.jsonl"
    visit = begun(path)
    typed(visit, *BEGINNING)
    visit.leave()
    assert lowside("photo", path, photo).code == 0
    assert verify(path).state == "open"
    assert replay(path).same


def test_one_message_for_what_cannot_be(lowside: Command, log: Path, photo: Path, tmp_path: Path) -> None:
    before = log.read_bytes()
    altered = tmp_path / "altered.jsonl"
    altered.write_bytes(before.replace(b"K-12", b"K-13", 1))
    for arguments in ((log, tmp_path / "no.jpg"), (tmp_path / "no.jsonl", photo), (photo, photo), (altered, photo)):
        done = lowside("photo", *arguments)
        assert done.code == 2
        assert done.err.count("\n") <= 2
        assert "Traceback" not in done.err
    lock = SessionLock(log).acquire()
    assert "open in another window" in lowside("photo", log, photo).err
    lock.release()
    assert log.read_bytes() == before
    assert not log.with_suffix("").exists()
