"""Session names are legal on Windows whatever a unit is called; the list says what is open."""

from __future__ import annotations

import os
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.record.helpers import HandClock, write_visit
from tui.desk.store import Store, file_name, listed, photo_folder, tag
from tui.quantity import Refused
from tui.record import Writer

BEGAN = datetime(2026, 11, 25, 9, 30, tzinfo=timezone(timedelta(hours=-5)))
# What Windows refuses in a name: learn.microsoft.com, "Naming Files, Paths, and Namespaces".
REFUSED_SIGNS = '<>:"/\\|?*'
RESERVED = ("CON", "PRN", "AUX", "NUL", "COM1", "LPT1", "CONIN$")


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("K-12", "K-12"),
        ("walk-in 3, back door", "walk-in-3-back-door"),
        ("CON", "CON"),
        ("Kühlraum 2", "Kühlraum-2"),
        ("../../etc/passwd", "etc-passwd"),
        ("a:b*c?", "a-b-c"),
        ("...", "unit"),
        ("", "unit"),
        ("\udc80\0\n", "unit"),
        ("x" * 200, "x" * 30),
        ("café", "café"),
    ],
)
def test_tags(unit: str, expected: str) -> None:
    assert tag(unit) == expected


@given(st.one_of(st.text(max_size=60), st.sampled_from(RESERVED)))
def test_names_are_legal_everywhere(unit: str) -> None:
    name = file_name(BEGAN, unit, "0a1b")
    assert name.startswith("2026-11-25T0930-")
    assert name.endswith("-0a1b.jsonl")
    assert not any(sign in name for sign in REFUSED_SIGNS)
    assert all(ord(sign) >= 32 for sign in name)
    assert len(name.encode()) <= 255
    assert name.split(".")[0].upper() not in RESERVED
    assert Path(name).name == name
    assert 1 <= len(tag(unit)) <= 30


def test_an_awkward_name_makes_a_file(tmp_path: Path) -> None:
    path = Store(tmp_path).new_path(BEGAN, 'CON: "the cold one" ❄')
    write_visit(path)
    assert os.listdir(tmp_path) == [path.name]


def test_two_visits_in_one_minute(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    endings = iter(["0a1b", "0a1b", "0a1b", "ffff"])
    monkeypatch.setattr("secrets.token_hex", lambda n: next(endings))
    store = Store(tmp_path / "sessions")
    first = write_visit(store.new_path(BEGAN, "K-12"))
    second = store.new_path(BEGAN, "K-12")
    assert (first.name, second.name) == ("2026-11-25T0930-K-12-0a1b.jsonl", "2026-11-25T0930-K-12-ffff.jsonl")


def test_photos_lie_beside(tmp_path: Path) -> None:
    assert photo_folder(tmp_path / "2026-11-25T0930-a.b-0a1b.jsonl") == tmp_path / "2026-11-25T0930-a.b-0a1b"


def test_what_is_open(tmp_path: Path) -> None:
    store = Store(tmp_path)
    assert store.names() == []
    assert store.latest_open() is None
    write_visit(tmp_path / "2026-11-24T0800-K-12-0a1b.jsonl")
    write_visit(tmp_path / "2026-11-25T0930-walk-in-3-00ff.jsonl", closed=True)
    (tmp_path / "2026-11-25T0930-walk-in-3-00ff.jsonl.lock").touch()
    torn = write_visit(tmp_path / "2026-11-26T0800-torn-0000.jsonl")
    torn.write_bytes(torn.read_bytes() + b'{"at":"2026')
    (tmp_path / "notes.txt").touch()
    found = [listed(path) for path in store.names()]
    assert [(item.began, item.unit, item.closed) for item in found] == [
        ("2026-11-26T0800", "torn", False),
        ("2026-11-25T0930", "walk-in-3", True),
        ("2026-11-24T0800", "K-12", False),
    ]
    latest = store.latest_open()
    assert latest is not None
    assert latest.unit == "torn"


def test_what_is_no_session_is_never_gone_on_with(tmp_path: Path) -> None:
    store = Store(tmp_path)
    mine = write_visit(tmp_path / "2026-11-24T0800-K-12-0a1b.jsonl")
    write_visit(tmp_path / "zzz.jsonl")
    (tmp_path / "2026-11-26T0800-K-12-0000.jsonl").write_text("x" * 100)
    (tmp_path / "zzzz.jsonl").write_text("{}\n")
    newer = tmp_path / "2026-11-25T0800-K-12-0000.jsonl"
    newer.write_text('{"at":"2026-11-25T08:00:00Z","event":"opened","format":"lowside-session 99"}\n')
    found = [each.path for each in store.unfinished()]
    assert found == [newer, mine, tmp_path / "zzz.jsonl"], "names of another kind come last"
    assert store.names()[-1] == tmp_path / "zzz.jsonl"


def test_closed_stays_closed_with_notes_behind_and_opens_when_resumed(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "a.jsonl", closed=True)
    with Writer.resume(path, HandClock(), closed_too=True) as writer:
        writer.append({"event": "noted", "circuit": "", "text": '"event":"resumed"'})
        assert listed(path).closed
        writer.append({"event": "resumed", "circuit": ""})
    assert not listed(path).closed


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refused, match="cannot make the folder") as refused:
        Store(tmp_path / "file" / "sessions").new_path(BEGAN, "K-12")
    assert refused.value.cure
    with pytest.raises(Refused, match="cannot list"):
        Store(tmp_path / "file").names()
