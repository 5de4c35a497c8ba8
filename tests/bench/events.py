"""What one event costs: CPU against one json.dumps plus sha256, and fsyncs as the system sees them."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from tests.bench.figures import Figure, cpu_seconds_of
from tui.desk.clock import SystemClock
from tui.record import Writer, read

ROOT = Path(__file__).resolve().parents[2]
ANSWERS = ROOT / "tests" / "answers"
EVENTS = 200


def event_figures(sample: Mapping[str, Any]) -> list[Figure]:
    """`sample` is an event as the walk gives it: an answered reading."""
    ours = {folder: _cpu_of_append(sample, folder) for folder in (memory_folder(), tempfile.gettempdir())}
    floor = cpu_seconds_of(lambda: sha256(json.dumps(sample).encode()).hexdigest(), EVENTS * 20)
    in_memory, on_disk = ours[memory_folder()], ours[tempfile.gettempdir()]
    detail = (
        f"{in_memory * 1e6:.0f} us against {floor * 1e6:.1f} us, file in memory;"
        f" {on_disk * 1e6:.0f} us with what the disk's own fsync costs"
    )
    return [Figure("CPU of one event / json.dumps + sha256", in_memory / floor, 20, detail), fsync_figure()]


def memory_folder() -> str:
    """A folder in memory, so that what the disk's driver does isn't counted as ours."""
    return "/dev/shm" if os.access("/dev/shm", os.W_OK) else tempfile.gettempdir()


def _cpu_of_append(sample: Mapping[str, Any], place: str) -> float:
    with (
        tempfile.TemporaryDirectory(dir=place) as folder,
        Writer.create(Path(folder) / "bench.jsonl", SystemClock()) as log,
    ):
        return cpu_seconds_of(lambda: log.append(sample), EVENTS)


def fsync_figure() -> Figure:
    """fsyncs of the session file in a whole `walk --answers`, each call of the system counted by strace."""
    strace = shutil.which("strace")
    if strace is None:
        raise SystemExit("strace is not installed; fsyncs can't be counted without it")
    with tempfile.TemporaryDirectory() as folder:
        log, trace = Path(folder) / "walk.jsonl", Path(folder) / "trace"
        answers = sorted(ANSWERS.glob("*.yaml"))[0]
        walk = [sys.executable, "-m", "tui", "walk", "--answers", str(answers), "--log", str(log)]
        command = [strace, "-f", "-y", "-e", "trace=fsync,fdatasync", "-o", str(trace), *walk]
        subprocess.run(command, cwd=ROOT, check=True, capture_output=True, env=_environment(folder))
        called = re.findall(rf"f(?:data)?sync\(\d+<{re.escape(str(log))}>\)", trace.read_text())
        events = len(read(log).lines)
    detail = f"{len(called)} fsyncs for {events} events in {answers.name}; too few count as too many"
    apart = max(len(called), events) / max(1, min(len(called), events))
    return Figure("fsyncs of the session file / event", apart, 1, detail)


def _environment(folder: str) -> dict[str, str]:
    return {**os.environ, "LOWSIDE_HOME": folder}
