"""`lowside sheet`: one file, plain text, 0 or 2."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Command
from tui.record.line import FORMAT, FORMAT_VERSION


@pytest.fixture
def log(lowside: Command, tmp_path: Path) -> Path:
    path = tmp_path / "leak.jsonl"
    assert lowside("walk", "--answers", ROOT / "tests" / "answers" / "leak.yaml", "--log", path).code == 0
    return path


def test_it_prints_the_job(lowside: Command, log: Path) -> None:
    done = lowside("sheet", log)
    assert done.code == 0
    assert done.err == ""
    assert done.out.startswith("SERVICE SHEET\n")
    assert "came out of a file, not from a person" in done.out
    assert "Short of refrigerant" in done.out
    assert max(map(len, done.out.split("\n"))) <= 78


def test_it_does_not_touch_the_file(lowside: Command, log: Path) -> None:
    before = log.read_bytes(), log.stat().st_mtime_ns
    lowside("sheet", log)
    assert (log.read_bytes(), log.stat().st_mtime_ns) == before


def test_a_stream_without_the_signs_gets_plain_letters(program: Command, log: Path) -> None:
    done = program("sheet", log, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.code == 0
    assert done.out.isascii()
    assert "deg F" in done.out
    whole = program("sheet", log, PYTHONIOENCODING="utf-8", PYTHONUTF8="1")
    assert not whole.out.isascii()
    assert done.out.count("?") == whole.out.count("?"), "a sign it has not would be a question mark"


def test_plain_letters_by_wish(lowside: Command, log: Path) -> None:
    assert lowside("sheet", log, "--ascii").out.isascii()


def test_a_damaged_file_is_done_and_says_so_first(lowside: Command, log: Path) -> None:
    data = log.read_bytes()
    log.write_bytes(data[: len(data) // 2])
    done = lowside("sheet", log)
    assert done.code == 0
    assert done.out.startswith("*** THIS RECORD IS TORN.")


def test_newer_foreign_missing_or_empty_is_one_message(lowside: Command, log: Path, tmp_path: Path) -> None:
    foreign, empty, newer = (tmp_path / name for name in ("foreign.txt", "empty.jsonl", "newer.jsonl"))
    foreign.write_text("Dear customer\n", encoding="utf-8")
    empty.touch()
    other = FORMAT.replace(str(FORMAT_VERSION), "99")
    newer.write_bytes(log.read_bytes().replace(FORMAT.encode(), other.encode()))
    for path in (foreign, empty, newer, tmp_path / "missing.jsonl", tmp_path):
        done = lowside("sheet", path)
        assert done.code == 2, path
        assert done.out == ""
        assert str(path) in done.err
        assert "Traceback" not in done.err


def test_misuse_is_told(lowside: Command) -> None:
    assert lowside("sheet").code == 2
