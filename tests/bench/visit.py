"""A long visit gone on with on the screen: against its replay, and against an empty Textual app."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from tests.bench.figures import Figure
from tests.bench.terminal import EMPTY, LOWSIDE, ROOT, Terminal, against_floor

ANSWERS = ROOT / "tests" / "answers" / "call-leak.yaml"
SIZE = (45, 140)  # the largest screen: table, panel and line
KEYS = "531"
STEPS = 200


def _recorded(home: Path) -> Path:
    """A visit of at least 200 answers that was cut off: its last lines are not there, so it is open."""
    log = home / "visit.jsonl"
    command = [*LOWSIDE, "walk", "--answers", str(ANSWERS), "--log", str(log)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    lines = log.read_bytes().splitlines(keepends=True)
    log.write_bytes(b"".join(lines[:_asking(lines)]))
    return log


def _asking(lines: list[bytes]) -> int:
    """Lines of the visit up to where the readings are judged for the last time: a full screen."""
    judged = max(number for number, line in enumerate(lines) if b'"event":"judged"' in line)
    answered = [number for number, line in enumerate(lines) if b'"event":"answered"' in line and number < judged]
    if len(answered) < STEPS // 4 or len(lines) < STEPS:
        raise SystemExit(f"The visit is too short for this figure: {len(lines)} lines.")
    return answered[-1]


def visit_figures(runs: int) -> list[Figure]:
    """Resuming against replaying; key to repaint and memory against an empty app. Interleaved."""
    resumed: list[float] = []
    replayed: list[float] = []
    ours: list[float] = []
    empty: list[float] = []
    held: dict[str, list[int]] = {"ours": [], "empty": []}
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as bytecode:
        home = Path(folder)
        log = _recorded(home)
        whole = log.read_bytes()
        for run in range(runs + 1):
            log.write_bytes(whole)
            began = time.perf_counter()
            subprocess.run([*LOWSIDE, "replay", str(log)], cwd=ROOT, check=True, capture_output=True)
            again = time.perf_counter() - began
            came, keys, memory = _screen([*LOWSIDE, "resume", str(log)], home, bytecode, "Enter")
            _, floor, floor_memory = _screen(EMPTY, home, bytecode, "ready")
            if run:
                replayed.append(again)
                resumed.append(came)
                ours += keys
                empty += floor
                held["ours"].append(memory)
                held["empty"].append(floor_memory)
    more, less = median(held["ours"]), median(held["empty"])
    return [
        against_floor(f"resume of {len(whole.splitlines())} events / its replay", resumed, replayed, 2.0),
        against_floor("key to repaint of a full walk screen / empty app", ours, empty, 1.5),
        Figure("memory in a walk / empty app", more / less, 2.0, f"{more / 1024:.0f} against {less / 1024:.0f} MiB"),
    ]


def _screen(command: list[str], home: Path, bytecode: str, shown: str) -> tuple[float, list[float], int]:
    """Seconds until it stood there, seconds from key to repaint, kilobytes held."""
    terminal = Terminal(command, home, bytecode, SIZE)
    try:
        came = terminal.wait_until(shown) - terminal.started
        terminal.wait_until_quiet(0.5)
        later = []
        for key in KEYS:
            sent, repainted = terminal.press(key)
            later.append(repainted - sent)
            terminal.wait_until_quiet(0.05)
        return came, later, terminal.memory()
    finally:
        terminal.close()


if __name__ == "__main__":
    for figure in visit_figures(int(sys.argv[1]) if len(sys.argv) > 1 else 5):
        print(figure.row())
