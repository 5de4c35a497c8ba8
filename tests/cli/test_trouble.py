"""What a person can get wrong with files and folders: one message with place and cure, exit 2, nothing harmed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Command, Done
from tests.cli.shapes import REPLAY, shaped
from tests.record.test_replay import rewritten
from tui.desk.lock import SessionLock
from tui.record import read

ICE = ROOT / "tests" / "answers" / "ice.yaml"


@pytest.fixture
def session(lowside: Command, tmp_path: Path) -> Path:
    log = tmp_path / "visit.jsonl"
    assert lowside("walk", "--answers", ICE, "--log", log).code == 0
    return log


@pytest.fixture
def still_open(session: Path) -> Path:
    """The same, cut after its fifth line."""
    session.write_bytes(b"".join(session.read_bytes().splitlines(keepends=True)[:5]))
    return session


def refused(done: Done, *says: str) -> None:
    """One message: what and where, then the cure on a line of its own."""
    assert (done.code, done.out) == (2, "")
    what, *cure = done.err.rstrip("\n").split("\n")
    assert "Traceback" not in done.err
    assert all(say in what for say in says), what
    assert cure
    assert all(line.startswith("  ") for line in cure)


@pytest.mark.parametrize("folder", [".", "..", "/"])
def test_a_session_can_not_be_a_folder(program: Command, folder: str) -> None:
    refused(program("walk", "--answers", ICE, "--log", folder), f"{folder}: ", "that is a folder")


def test_a_session_in_a_folder_that_is_not_there(lowside: Command, tmp_path: Path) -> None:
    log = tmp_path / "nowhere" / "visit.jsonl"
    refused(lowside("walk", "--answers", ICE, "--log", log), str(log))
    assert not log.parent.exists()


def test_a_session_that_is_open_elsewhere(lowside: Command, still_open: Path) -> None:
    before = still_open.read_bytes()
    lock = SessionLock(still_open).acquire()
    try:
        refused(lowside("resume", still_open, "--plain"), str(still_open), "open in another window or program")
    finally:
        lock.release()
    assert still_open.read_bytes() == before


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        (b"R-134a", b"R-290", "does not fit its hash"),
        (b'{"', b'{ "', "Line"),
        (b'"event":"opened"', b'"event":"spoken"', "Line 1"),
    ],
)
def test_an_altered_session_is_not_resumed(
    lowside: Command, still_open: Path, good: bytes, bad: bytes, says: str
) -> None:
    altered = still_open.read_bytes().replace(good, bad, 1)
    still_open.write_bytes(altered)
    refused(lowside("resume", still_open, "--plain"), str(still_open), says)
    assert still_open.read_bytes() == altered


@pytest.mark.parametrize("command", ["replay", "resume --plain"])
def test_what_is_no_session(lowside: Command, tmp_path: Path, command: str) -> None:
    name, *options = command.split()
    file = tmp_path / "letter.txt"
    file.write_text("Dear friend,\n", "utf-8")
    refused(lowside(name, file, *options), str(file))
    refused(lowside(name, tmp_path, *options), str(tmp_path))
    refused(lowside(name, tmp_path / "nowhere.jsonl", *options), "nowhere.jsonl")
    assert file.read_text("utf-8") == "Dear friend,\n"


def test_one_bad_file_does_not_keep_the_others_from_being_looked_at(lowside: Command, session: Path) -> None:
    done = lowside("replay", session.with_name("nowhere.jsonl"), session)
    assert done.code == 2
    assert "the same" in done.out
    assert "nowhere.jsonl" in done.err


def test_an_altered_session_is_not_walked_again(lowside: Command, session: Path) -> None:
    lines = session.read_bytes().splitlines()
    number = next(n for n, line in enumerate(lines, 1) if b"R-134a" in line)
    session.write_bytes(session.read_bytes().replace(b"R-134a", b"R-290", 1))
    done = lowside("replay", session)
    assert done.code == 1
    assert f"altered, so it was not walked. Line {number} does not fit its hash" in done.out
    assert ".." not in done.out
    found = shaped(lowside("replay", session, "--json").out, REPLAY)["files"][0]
    assert (found["same"], found["first"]["what"]) == (False, "the line itself")


def test_a_torn_session_is_walked_as_far_as_it_goes(lowside: Command, session: Path) -> None:
    session.write_bytes(session.read_bytes()[:-9])
    done = lowside("replay", session)
    assert done.code == 0
    assert "As far as it goes: Line " in done.out


def test_a_changed_finding_is_whole_and_named_with_its_line(lowside: Command, session: Path) -> None:
    n = next(i for i, event in enumerate(read(session).events) if event["event"] == "finding")
    rewritten(session, n, cause="drier-blocked")
    assert lowside("verify", session).code == 0
    done = lowside("replay", session)
    assert done.code == 1
    assert f"event {n} (line {n + 1}), finding cause: then drier-blocked, now evaporator-iced" in done.out


def test_a_folder_without_trees_is_not_proven(lowside: Command, session: Path, tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    refused(lowside("check", empty), str(empty), "no tree")
    refused(lowside("replay", session, "--trees", empty), str(empty), "no tree")
    refused(lowside("check", session), str(session), "no tree")


def test_a_folder_without_examples_is_not_well(lowside: Command, tmp_path: Path) -> None:
    refused(lowside("examples", tmp_path), str(tmp_path), "no file of examples")


def test_a_home_that_is_a_file(lowside: Command, home: Path) -> None:
    home.touch()
    refused(lowside("walk", "--answers", ICE), str(home))
    refused(lowside("settings"), str(home))


def test_settings_that_are_broken(lowside: Command, home: Path) -> None:
    home.mkdir()
    (home / "settings.yaml").write_text("altitude: 300 psig\n", "utf-8")
    for arguments in (("settings",), ("sat", "R-134a", "15 psig"), ("walk", "--plain")):
        done = lowside(*arguments)
        assert done.code == 2
        assert str(home / "settings.yaml") in done.err
        assert "300 psig" in done.err


def test_a_preview_needs_a_terminal(lowside: Command) -> None:
    refused(lowside("preview", "both-low"), "terminal")

