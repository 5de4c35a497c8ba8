"""Kills a walk at every call that writes, cuts its file at every byte of the last line, and behind every line.

  python tests/kill/run.py --answers tests/answers/leak.yaml [--sample 20]

Needs strace. One whole `walk --answers` is run again for every write, fsync and rename it makes: killed
there (SIGKILL), then with that call failing for a full disk (ENOSPC), then for a bad one (EIO). After
each, `resume` must stand at the last whole line: the last event whose fsync returned, or the one after.
To a file cut behind a line a photo is added first. Prints kills, cuts, photos and losses; exit 1 where anything was
lost.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tui.record import Event, read
from tui.record.replay import replay

CALLS = ("write", "fsync", "rename")
MODES = ("signal=SIGKILL", "error=ENOSPC", "error=EIO")
ROOT = Path(__file__).resolve().parents[2]
_CALL = re.compile(r"^\d+\s+(\w+)\((.*)$")


@dataclass(frozen=True, slots=True)
class Place:
    """The `number`-th (from 1) call of this name in a walk, and what happens there."""

    call: str
    number: int
    mode: str

    @property
    def injection(self) -> str:
        return f"inject={self.call}:{self.mode}:when={self.number}"


@dataclass(slots=True)
class Tally:
    kills: int = 0
    errors: int = 0
    cuts: int = 0
    photos: int = 0
    losses: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Walked:
    """One run of a walk under strace: `synced` events on the log whose fsync returned."""

    log: Path
    synced: int
    counts: Counter[str]
    code: int
    said: str


class Runner:
    """Runs walks and resumes in a scratch folder of their own."""

    def __init__(self, answers: Path, scratch: Path) -> None:
        self.answers = answers.resolve()
        self.scratch = scratch
        self.environment = {
            **os.environ,
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONPATH": str(ROOT),
            "PYTHONHASHSEED": "0",
        }

    def walk(self, name: str, injection: str | None = None) -> Walked:
        folder = self.scratch / name
        folder.mkdir()
        log, trace = folder / "visit.jsonl", folder / "trace"
        command = ["strace", "-f", "-y", "-qq", "-o", str(trace), "-e", "trace=" + ",".join(CALLS)]
        if injection:
            command += ["-e", injection]
        command += [sys.executable, "-m", "tui", "walk", "--answers", str(self.answers), "--log", str(log)]
        done = self._run(command, folder)
        counts, synced = _counted(trace, log)
        return Walked(log, synced, counts, done.returncode, done.stdout + done.stderr)

    def resume(self, log: Path) -> subprocess.CompletedProcess[str]:
        return self._run([sys.executable, "-m", "tui", "resume", str(log), "--plain"], log.parent)

    def photo(self, log: Path) -> subprocess.CompletedProcess[str]:
        photo = log.parent / "pump.jpg"
        photo.write_bytes(b"light and shade")
        return self._run([sys.executable, "-m", "tui", "photo", str(log), str(photo)], log.parent)

    def _run(self, command: Sequence[str], folder: Path) -> subprocess.CompletedProcess[str]:
        """With a home of its own in `folder`, so that each run makes the calls of a first one."""
        return subprocess.run(
            command,
            cwd=self.scratch,
            env=self.environment | {"LOWSIDE_HOME": str(folder / "home")},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            errors="replace",
            timeout=120,
            check=False,
        )


def _counted(trace: Path, log: Path) -> tuple[Counter[str], int]:
    """Calls by name, and how many fsyncs of the log returned well."""
    counts: Counter[str] = Counter()
    synced = 0
    for line in trace.read_text(errors="replace").splitlines():
        found = _CALL.match(line)
        if found:
            counts[found[1]] += 1
            synced += found[1] == "fsync" and f"<{log}>" in found[2] and found[2].endswith("= 0")
    return counts, synced


def places(counts: Counter[str], sample: int | None) -> Iterator[Place]:
    """Every place, or about `sample` of them for each call and mode, first and last among them."""
    for mode in MODES:
        for call in CALLS:
            numbers = list(range(1, counts[call] + 1))
            yield from (Place(call, number, mode) for number in thinned(numbers, sample))


def thinned(numbers: list[int], sample: int | None) -> list[int]:
    if sample is None or len(numbers) <= sample:
        return numbers
    step = (len(numbers) - 1) / max(1, sample - 1)
    return sorted({numbers[round(i * step)] for i in range(sample)})


def losses(runner: Runner, log: Path, synced: int, whole: Sequence[Event]) -> Iterator[str]:
    """What is wrong after `resume` went over this log; `whole` is what an undisturbed walk records."""
    before = _events(log)
    if before != list(whole[: len(before)]):
        yield "the events before resume are not those of the walk"
    if not synced <= len(before) <= synced + 1:
        yield f"{synced} events were fsynced, {len(before)} are there"
    yield from not_resumed(runner, log, before, whole[len(before) :])


def not_resumed(runner: Runner, log: Path, before: Sequence[Event], due: Sequence[Event]) -> Iterator[str]:
    """What is wrong after `resume` went over a log of these events; `due` is what the walk recorded behind them."""
    resumed = runner.resume(log)
    said = resumed.stdout + resumed.stderr
    if "Traceback" in said:
        yield f"resume ended in a traceback: {said[-300:]}"
    after = _events(log)
    if after[: len(before)] != before:
        yield "resume changed what was recorded"
    if before and before[-1]["event"] != "closed":
        if resumed.returncode not in (0, 1):
            yield f"resume refused (exit {resumed.returncode}): {said[-300:]}"
        elif not _stands(after[len(before) :], due):
            yield f"resume does not stand after event {len(before)}: {said[-300:]}"
    elif resumed.returncode != 2:
        yield f"resume of a file with nothing to resume ended with {resumed.returncode}"


def _stands(added: Sequence[Event], due: Sequence[Event]) -> bool:
    """`resumed` comes next, or first what follows from the last answer and was not yet written."""
    marks = [number for number, event in enumerate(added) if event["event"] == "resumed"]
    return bool(marks) and list(added[: marks[0]]) == list(due[: marks[0]])


def _events(log: Path) -> list[Event]:
    return read(log).events if log.exists() else []


def kill_everywhere(runner: Runner, whole: Walked, sample: int | None, tally: Tally) -> None:
    events = _events(whole.log)
    for number, place in enumerate(places(whole.counts, sample)):
        walked = runner.walk(f"{number}", place.injection)
        killed = place.mode.startswith("signal")
        tally.kills += killed
        tally.errors += not killed
        if "Traceback" in walked.said:
            tally.losses.append(f"{place.injection}: a traceback: {walked.said[-300:]}")
        found = losses(runner, walked.log, walked.synced, events)
        tally.losses += [f"{place.injection}: {loss}" for loss in found]
        shutil.rmtree(walked.log.parent)


def cut_everywhere(runner: Runner, whole: Walked, sample: int | None, tally: Tally) -> None:
    """The whole file, cut at every byte of its last line."""
    data, events = whole.log.read_bytes(), _events(whole.log)
    last = data.rindex(b"\n", 0, -1) + 1
    log = runner.scratch / "cut" / "visit.jsonl"
    for end in thinned(list(range(last, len(data))), sample):
        log.parent.mkdir()
        log.write_bytes(data[:end])
        tally.cuts += 1
        found = losses(runner, log, len(events) - 1, events)
        tally.losses += [f"cut at byte {end} of {len(data)}: {loss}" for loss in found]
        shutil.rmtree(log.parent)


def photo_everywhere(runner: Runner, whole: Walked, sample: int | None, tally: Tally) -> None:
    """The whole file, cut behind every line; a photo is added, then it is resumed."""
    lines, events = whole.log.read_bytes().splitlines(keepends=True), _events(whole.log)
    log = runner.scratch / "photo" / "visit.jsonl"
    for kept in thinned(list(range(1, len(lines))), sample):
        log.parent.mkdir()
        log.write_bytes(b"".join(lines[:kept]))
        tally.photos += 1
        found = photo_lost(runner, log, events[:kept], events[kept:])
        tally.losses += [f"photo after line {kept} of {len(lines)}: {loss}" for loss in found]
        shutil.rmtree(log.parent)


def photo_lost(runner: Runner, log: Path, before: Sequence[Event], due: Sequence[Event]) -> Iterator[str]:
    done = runner.photo(log)
    with_photo = _events(log)
    kept = log.with_suffix("") / "pump.jpg"
    if done.returncode != 0 or not kept.exists():
        yield f"the photo was not kept (exit {done.returncode}): {(done.stdout + done.stderr)[-300:]}"
    if with_photo[:-1] != list(before) or with_photo[-1]["event"] != "photographed":
        yield "the photo is not recorded behind what was there"
    yield from not_resumed(runner, log, with_photo, due)
    if not replay(log).same:
        yield "it does not replay"


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--answers", type=Path, default=None, help="the answers file to walk with")
    parser.add_argument(
        "--sample", type=int, default=None, help="about so many places for each call and mode"
    )
    options = parser.parse_args(arguments)
    answers = options.answers or min((ROOT / "tests" / "answers").glob("*.yaml"))
    tally = Tally()
    with tempfile.TemporaryDirectory() as scratch:
        runner = Runner(answers, Path(scratch))
        whole = runner.walk("whole")
        if whole.code != 0 or read(whole.log).state != "whole":
            print(f"the undisturbed walk did not end well (exit {whole.code}): {whole.said}")
            return 1
        kill_everywhere(runner, whole, options.sample, tally)
        cut_everywhere(runner, whole, options.sample, tally)
        photo_everywhere(runner, whole, options.sample, tally)
        print(f"{answers.name}: {len(_events(whole.log))} events; calls: {dict(whole.counts)}")
    print(
        f"kills {tally.kills}, failing calls {tally.errors}, cuts {tally.cuts}, "
        f"photos added {tally.photos}, losses {len(tally.losses)}"
    )
    for loss in tally.losses[:20]:
        print(f"  {loss}")
    return 1 if tally.losses else 0


if __name__ == "__main__":
    sys.exit(main())
