"""A command run in this process, and the same as a person would run it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tui.cli.main import main

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Done:
    """What a command left: exit code, what it said, what it complained of."""

    code: int
    out: str
    err: str


Command = Callable[..., Done]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A fresh LOWSIDE_HOME."""
    place = tmp_path / "home"
    monkeypatch.setenv("LOWSIDE_HOME", str(place))
    return place


@pytest.fixture
def lowside(home: Path, capsys: pytest.CaptureFixture[str]) -> Command:
    """`lowside(argument, ...)` in this process."""

    def run(*arguments: object) -> Done:
        code = main([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return Done(code, said.out, said.err)

    return run


@pytest.fixture
def program(home: Path, tmp_path: Path) -> Command:
    """`program(argument, ...)` as a process of its own, in another folder; `environment` adds to its own."""

    def run(*arguments: object, **environment: str) -> Done:
        done = subprocess.run(
            [sys.executable, "-m", "tui", *(str(argument) for argument in arguments)],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT), "LOWSIDE_HOME": str(home), **environment},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            check=False,
        )
        return Done(done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace"))

    return run
