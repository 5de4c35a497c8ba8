"""One event is one line, one write, one fsync; when the disk refuses, nothing is lost or glued together."""

from __future__ import annotations

import errno
import os
import resource
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from hashlib import sha256
from json import dumps
from pathlib import Path
from time import process_time_ns
from typing import Any

import pytest

from tests.record.helpers import CLOSED, VISIT, HandClock, write_visit
from tui.quantity.refused import Refused
from tui.record import FORMAT, Writer, read, recover, verify
from tui.record.line import LONGEST, write_line


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


@pytest.fixture
def writer(path: Path) -> Iterator[Writer]:
    with Writer.create(path, HandClock()) as writer:
        writer.append(VISIT[0])
        yield writer


def refused(call: Callable[[], object]) -> Refused:
    with pytest.raises(Refused) as caught:
        call()
    assert "Errno" not in str(caught.value)
    return caught.value


def test_an_existing_file_is_never_overwritten(path: Path) -> None:
    write_visit(path)
    before = path.read_bytes()
    assert refused(lambda: Writer.create(path, HandClock())).code == "exists"
    assert path.read_bytes() == before


def test_goes_on_after_the_last_line(path: Path) -> None:
    write_visit(path)
    with Writer.resume(path, HandClock()) as writer:
        writer.append({"event": "resumed", "circuit": None})
        writer.append(CLOSED)
    reading = read(path)
    assert reading.state == "whole"
    assert reading.events == [*VISIT, {"event": "resumed", "circuit": None}, CLOSED]
    assert [line.mono for line in reading.lines[-2:]] == [0.5, 1.0]


def test_without_resumed_the_seconds_run_on(path: Path) -> None:
    write_visit(path)
    with Writer.resume(path, HandClock()) as writer:
        writer.append(VISIT[3])
    assert [line.mono for line in read(path).lines[-2:]] == [2.5, 3.0]


@pytest.mark.parametrize(
    ("damage", "code"),
    [
        (lambda whole: whole[:-1], "torn"),
        (lambda whole: whole.replace(b"8 psig", b"9 psig"), "altered"),
        (lambda whole: b"hello\n", "foreign"),
    ],
)
def test_does_not_go_on_after_damage(path: Path, damage: Callable[[bytes], bytes], code: str) -> None:
    write_visit(path)
    path.write_bytes(damaged := damage(path.read_bytes()))
    assert refused(lambda: Writer.resume(path, HandClock())).code == code
    assert path.read_bytes() == damaged


def test_a_closed_visit_stays_closed(path: Path) -> None:
    write_visit(path, closed=True)
    assert refused(lambda: Writer.resume(path, HandClock())).code == "closed"


def test_notes_may_follow_the_closing(path: Path) -> None:
    write_visit(path, closed=True)
    with Writer.resume(path, HandClock(), closed_too=True) as writer:
        writer.append(VISIT[3])
    assert verify(path).state == "whole"
    with Writer.resume(path, HandClock(), closed_too=True) as writer:
        writer.append({"event": "resumed", "circuit": ""})
    assert verify(path).state == "open"


def test_the_format_is_ours_and_stated(tmp_path: Path) -> None:
    from tui.walk.opening import FORMAT as SAID_BY_THE_WALK

    assert FORMAT == SAID_BY_THE_WALK
    with Writer.create(tmp_path / "a.jsonl", HandClock()) as writer:
        said = refused(lambda: writer.append({"event": "opened", "format": "lowside-session 2"}))
        assert said.code == "unrecordable"
        writer.append({"event": "opened"})
    assert read(tmp_path / "a.jsonl").events == [{"event": "opened", "format": FORMAT}]


@pytest.mark.parametrize(
    "event",
    [
        {"event": "noted", "text": "\ud800"},
        {"event": "noted", "value": float("nan")},
        {"event": "noted", "value": 2**60},
        {"event": "noted", "n": 5},
        {"event": "noted", "text": "x" * LONGEST},
    ],
)
def test_what_cannot_be_recorded_exactly_is_not_taken(writer: Writer, path: Path, event: dict[str, Any]) -> None:
    assert refused(lambda: writer.append(event)).code == "unrecordable"
    assert not writer.held
    writer.append(VISIT[1])
    assert read(path).events == list(VISIT[:2])
    assert verify(path).state == "open"


# ------------------------------------------------------------------ places that cannot be written


@pytest.mark.parametrize(
    ("place", "code"),
    [
        ("none/visit.jsonl", "missing"),
        ("file/visit.jsonl", "missing"),
        ("a" * 300, "bad-name"),
        ("a\0b", "bad-name"),
    ],
)
def test_impossible_places(tmp_path: Path, place: str, code: str) -> None:
    (tmp_path / "file").touch()
    said = refused(lambda: Writer.create(tmp_path / place, HandClock()))
    assert said.code == code
    assert said.cure


@pytest.mark.parametrize(
    ("number", "code"), [(errno.EACCES, "no-right"), (errno.EROFS, "read-only"), (errno.ENOSPC, "disk-full")]
)
def test_a_folder_that_may_not_be_written(path: Path, number: int, code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*arguments: object) -> int:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "open", denied)
    said = refused(lambda: Writer.create(path, HandClock()))
    assert said.code == code
    assert str(path) in said.message


