"""Start-up and key-to-repaint of the screen in a pseudo-terminal, against an empty Textual app.

Both as they are after a first start: their bytecode kept, in a folder of the bench's own.
"""

from __future__ import annotations

import os
import select
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

import pyte
from ptyprocess import PtyProcess

from tests.bench.figures import Figure

ROOT = Path(__file__).resolve().parents[2]
ROWS, COLUMNS = 24, 80
PATIENCE = 30.0
KEY = "7"
MORE_KEYS = "531"
FIRST_PROMPT = "Which unit"  # words of the first question, whatever is set


class Terminal:
    """A program in a pseudo-terminal of 80x24, seen as a person would: by what stands on the screen."""

    def __init__(self, command: list[str], home: Path, bytecode: str) -> None:
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "LOWSIDE_HOME": str(home),
            "PYTHONPATH": str(ROOT),
            "PYTHONDONTWRITEBYTECODE": "",
            "PYTHONPYCACHEPREFIX": bytecode,
        }
        self.screen = pyte.Screen(COLUMNS, ROWS)
        self._stream = pyte.ByteStream(self.screen)
        self.started = time.perf_counter()
        self._process = PtyProcess.spawn(command, cwd=str(home), env=environment, dimensions=(ROWS, COLUMNS))

    def shows(self, text: str) -> bool:
        return any(text in line for line in self.screen.display)

    def wait_until(self, text: str) -> float:
        """The moment the bytes came that put `text` on the screen."""
        return self._wait(lambda: self.shows(text), f"{text!r} never appeared")

    def wait_until_quiet(self, quiet: float = 0.25) -> None:
        while self._read(quiet) is not None:
            pass

    def press(self, key: str) -> tuple[float, float]:
        """When the key was sent, and when the bytes came that changed what is written on the screen."""
        before = list(self.screen.display)
        sent = time.perf_counter()
        self._process.write(key.encode())
        return sent, self._wait(lambda: self.screen.display != before, f"the key {key!r} was never answered")

    def close(self) -> None:
        self._process.terminate(force=True)
        self._process.close()

    def _wait(self, done: Callable[[], bool], else_say: str) -> float:
        until = time.perf_counter() + PATIENCE
        came = time.perf_counter()
        while not done():
            read = self._read(until - time.perf_counter())
            if read is None:
                raise SystemExit(f"{else_say}; the screen shows:\n" + "\n".join(self.screen.display))
            came = read
        return came

    def _read(self, seconds: float) -> float | None:
        """Take what the program wrote; the moment it came, before the drawing of it here costs anything."""
        if not select.select([self._process.fd], [], [], max(seconds, 0))[0]:
            return None
        came = time.perf_counter()
        try:
            self._stream.feed(self._process.read(65536))
        except EOFError:
            return None
        return came


def start_to_first_key(command: list[str], shown: str, bytecode: str) -> tuple[float, list[float]]:
    """Seconds from the start until a key was answered, and key-to-repaint of the keys after it."""
    with tempfile.TemporaryDirectory() as home:
        (Path(home) / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")  # as a user has it
        terminal = Terminal(command, Path(home), bytecode)
        try:
            terminal.wait_until(shown)
            _, answered = terminal.press(KEY)
            terminal.wait_until_quiet()
            later = []
            for key in MORE_KEYS:
                sent, repainted = terminal.press(key)
                later.append(repainted - sent)
                terminal.wait_until_quiet(0.05)
            return answered - terminal.started, later
        finally:
            terminal.close()


def terminal_figures(runs: int) -> list[Figure]:
    """Interleaved, so that a slow moment of the machine hits both; the first run of each isn't counted."""
    empty = [sys.executable, str(Path(__file__).with_name("empty_app.py"))]
    ours = [sys.executable, "-m", "tui", "walk", "both-low"]
    start: dict[str, list[float]] = {"empty": [], "ours": []}
    keys: dict[str, list[float]] = {"empty": [], "ours": []}
    with tempfile.TemporaryDirectory() as bytecode:
        for run in range(runs + 1):
            for name, command, shown in (("empty", empty, "ready"), ("ours", ours, FIRST_PROMPT)):
                first, later = start_to_first_key(command, shown, bytecode)
                if run:
                    start[name].append(first)
                    keys[name].extend(later)
    return [_against_floor("start to the first answered key", start), _against_floor("key to repaint", keys)]


def _against_floor(name: str, seconds: dict[str, list[float]]) -> Figure:
    ours, empty = median(seconds["ours"]), median(seconds["empty"])
    detail = f"{ours * 1e3:.1f} ms against {empty * 1e3:.1f} ms, {len(seconds['ours'])} interleaved, medians"
    return Figure(f"{name} / empty Textual app", ours / empty, 1.5, detail)
