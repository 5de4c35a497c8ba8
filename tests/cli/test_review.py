"""`lowside review`: a folder of visits, those to be looked at first on top."""

from __future__ import annotations

import json
import shutil
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from tests.cli.conftest import ROOT, Command

ANSWERS = ROOT / "tests" / "answers"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Visits to their end; one altered, one torn, one not finished, one hashed anew, one no session."""
    from tests.record.helpers import HandClock
    from tests.review.test_bundled import library
    from tui.record import Writer
    from tui.walk.answers import Answers, run_answers

    made = tmp_path_factory.mktemp("sessions")
    for day, answers in ((1, "leak"), (2, "call-ice"), (3, "call-drier")):
        path = made / f"2026-11-0{day}T0930-U-{day}-ab0{day}.jsonl"
        with Writer.create(path, HandClock()) as writer:
            for event in run_answers(library(), Answers.read(ANSWERS / f"{answers}.yaml")).events:
                writer.append(event)
    whole = (made / "2026-11-01T0930-U-1-ab01.jsonl").read_bytes()
    lines = whole.splitlines(keepends=True)
    (made / "2026-11-04T0930-altered-ab04.jsonl").write_bytes(whole.replace(b'"suction"', b'"suctiom"', 1))
    (made / "2026-11-05T0930-torn-ab05.jsonl").write_bytes(whole[:-30])
    cut = next(n for n, line in enumerate(lines) if b'"work":"connects a cylinder"' in line) + 1
    (made / "2026-11-02T0930-cylinder-ab02.jsonl").write_bytes(b"".join(lines[:cut]))
    emptied = (made / "2026-11-03T0930-U-3-ab03.jsonl").read_bytes().splitlines(keepends=True)
    cut = next(n for n, line in enumerate(emptied) if b'"work":"takes the recovery machine off"' in line) + 1
    (made / "2026-11-09T0930-empty-ab09.jsonl").write_bytes(b"".join(emptied[:cut]))
    (made / "2026-11-06T0930-half-ab06.jsonl").write_bytes(b"".join(lines[: len(lines) // 2]))
    (made / "2026-11-07T0930-foreign-ab07.jsonl").write_text("hello\n", encoding="utf-8")
    hashed = made / "2026-11-08T0930-hashed-ab08.jsonl"
    hashed.write_bytes(b"".join(_hashed_anew(lines)))
    return made


def _hashed_anew(lines: list[bytes]) -> list[bytes]:
    """Another cause in the finding, and every hash made to fit."""
    before, written = "0" * 64, []
    for raw in lines:
        body: dict[str, Any] = {**json.loads(raw), "prev": before}
        del body["hash"]
        if body["event"] == "finding":
            body["cause"] = "drier-blocked"
        body["hash"] = before = sha256(rfc8785.dumps(body)).hexdigest()
        written.append(rfc8785.dumps(body) + b"\n")
    return written


def part(page: str, heading: str) -> str:
    return " ".join(page.partition(f"\n{heading}\n")[2].partition("\n\n")[0].split())


def test_wrong_files_stand_first_and_the_latest_of_them_on_top(lowside: Command, folder: Path) -> None:
    done = lowside("review", folder)
    assert done.code == 1
    assert "10 VISITS" in done.out
    assert max(map(len, done.out.split("\n"))) <= 78
    wrong = part(done.out, "FILE WRONG")
    names = ["foreign-ab07", "torn-ab05", "altered-ab04"]
    assert [name for name in names if name in wrong] == names
    assert wrong.index("foreign-ab07") < wrong.index("torn-ab05") < wrong.index("altered-ab04")
    assert "ab01" not in done.out, "to its end and nothing held against it: only counted"
    assert "half-ab06" in done.out


def test_what_was_hashed_anew_is_found_by_walking_it_again(lowside: Command, folder: Path) -> None:
    assert "hashed-ab08" not in part(lowside("review", folder).out, "FILE WRONG")
    wrong = part(lowside("review", folder, "--replay").out, "FILE WRONG")
    assert "hashed-ab08" in wrong
    assert "walked again it differs" in wrong
    assert "ab01.jsonl" not in wrong


def test_what_is_still_on_stands_before_what_is_empty(lowside: Command, folder: Path) -> None:
    left = part(lowside("review", folder).out, "LEFT ON OR EMPTY")
    assert left.startswith("- K-12, 2026-11-02T0930-cylinder-ab02.jsonl - STILL ON: cylinder on.")
    assert "2026-11-09T0930-empty-ab09.jsonl - not charged." in left


def test_all_of_them(lowside: Command, folder: Path) -> None:
    assert "ab01.jsonl" in lowside("review", folder, "--all").out


def test_a_folder_of_sound_visits_is_well(lowside: Command, folder: Path, tmp_path: Path) -> None:
    shutil.copy(folder / "2026-11-01T0930-U-1-ab01.jsonl", tmp_path)
    assert lowside("review", tmp_path).code == 0


@pytest.mark.parametrize(("name", "what"), [("missing", "there is no such folder"), ("", "there is no session in it")])
def test_nothing_to_look_at(lowside: Command, tmp_path: Path, name: str, what: str) -> None:
    done = lowside("review", tmp_path / name)
    assert done.code == 2
    assert what in done.err
    assert "Traceback" not in done.err
