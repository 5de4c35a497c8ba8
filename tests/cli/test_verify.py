"""`verify` names what is wrong with a session file, and its exit code says how bad it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.cli.shapes import VERIFY, shaped
from tests.record.helpers import write_visit


@pytest.fixture
def closed(tmp_path: Path) -> Path:
    return write_visit(tmp_path / "closed.jsonl", closed=True)


@pytest.fixture
def left(tmp_path: Path) -> Path:
    return write_visit(tmp_path / "left.jsonl")


def test_whole_and_open_files_are_well(lowside: Command, closed: Path, left: Path) -> None:
    done = lowside("verify", closed, left, "--json")
    assert done.code == 0
    assert [file["state"] for file in shaped(done.out, VERIFY)["files"]] == ["whole", "open"]


def flipped(data: bytes) -> bytes:
    place = data.index(b"8 psig")
    return data[:place] + b"9" + data[place + 1 :]


def without_a_line(data: bytes) -> bytes:
    lines = data.splitlines(keepends=True)
    return b"".join(lines[:2] + lines[3:])


def with_a_key_twice(data: bytes) -> bytes:
    return data.replace(b'"circuit":"main",', b'"circuit":"main","circuit":"main",', 1)


@pytest.mark.parametrize(
    ("damage", "line", "says"),
    [(flipped, 3, "hash"), (without_a_line, 3, "removed"), (with_a_key_twice, 2, "twice")],
)
def test_damage_is_named_with_its_line(
    lowside: Command, closed: Path, damage: Callable[[bytes], bytes], line: int, says: str
) -> None:
    closed.write_bytes(damage(closed.read_bytes()))
    done = lowside("verify", closed, "--json")
    assert done.code == 1
    (file,) = shaped(done.out, VERIFY)["files"]
    assert (file["state"], file["line"]) == ("altered", line)
    assert says in file["message"]
    assert "altered" in lowside("verify", closed).out


def test_a_torn_file_is_left_as_it_is(lowside: Command, left: Path) -> None:
    torn = left.read_bytes()[:-20]
    left.write_bytes(torn)
    done = lowside("verify", left)
    assert done.code == 1
    assert "torn" in done.out
    assert left.read_bytes() == torn


def test_the_worst_file_wins_and_the_others_are_still_told(lowside: Command, closed: Path, tmp_path: Path) -> None:
    stranger = tmp_path / "notes.txt"
    stranger.write_text("milk, bread\n", encoding="utf-8")
    done = lowside("verify", stranger, tmp_path / "nowhere.jsonl", closed)
    assert done.code == 2
    assert "foreign" in done.out
    assert "whole" in done.out
    assert "nowhere.jsonl" in done.err
