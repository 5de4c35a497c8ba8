"""The screen in a real terminal: a whole walk typed to its finding; kills and hang-ups leave by the door."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pyte
import pytest
from ptyprocess import PtyProcess

from tests.app.typist import Typist, bundled, known_of
from tui.record import read, verify
from tui.walk import Walk

ROOT = Path(__file__).resolve().parents[2]
ALTERNATE, ORDINARY = b"\x1b[?1049h", b"\x1b[?1049l"
SHOWN = b"\x1b[?25h"
PATIENCE = 60.0

pytestmark = pytest.mark.slow


class Person:
    """Someone at a terminal that runs the command."""

    def __init__(self, home: Path, *arguments: str, **environment: str) -> None:
        whole = {**os.environ, "LOWSIDE_HOME": str(home), "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
        command = [sys.executable, "-m", "tui", *arguments]
        self.process = PtyProcess.spawn(command, env={**whole, **environment}, dimensions=(24, 80), cwd=str(home))
        self.screen = pyte.Screen(80, 24)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""

    def sees(self, words: str) -> None:
        """Waits until the words stand on the screen."""
        until = time.monotonic() + PATIENCE
        while words not in self.text():
            left = until - time.monotonic()
            assert left > 0, f"{words!r} never came:\n{self.text()}"
            self._read(left)

    def text(self) -> str:
        return "\n".join(line.rstrip() for line in self.screen.display)

    def types(self, line: str) -> None:
        """The line, then Enter once it stands there and a moment has passed."""
        self.process.write(line.encode())
        if line:
            self.sees(line[-40:])
        time.sleep(0.35)
        self.process.write(b"\r")

    def ends(self) -> int:
        """Reads on to the end; the exit code, or minus the signal."""
        until = time.monotonic() + PATIENCE
        while self.process.isalive():
            assert time.monotonic() < until, f"it does not end:\n{self.text()}"
            self._read(0.1)
        while self._read(0.1):
            pass
        self.process.wait() if self.process.isalive() else None
        return int(self.process.exitstatus if self.process.exitstatus is not None else -self.process.signalstatus)

    def _read(self, seconds: float) -> bool:
        if not select.select([self.process.fd], [], [], seconds)[0]:
            return False
        try:
            data = self.process.read(65536)
        except (EOFError, OSError):
            return False
        self.raw += data
        self.stream.feed(data)
        return True


def lines_of(name: str) -> list[tuple[str, str]]:
    """(words to wait for, line to type) of a whole visit, from the walk itself."""
    walk = Walk.start(bundled(), "both-low", site={"altitude": "300 ft", "today": "2026-11-25"})
    typist, made, found = Typist(known_of(name)), [], 0
    while (prompt := walk.prompt) is not None:
        line = typist.line(prompt)
        waits_for = {"caution": "CAUTION", "do": "DO  ", "wait": "to go"}.get(prompt.kind, "answer")
        if prompt.kind == "ask":
            waits_for = " ".join(prompt.readings[0].words.split()[:4])
            reading = prompt.readings[0].id
            if line.startswith("couldn't "):
                walk.couldnt(line.removeprefix("couldn't "), reading)
            else:
                walk.answer({reading: line})
        elif prompt.kind == "caution":
            walk.acknowledge()
        elif prompt.kind == "do":
            walk.done()
        else:
            walk.waited(0.0, line)
        made.append((waits_for, line))
        if walk.prompt is not None and len(walk.findings) > found:
            made.append(("FOUND", ""))
            found = len(walk.findings)
    return made


def test_a_whole_walk_is_typed_to_its_finding(tmp_path: Path) -> None:
    log = tmp_path / "visit.jsonl"
    person = Person(tmp_path, "walk", "both-low", "--unit", "K-12", "--log", str(log))
    person.sees("How high")
    person.types("300 ft")
    for words, line in lines_of("leak"):
        person.sees(words)
        person.types(line)
    person.sees("Short of refrigerant - it has leaked")
    person.sees("Not left running without a date.")
    person.types("")
    person.sees("Close this visit?")
    person.types("yes")
    assert person.ends() == 0
    assert person.raw.count(ALTERNATE) == person.raw.count(ORDINARY) == 1
    assert f"Closed: {log}".encode() in person.raw.replace(b"\r\n", b"")
    assert verify(log).state == "whole"
    assert [event["cause"] for event in read(log).events if event["event"] == "finding"] == ["short-of-charge"] * 2


@pytest.mark.parametrize("blow", [signal.SIGTERM, signal.SIGHUP], ids=lambda blow: blow.name)
def test_killed_it_puts_the_terminal_right_and_can_be_resumed(tmp_path: Path, blow: signal.Signals) -> None:
    log = tmp_path / "visit.jsonl"
    person = Person(tmp_path, "walk", "both-low", "--log", str(log))
    person.sees("Which unit")
    person.types("K-12")
    person.sees("How high")
    person.types("300 ft")
    person.sees("Refrigerant on the plate?")
    person.process.write(b"134")
    person.sees("134")
    person.process.kill(blow)
    assert person.ends() == 1
    assert person.raw.rstrip().count(ORDINARY) == 1
    assert person.raw.rindex(SHOWN) > 0
    assert b"Traceback" not in person.raw
    assert b"lowside resume" in person.raw
    assert verify(log).state == "open"
    again = Person(tmp_path, "resume", str(log))
    again.sees("Refrigerant on the plate?")
    again.process.write(b"\x1b[21~")  # F10
    assert again.ends() == 1
    assert read(log).events[-1]["event"] == "resumed"


def ends_alone(pid: int) -> None:
    """Waits for a process whose terminal has gone."""
    until = time.monotonic() + PATIENCE
    while not os.waitpid(pid, os.WNOHANG)[0]:
        if time.monotonic() > until:
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
            raise AssertionError("it goes on without a terminal")
        time.sleep(0.1)


@pytest.mark.parametrize("unread", [b"", b"1\x7f\x1b[A\x1b[B" * 80], ids=["idle", "busy"])
def test_the_terminal_itself_goes_away(tmp_path: Path, unread: bytes) -> None:
    """Busy: with keys it has not seen yet, each of which draws on a screen that is no longer there."""
    log = tmp_path / "visit.jsonl"
    person = Person(tmp_path, "walk", "both-low", "--log", str(log))
    person.sees("Which unit")
    person.types("K-12")
    person.sees("How high")
    person.types("300 ft")
    person.sees("Refrigerant on the plate?")
    pid = person.process.pid
    if unread:
        os.kill(pid, signal.SIGSTOP)
        person.process.write(unread)
    person.process.fileobj.close()  # the system sends SIGHUP and SIGCONT
    ends_alone(pid)
    person.process.closed = True
    person.process.terminated = True
    assert verify(log).state == "open"


def test_the_terminal_goes_away_without_a_signal(tmp_path: Path) -> None:
    """Of a program that stands in it without being its own, as one begun by another program."""
    ours, its = os.openpty()
    command = [sys.executable, "-m", "tui", "walk", "both-low", "--log", str(tmp_path / "visit.jsonl")]
    environment = {**os.environ, "LOWSIDE_HOME": str(tmp_path), "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
    process = subprocess.Popen(
        command, stdin=its, stdout=its, stderr=its, env=environment, cwd=tmp_path, start_new_session=True
    )
    os.close(its)
    shown, until = b"", time.monotonic() + PATIENCE
    while b"Which unit" not in shown:
        assert time.monotonic() < until, shown
        shown += os.read(ours, 65536)
    os.close(ours)
    try:
        process.wait(PATIENCE)
    finally:
        process.kill()


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="threads are counted there")
def test_a_signal_to_go_on_starts_nothing_twice(tmp_path: Path) -> None:
    person = Person(tmp_path, "walk", "both-low", "--unit", "K-12")
    person.sees("How high")
    while person._read(1.0):
        pass
    threads = len(list(Path(f"/proc/{person.process.pid}/task").iterdir()))
    person.process.kill(signal.SIGCONT)
    while person._read(1.0):
        pass
    assert len(list(Path(f"/proc/{person.process.pid}/task").iterdir())) == threads
    person.process.write(b"\x03")
    assert person.ends() == 1


def test_after_ctrl_z_the_screen_comes_back(tmp_path: Path) -> None:
    person = Person(tmp_path, "walk", "both-low", "--unit", "K-12")
    person.sees("How high")
    person.process.kill(signal.SIGTSTP)
    while b"\x1b[?1049l" not in person.raw:
        assert person._read(PATIENCE), "it does not stop"
    time.sleep(0.5)
    person.process.kill(signal.SIGCONT)
    until = time.monotonic() + PATIENCE
    while person.raw.count(ALTERNATE) < 2:
        assert time.monotonic() < until, "it does not come back"
        person._read(0.2)
    person.types("300 ft")
    person.sees("Refrigerant on the plate?")
    person.process.write(b"\x03")
    assert person.ends() == 1
    assert person.raw.count(ALTERNATE) == person.raw.count(ORDINARY) == 2


def test_broken_trees_end_in_one_message_on_the_ordinary_screen(tmp_path: Path) -> None:
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "both-low.yaml").write_text("tree: both-low\nsteps: []\n", encoding="utf-8")
    person = Person(tmp_path, "walk")
    assert person.ends() == 2
    after = person.raw.rpartition(ORDINARY)[2]
    assert b"both-low.yaml" in after
    assert b"Traceback" not in person.raw
    assert not (tmp_path / "sessions").exists() or not list((tmp_path / "sessions").glob("*.jsonl"))


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "linux"}, {"TERM": "vt100"}], ids=str)
def test_poor_terminals(tmp_path: Path, environment: dict[str, str]) -> None:
    person = Person(tmp_path, "walk", "both-low", **environment)
    person.sees("Which unit")
    person.types("")
    person.sees("How high")
    person.types("300 ft")
    person.sees("Refrigerant on the plate?")
    person.types("quit")
    assert person.ends() == 1
    assert b"stays open" in person.raw


def test_what_is_typed_while_the_trees_are_read_is_not_lost(tmp_path: Path) -> None:
    person = Person(tmp_path, "walk")
    person.sees("Which unit")
    person.process.write(b"K-12\r300 ft")
    person.sees("How high")
    person.sees("taken as  300 ft")
    person.process.write(b"\x03")
    assert person.ends() == 1


def test_an_idle_screen_writes_nothing(tmp_path: Path) -> None:
    person = Person(tmp_path, "walk", "both-low", "--unit", "K-12")
    person.sees("How high")
    quiet_by = time.monotonic() + PATIENCE
    while person._read(0.7):
        assert time.monotonic() < quiet_by, "it never comes to rest"
    before = len(person.raw)
    until = time.monotonic() + 3
    while time.monotonic() < until:
        person._read(0.5)
    assert person.raw[before:] == b""
    person.process.write(b"\x03")
    assert person.ends() == 1


class Mouse(Person):
    """Someone who has a mouse, or a finger, and no keyboard."""

    def clicks(self, words: str, row: str = "") -> None:
        """On these words, in a line that holds `row` too; the screen must change."""
        self.sees(words)
        lines = self.text().splitlines()
        y = next(number for number, line in enumerate(lines) if words in line and row in line)
        start = lines[y].index(row) + row.index(words) if words in row else lines[y].index(words)
        x = start + len(words.rstrip()) // 2
        before = self.text()
        self.process.write(f"\x1b[<0;{x + 1};{y + 1}M\x1b[<0;{x + 1};{y + 1}m".encode())
        until = time.monotonic() + PATIENCE
        while self.text() == before:
            assert time.monotonic() < until, f"the click on {words!r} was never answered:\n{self.text()}"
            self._read(0.2)
        time.sleep(0.35)  # two Enters need a moment between them
        while self._read(0.05):
            pass

    def keys(self, text: str) -> None:
        """On the keys that are drawn on the screen; then Enter."""
        for letter in text:
            row = next(row for row in ("1234567890", "qwertyuiop", "asdfghjkl", "zxcvbnm-") if letter in row)
            self.clicks(f" {letter} ", row=f" {row[1]} ")
        self.clicks("Enter", row="Enter    Keys")


@pytest.mark.parametrize("blow", [signal.SIGTERM, signal.SIGHUP], ids=lambda blow: blow.name)
def test_killed_at_home_with_a_visit_begun_there(tmp_path: Path, blow: signal.Signals) -> None:
    """Back at home the open visit is let go of; how it goes on is said once the screen is gone."""
    (tmp_path / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")
    person = Person(tmp_path)
    for words, line in (("start a visit", "2"), ("Which unit is it?", "K-12"), ("Its circuits?", "1")):
        person.sees(words)
        person.types(line)
    person.sees("Job number?")
    person.process.write(b"\x1b[21~")  # F10
    person.sees("go on with K-12")
    person.process.kill(blow)
    assert person.ends() == 0
    assert person.raw.count(ALTERNATE) == person.raw.count(ORDINARY) == 1
    (log,) = (tmp_path / "sessions").glob("*.jsonl")
    after = person.raw.rpartition(ORDINARY)[2].replace(b"\r\n", b"")
    assert f"lowside resume {log}".encode() in after
    assert b"Traceback" not in person.raw
    assert verify(log).state == "open"


def test_the_demo_comes_back_to_home(tmp_path: Path) -> None:
    (tmp_path / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")
    person = Person(tmp_path)
    person.sees("watch an invented call")
    person.types("7")
    person.sees("DEMO: all of it invented")
    person.process.write(b"\x1b[21~")  # F10
    person.sees("What now?")
    person.types("8")
    assert person.ends() == 0
    assert not list(tmp_path.glob("sessions/*.jsonl"))
    assert person.raw.rpartition(ORDINARY)[2].isascii()
    assert b"stays open" not in person.raw


NO_POWER = {"circuits": "1", "power-on": "no"}


def no_power() -> list[tuple[str, str, str]]:
    """(kind of prompt, words to wait for, answer; empty: it can't be had) of a call to a cabinet without power."""
    walk = Walk.start(bundled(), "call", site={"altitude": "300 ft", "today": "2026-11-25", "region": "US"}, unit="k1")
    made = []
    while (prompt := walk.prompt) is not None and not walk.findings:
        if prompt.kind == "ask":
            reading = prompt.readings[0]
            answer = NO_POWER.get(reading.id, "")
            made.append(("ask", " ".join(reading.words.split()[:4]), answer))
            if answer:
                walk.answer({reading.id: answer})
            else:
                walk.couldnt("nobody knows", reading.id)
        else:
            made.append((prompt.kind, {"caution": "CAUTION", "do": "DO  "}[prompt.kind], ""))
            if prompt.kind == "caution":
                walk.acknowledge()
            else:
                walk.done()
    return made


def test_from_the_first_run_to_a_finding_by_keys_alone(tmp_path: Path) -> None:
    person = Person(tmp_path)
    for words, line in (
        ("Which units do you read?", "1"),
        ("How high above sea level", "300"),
        ("Whose rules apply?", "1"),
        ("good digital ones?", "1"),
        ("start a visit", "2"),
        ("Which unit is it?", "k1"),
    ):
        person.sees(words)
        person.types(line)
    for kind, words, answer in no_power():
        person.sees(words)
        person.types(answer or ("couldn't nobody knows" if kind == "ask" else ""))
    person.sees("FOUND")
    person.sees("No power at the unit.")
    person.process.write(b"\x1b[21~")
    person.sees("go on with k1")
    person.process.write(b"\x1b[21~")
    assert person.ends() == 0
    assert person.raw.count(ALTERNATE) == person.raw.count(ORDINARY) == 1


def test_from_the_first_run_to_a_finding_by_mouse_alone(tmp_path: Path) -> None:
    person = Mouse(tmp_path)
    person.clicks("US: °F")
    person.sees("How high above sea level")
    person.clicks(" Keys")
    person.keys("300")
    person.clicks("United States")
    person.clicks("yes, about like that")
    person.clicks("start a visit")
    person.sees("Which unit is it?")
    person.keys("k1")
    for kind, words, answer in no_power():
        person.sees(words)
        if kind == "ask" and not answer:
            person.clicks("F2 Couldn't")
            person.clicks("nobody knows")
        elif answer == "no":
            person.clicks("no", row="2   no")
        elif answer:
            person.keys(answer)
        else:
            person.clicks("Enter", row="Enter    Keys")
    person.sees("FOUND")
    person.sees("No power at the unit.")
    person.clicks("F10 Leave")
    person.sees("go on with k1")  # the rows below it move down when it is found
    person.clicks("leave", row="8   leave")
    assert person.ends() == 0


def test_keys_that_come_all_at_once_keep_their_order(tmp_path: Path) -> None:
    """As over a slow link: a slip, taken back, and the right figure, in one packet."""
    log = tmp_path / "visit.jsonl"
    person = Person(tmp_path, "walk", "both-low", "--unit", "K-12", "--log", str(log))
    person.sees("How high")
    person.process.write(b"999\x15300 gt\x7f\x7fft\x1b[D\x1b[D\x1b[D0\x1b[F\r")
    person.sees("Refrigerant on the plate?")
    person.process.write(b"\x03")
    assert person.ends() == 1
    first = next(event for event in read(log).events if event["event"] == "answered")
    assert first["value"]["typed"] == "3000 ft"
