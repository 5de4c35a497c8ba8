"""Enthalpies for a picture: asked of a child process, since the property library takes two seconds to import.

The child begins with the first question and ends with this process. Nothing waits for it.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

#: what (bubble, dew, liquid, gas, compressed), K, Pa absolute, Pa absolute it is compressed to
Point = tuple[str, float, float, float]
Key = tuple[str, tuple[Point, ...]]
Answer = list[float | None] | str

# -P: what lies in the folder the program was started from is no part of it.
CHILD = (sys.executable, "-P", "-m", "tui.refrigerant.build.enthalpies")
GONE = "The property library has stopped: is CoolProp installed?"


class Enthalpies:
    """`of` answers at once: what is known by now, and asks for the rest."""

    def __init__(self, command: Sequence[str] = CHILD) -> None:
        self._command = list(command)
        self._child: subprocess.Popen[str] | None = None
        self._listeners: list[threading.Thread] = []
        self._lock = threading.Lock()
        self._asked: dict[Key, subprocess.Popen[str]] = {}
        self._known: dict[Key, Answer] = {}

    def of(self, refrigerant: str, points: Sequence[Point]) -> Answer | None:
        """J/kg for each point (None where there is none); why there are none, in words; None while it is worked out."""
        key = (refrigerant, tuple(points))
        with self._lock:
            if key not in self._known and key not in self._asked:
                self._ask(key)
            return self._known.get(key)

    @property
    def waiting(self) -> bool:
        """Whether an answer is still to come."""
        with self._lock:
            return bool(self._asked)

    def close(self) -> None:
        """Ends the child; it ends by itself where this process does, since its input ends then."""
        if self._child is not None:
            self._child.kill()
        for listener in self._listeners:
            listener.join()

    def _ask(self, key: Key) -> None:
        question = {"refrigerant": key[0], "points": [list(point) for point in key[1]]}
        try:
            if self._child is None or self._child.poll() is not None:
                self._child = self._started()
            assert self._child.stdin is not None
            self._asked[key] = self._child
            self._child.stdin.write(json.dumps(question) + "\n")
            self._child.stdin.flush()
        except BrokenPipeError:
            pass  # it has just gone: its listener says so
        except OSError as problem:
            self._asked.pop(key, None)
            self._known[key] = f"The property library can't be started: {problem}."

    def _started(self) -> subprocess.Popen[str]:
        source = str(Path(__file__).resolve().parents[2])
        paths = os.pathsep.join(filter(None, (source, os.environ.get("PYTHONPATH", ""))))
        child = subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, "PYTHONPATH": paths},
        )
        listener = threading.Thread(target=self._listen, args=(child,), name="enthalpies", daemon=True)
        self._listeners.append(listener)
        listener.start()
        return child

    def _listen(self, child: subprocess.Popen[str]) -> None:
        """It answers in the order it was asked; what it leaves open when it goes, nobody answers any more."""
        assert child.stdout is not None
        for line in child.stdout:
            with self._lock:
                self._settle(child, _answer(line), 1)
        child.wait()
        with self._lock:
            self._settle(child, GONE, len(self._asked))
        for pipe in (child.stdin, child.stdout):
            with suppress(OSError):
                pipe.close()  # type: ignore[union-attr]

    def _settle(self, child: subprocess.Popen[str], answer: Answer, most: int) -> None:
        for key in [key for key, asked in self._asked.items() if asked is child][:most]:
            self._known[key] = answer
            del self._asked[key]


def _answer(line: str) -> Answer:
    try:
        found: dict[str, Any] = json.loads(line)
        return f"The property library says: {found['problem']}" if "problem" in found else list(found["enthalpies"])
    except (ValueError, KeyError, TypeError):
        return "The property library's answer can't be read."
