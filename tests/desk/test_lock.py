"""One visit is open in one program; a program that dies lets go."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tui.desk.lock import SessionLock
from tui.quantity import Refused

HOLD = """
import sys, time
from pathlib import Path
from tui.desk.lock import SessionLock
lock = SessionLock(Path(sys.argv[1])).acquire()
print("held", flush=True)
time.sleep(60)
"""


def test_held_by_another_program_until_it_dies(tmp_path: Path) -> None:
    session = tmp_path / "visit.jsonl"
    session.write_text("untouched")
    command = [sys.executable, "-c", HOLD, str(session)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        with pytest.raises(Refused) as refused:
            SessionLock(session).acquire()
        assert refused.value.code == "open-elsewhere"
        assert str(session) in refused.value.message
        other.send_signal(signal.SIGKILL)
        other.wait()
        SessionLock(session).acquire().release()
    assert session.read_text() == "untouched"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["visit.jsonl", "visit.jsonl.lock"]


def test_twice_in_one_program(tmp_path: Path) -> None:
    first = SessionLock(tmp_path / "visit.jsonl").acquire()
    with pytest.raises(Refused):
        SessionLock(tmp_path / "visit.jsonl").acquire()
    first.release()
    first.release()
    SessionLock(tmp_path / "visit.jsonl").acquire().release()


@pytest.mark.parametrize("place", ["none/visit.jsonl", "file/visit.jsonl"])
def test_a_place_that_is_none(tmp_path: Path, place: str) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refused, match="cannot lock the visit"):
        SessionLock(tmp_path / place).acquire()


def test_a_read_only_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*arguments: object) -> int:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr("os.open", denied)
    with pytest.raises(Refused) as refused:
        SessionLock(tmp_path / "visit.jsonl").acquire()
    assert refused.value.code == "read-only"