def test_a_folder_that_cannot_be_fsynced_keeps_no_empty_file(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(handle: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", failing)
        assert refused(lambda: Writer.create(path, HandClock())).code == "disk-error"
    write_visit(path)


# ------------------------------------------------------------------ the disk says no half way


@pytest.fixture
def small_disk() -> Iterator[Callable[[int], None]]:
    """Lets files grow to so many bytes and no further, by the system's own limit."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)

    def limit(size: int) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))

    yield limit
    resource.setrlimit(resource.RLIMIT_FSIZE, before)
    signal.signal(signal.SIGXFSZ, ignored)


@pytest.mark.parametrize("room", [0, 1, 60])
def test_a_full_disk_holds_the_event_and_goes_on_when_there_is_room(
    writer: Writer, path: Path, small_disk: Callable[[int], None], room: int
) -> None:
    whole = path.stat().st_size
    small_disk(whole + room)
    said = refused(lambda: writer.append(VISIT[1]))
    assert said.code == "disk-full"
    assert str(path) in said.message
    assert path.stat().st_size == whole + room
    assert verify(path).state == ("torn" if room else "open")
    assert refused(lambda: writer.append(VISIT[2])).code == "disk-full"
    assert writer.held
    small_disk(1 << 20)
    writer.append(VISIT[2])
    assert read(path).events == list(VISIT[:3])


def test_a_full_disk_then_the_power_goes(writer: Writer, path: Path, small_disk: Callable[[int], None]) -> None:
    small_disk(path.stat().st_size + 60)
    refused(lambda: writer.append(VISIT[1]))
    writer.close()
    small_disk(1 << 20)
    recovered = recover(path)
    assert recovered.aside is not None
    assert recovered.aside.stat().st_size == 60
    assert recovered.reading.events == [VISIT[0]]


@pytest.mark.parametrize("number", [errno.EIO, errno.ENOSPC, errno.EDQUOT])
def test_a_failed_fsync_writes_the_same_line_again(
    writer: Writer, path: Path, number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a failed fsync the kernel may call lost pages clean: the bytes are written anew, in place."""
    writes: list[bytes] = []
    write = os.write

    def no(handle: int) -> None:
        raise OSError(number, os.strerror(number))

    def counted(handle: int, data: bytes) -> int:
        writes.append(data)
        return write(handle, data)

    monkeypatch.setattr(os, "write", counted)
    with monkeypatch.context() as failing:
        failing.setattr(os, "fsync", no)
        refused(lambda: writer.append(VISIT[1]))
    assert writer.held
    writer.finish()
    assert writes[0] == writes[1]
    assert read(path).events == list(VISIT[:2])
    assert not writer.held


def test_dev_full() -> None:
    """The system's own always full device."""
    handle = os.open("/dev/full", os.O_WRONLY)
    with pytest.raises(OSError) as error:
        os.write(handle, b"x")
    os.close(handle)
    from tui.record.trouble import refusal

    assert refusal(error.value, "/dev/full", "write").code == "disk-full"


# ------------------------------------------------------------------ someone else at the file


def test_the_folder_is_pulled_away_and_put_back(tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    path = stick / "visit.jsonl"
    with Writer.create(path, HandClock()) as writer:
        writer.append(VISIT[0])
        stick.rename(tmp_path / "pulled")
        said = refused(lambda: writer.append(VISIT[1]))
        assert said.code == "gone"
        assert str(path) in said.message
        assert verify(tmp_path / "pulled/visit.jsonl").state == "open"
        (tmp_path / "pulled").rename(stick)
        writer.append(VISIT[2])
    assert read(path).events == list(VISIT[:3])


def test_the_file_is_removed_or_replaced(writer: Writer, path: Path) -> None:
    path.unlink()
    assert refused(lambda: writer.append(VISIT[1])).code == "gone"
    path.write_text("another")
    assert refused(writer.finish).code == "gone"
    assert path.read_text() == "another"


@pytest.mark.parametrize("change", [-1, 1, 5000])
def test_another_program_writes_into_it(writer: Writer, path: Path, change: int) -> None:
    whole = path.read_bytes()
    path.write_bytes(before := whole[:change] if change < 0 else whole + b"x" * change)
    said = refused(lambda: writer.append(VISIT[1]))
    assert said.code == "changed-outside"
    assert path.read_bytes() == before


def test_a_closed_writer_says_so(writer: Writer) -> None:
    writer.close()
    writer.close()
    assert refused(lambda: writer.append(VISIT[1])).code == "disk-error"


# ------------------------------------------------------------------ cost and calls

FIVE = """
from pathlib import Path
import sys
from tests.record.helpers import write_visit
write_visit(Path(sys.argv[1]))
"""


def test_one_write_and_one_fsync_an_event(path: Path) -> None:
    """Counted by strace; the folder is fsynced once more, when the name is new."""
    trace = path.with_name("trace")
    command = ["strace", "-f", "-y", "-o", str(trace), "-e", "trace=write,pwrite64,writev,fsync,fdatasync"]
    subprocess.run([*command, sys.executable, "-c", FIVE, str(path)], check=True)
    calls = [line.split(None, 1)[1] for line in trace.read_text().splitlines() if str(path.parent) in line]
    assert calls[0].startswith("fsync(")
    assert f"<{path.parent}>" in calls[0]
    names = [call.split("(")[0] for call in calls[1:]]
    assert names == ["write", "fsync"] * len(VISIT)
    assert all(f"<{path}>" in call for call in calls[1:])


def test_an_event_costs_at_most_twenty_times_json_and_sha256() -> None:
    """CPU of stamping and writing out against one json.dumps plus sha256 of the same event."""
    event = {**VISIT[2], "value": {"kind": "gauge pressure", "value": "8.0", "unit": "[psi]", "gauge": True}}

    def plain() -> None:
        sha256(dumps(event).encode()).hexdigest()

    def ours() -> None:
        write_line(event, 12, "2026-11-25T09:30:00.000-05:00", 61.25, "0" * 64)

    def cost(call: Callable[[], None]) -> int:
        start = process_time_ns()
        for _ in range(2000):
            call()
        return process_time_ns() - start

    assert min(cost(ours) for _ in range(3)) <= 20 * min(cost(plain) for _ in range(3))
