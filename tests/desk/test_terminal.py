"""The plain driver in a real terminal: Ctrl-C, a hang-up and a kill all leave a visit that goes on."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

import pexpect
import pytest

from tui.record import read, verify

ROOT = Path(__file__).resolve().parents[2]


def lowside(tmp_path: Path, *arguments: str) -> pexpect.spawn:
    environment = {**os.environ, "LOWSIDE_HOME": str(tmp_path / "home"), "PYTHONPATH": str(ROOT), "TERM": "dumb"}
    command = [sys.executable, "-m", "tui", *arguments]
    return pexpect.spawn(command[0], command[1:], env=environment, encoding="utf-8", timeout=30, cwd=str(tmp_path))


@pytest.mark.slow
@pytest.mark.parametrize("blow", [None, signal.SIGHUP, signal.SIGTERM, signal.SIGKILL])
def test_interrupted_and_gone_on(tmp_path: Path, blow: signal.Signals | None) -> None:
    log = tmp_path / "visit.jsonl"
    person = lowside(tmp_path, "walk", "--plain", "--log", str(log))
    person.expect("Which unit is it")
    person.sendline("")
    person.expect("How high above sea level")
    person.sendline("300 ft")
    person.expect("Taken as")
    person.expect("> ")
    if blow is None:
        person.sendintr()
        person.expect("lowside resume")
    else:
        person.kill(blow)
    person.expect(pexpect.EOF)
    person.close()
    assert "Traceback" not in str(person.before)
    before = read(log).events
    assert verify(log).state == "open"
    assert before[-1]["event"] != "opened"
    again = lowside(tmp_path, "resume", "--plain", str(log))
    again.expect("> ")
    again.sendline("quit")
    again.expect("stays open")
    again.expect(pexpect.EOF)
    again.close()
    after = read(log).events
    assert after[: len(before)] == before
    assert after[-1]["event"] == "resumed"
