"""What was done is on the disk before the next question; when the disk says no, nothing is lost."""

from __future__ import annotations

import os
import resource
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import pytest

from tests.record.helpers import CLOSED, VISIT, HandClock
from tui.desk.session import Visit
from tui.desk.store import Store
from tui.quantity import Refused
from tui.record import read, verify

if TYPE_CHECKING:
    from tui.walk import Walk


class Events:
    """All that a visit needs of a walk: a list of events that grows."""

    def __init__(self) -> None:
        self.events: list[dict[str, Any]] = list(VISIT[:2])

    def answer(self) -> None:
        self.events += VISIT[2:4]

    def refuse(self) -> None:
        raise Refused("unreadable", "That is no pressure.", "Type 12 psig.")

    def close(self) -> None:
        self.events.append(CLOSED)


def answer(walk: Walk) -> None:
    cast(Events, walk).answer()


def close(walk: Walk) -> None:
    cast(Events, walk).close()


def begun(path: Path | None) -> Visit:
    return Visit.begin(cast("Walk", Events()), HandClock(), path)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


@pytest.fixture
def visit(path: Path) -> Iterator[Visit]:
    visit = begun(path)
    yield visit
    visit.leave()


def test_events_are_on_the_disk_when_act_returns(visit: Visit, path: Path) -> None:
    assert read(path).events == list(VISIT[:2])
    visit.act(answer)
    assert read(path).events == list(VISIT[:4])
    visit.act(close)
    assert verify(path).state == "whole"
    assert visit.unrecorded == 0


def test_a_refusal_of_the_walk_writes_nothing(visit: Visit, path: Path) -> None:
    with pytest.raises(Refused, match="no pressure"):
        visit.act(lambda walk: cast(Events, walk).refuse())
    assert read(path).events == list(VISIT[:2])
    assert visit.unrecorded == 0


def test_open_in_another_window(visit: Visit, path: Path) -> None:
    with pytest.raises(Refused) as refused:
        begun(path)
    assert refused.value.code == "open-elsewhere"
    visit.act(answer)
    visit.leave()
    with pytest.raises(Refused) as refused:
        begun(path)
    assert refused.value.code == "exists"
    assert read(path).events == list(VISIT[:4])


def test_without_a_file_nothing_is_written(tmp_path: Path) -> None:
    visit = begun(None)
    visit.act(answer)
    visit.record()
    assert (visit.path, visit.unrecorded) == (None, 0)
    visit.leave()
    assert list(tmp_path.iterdir()) == []


def test_in_the_users_sessions(tmp_path: Path) -> None:
    visit = Visit.begin_in(Store(tmp_path / "sessions"), cast("Walk", Events()), HandClock(), "K-12")
    visit.leave()
    assert visit.path is not None
    assert visit.path.name.startswith("2026-11-25T0930-K-12-")
    assert read(visit.path).events == list(VISIT[:2])


@pytest.fixture
def small_disk() -> Iterator[Callable[[int], None]]:
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)

    def limit(size: int) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))

    yield limit
    resource.setrlimit(resource.RLIMIT_FSIZE, before)
    signal.signal(signal.SIGXFSZ, ignored)


@pytest.mark.parametrize("room", [0, 30, 500])
def test_a_full_disk(visit: Visit, path: Path, small_disk: Callable[[int], None], room: int) -> None:
    """At the first, in the middle and at the second of two events; the walk waits until both are there."""
    small_disk(path.stat().st_size + room)
    with pytest.raises(Refused) as refused:
        visit.act(answer)
    assert refused.value.code == "disk-full"
    recorded = len(read(path).lines)
    assert visit.unrecorded == 4 - recorded
    with pytest.raises(Refused):
        visit.act(close)
    assert len(visit.walk.events) == 4
    small_disk(1 << 20)
    visit.act(close)
    assert read(path).events == [*VISIT[:4], CLOSED]
    assert visit.unrecorded == 0


def test_a_disk_that_is_full_from_the_start(path: Path, small_disk: Callable[[int], None]) -> None:
    small_disk(0)
    with pytest.raises(Refused):
        begun(path)
    small_disk(1 << 20)
    assert verify(path).state == "torn"
    begun(path.with_name("other.jsonl")).leave()


def test_the_folder_is_pulled_away(tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    visit = begun(stick / "visit.jsonl")
    stick.rename(tmp_path / "pulled")
    with pytest.raises(Refused, match="no longer there"):
        visit.act(answer)
    assert visit.unrecorded == 2
    (tmp_path / "pulled").rename(stick)
    visit.record()
    assert read(stick / "visit.jsonl").events == list(VISIT[:4])
    visit.leave()


@pytest.mark.parametrize("number", [13, 30])
def test_a_place_that_may_not_be_written(path: Path, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = os.open

    def denied(name: Any, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT:
            raise OSError(number, os.strerror(number))
        return opened(name, flags, mode)

    monkeypatch.setattr(os, "open", denied)
    with pytest.raises(Refused) as refused:
        begun(path)
    assert str(path) in refused.value.message
    assert refused.value.cure
    assert not path.exists()
