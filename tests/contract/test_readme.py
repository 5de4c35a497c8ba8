"""README's first command, as it stands there, on a copy of the versioned files: to the first answer recorded."""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path

import pexpect
import pytest

from tests.contract.test_house import tracked

ROOT = Path(__file__).resolve().parents[2]
FIRST_WORDS, ANSWER = "Which unit", "K-12"  # asked while the trees are read
NEXT_WORDS = "How high"
SETTING_UP = 600  # seconds: an environment of its own, with all that is needed

pytestmark = pytest.mark.slow


def main_command() -> str:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(r"<!-- sets up and runs the main job -->\n```sh\n(.+)\n```", readme)
    assert found is not None
    return found.group(1)


def test_the_first_command_sets_up_asks_and_records(tmp_path: Path) -> None:
    for file in tracked():
        copy = tmp_path / "lowside" / file
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(ROOT / file, copy)
    environment = {name: text for name, text in os.environ.items() if not name.startswith("PYTHON")}
    environment |= {"LOWSIDE_HOME": str(tmp_path / "home"), "TERM": "xterm-256color"}
    shell = pexpect.spawn(
        "bash",
        ["-c", main_command()],
        cwd=str(tmp_path / "lowside"),
        env=environment,
        dimensions=(24, 80),
        timeout=SETTING_UP,
        encoding="utf-8",
    )
    try:
        shell.expect(FIRST_WORDS)
        shell.send(f"{ANSWER}\r")
        shell.expect(NEXT_WORDS)
        (session,) = (tmp_path / "home" / "sessions").glob("*.jsonl")
        assert ANSWER in session.read_text(encoding="utf-8"), "on the disk before the next question is shown"
    finally:
        shell.close(force=True)
