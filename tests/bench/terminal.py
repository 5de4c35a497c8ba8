"""Start-up of the screen in a pseudo-terminal, against an empty Textual app.

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
EMPTY = [sys.executable, str(Path(__file__).with_name("empty_app.py"))]
LOWSIDE = [sys.executable, "-m", "tui"]


class Terminal:
    """A program in a pseudo-terminal, seen as a person would: by what stands on the screen."""

    def __init__(
        self, command: list[str], home: Path, bytecode: str, size: tuple[int, int] = (ROWS, COLUMNS)
    ) -> None:
        """size: rows and columns."""
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "LOWSIDE_HOME": str(home),
            "PYTHONPATH": str(ROOT),
            "PYTHONDONTWRITEBYTECODE": "",
            "PYTHONPYCACHEPREFIX": bytecode,
        }
        self.screen = pyte.Screen(size[1], size[0])
        self._stream = pyte.ByteStream(self.screen)
        self.started = time.perf_counter()
        self._process = PtyProcess.spawn(command, cwd=str(home), env=environment, dimensions=size)

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

    def memory(self) -> int:
        """Kilobytes that the program holds in memory now."""
        lines = Path(f"/proc/{self._process.pid}/status").read_text(encoding="ascii").splitlines()
        return int(next(line for line in lines if line.startswith("VmRSS")).split()[1])

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


def start_to_first_key(command: list[str], shown: str, bytecode: str) -> float:
    """Seconds from the start until a key was answered."""
    with tempfile.TemporaryDirectory() as home:
        (Path(home) / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")  # as a user has it
        terminal = Terminal(command, Path(home), bytecode)
        try:
            terminal.wait_until(shown)
            _, answered = terminal.press(KEY)
            return answered - terminal.started
        finally:
            terminal.close()


def start_figures(runs: int) -> list[Figure]:
    """Interleaved, so that a slow moment of the machine hits all; the first run of each isn't counted."""
    programs = {
        "empty": (EMPTY, "ready"),
        "walk": ([*LOWSIDE, "walk"], "Which unit"),
        "home": (LOWSIDE, "start a visit"),
    }
    start: dict[str, list[float]] = {name: [] for name in programs}
    with tempfile.TemporaryDirectory() as bytecode:
        for run in range(runs + 1):
            for name, (command, shown) in programs.items():
                seconds = start_to_first_key(command, shown, bytecode)
                if run:
                    start[name].append(seconds)
    return [
        against_floor("start of a visit to the first answered key / empty app", start["walk"], start["empty"], 1.4),
        against_floor("start at home to the first answered key / empty app", start["home"], start["empty"], 1.4),
    ]


def against_floor(name: str, ours: list[float], floor: list[float], limit: float) -> Figure:
    """Their medians."""
    detail = f"{median(ours) * 1e3:.1f} ms against {median(floor) * 1e3:.1f} ms, {len(ours)} interleaved, medians"
    return Figure(name, median(ours) / median(floor), limit, detail)
