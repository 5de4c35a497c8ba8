"""The command line itself: one message for whatever goes wrong, and the right exit code."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tui import __version__
from tui.cli.main import COMMANDS
from tui.cli.problems import in_words


def test_every_command_explains_itself(program: Command) -> None:
    overview = program("--help")
    assert overview.code == 0
    for name in COMMANDS:
        assert name in overview.out
        told = program(name, "--help", COLUMNS="80")
        assert told.code == 0, told.err
        assert told.out.startswith(f"usage: lowside {name}")
        assert max(map(len, told.out.splitlines())) <= 80, "fits a small terminal"


def test_the_version_is_told(lowside: Command) -> None:
    assert lowside("--version").out == f"lowside {__version__}\n"


def test_a_mistyped_command_is_refused_with_the_nearest(lowside: Command) -> None:
    done = lowside("chek")
    assert done.code == 2
    assert "'chek'" in done.err
    assert "Did you mean check?" in done.err


@pytest.mark.parametrize("arguments", [("sat",), ("walk", "--what"), ("check", "--format", "xml"), ("why",)])
def test_misuse_is_one_message_with_the_usage(lowside: Command, arguments: tuple[str, ...]) -> None:
    done = lowside(*arguments)
    assert done.code == 2
    assert done.out == ""
    assert f"lowside {arguments[0]}: " in done.err
    assert f"It is used so: lowside {arguments[0]}" in done.err
    assert "Traceback" not in done.err


def test_an_error_of_the_system_is_told_in_words() -> None:
    import errno

    told = in_words(OSError(errno.ENOSPC, "No space left on device", "/van/session.jsonl"))
    assert told.startswith("/van/session.jsonl: the disk is full")
    assert "what was recorded before is intact" in told
    assert in_words(OSError(errno.ERANGE, "Numerical result out of range")) == "numerical result out of range."


def test_a_reader_that_leaves_is_no_error(home: Path) -> None:
    """As in `lowside sat ... | head -0`."""
    root = Path(__file__).resolve().parents[2]
    with subprocess.Popen(
        [sys.executable, "-m", "tui", "--help"], cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as started:
        assert started.stdout is not None
        assert started.stderr is not None
        started.stdout.close()
        assert started.stderr.read() == b""
        assert started.wait() == 2


def test_a_sign_the_terminal_lacks_is_no_error(program: Command) -> None:
    done = program("sat", "R-134a", "15 psig", PYTHONIOENCODING="ascii")
    assert done.code == 0
    assert done.err == ""
    assert "F" in done.out
