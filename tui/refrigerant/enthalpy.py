"""Enthalpies for a picture: asked of a child process, since the property library takes two seconds to import.

The child begins with the first question and ends with this process. Nothing waits for it.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from typing import Any

Point = tuple[str, float, float]  # phase (gas, liquid), K, Pa absolute
Key = tuple[str, tuple[Point, ...]]


class Enthalpies:
    """`of` answers at once: what is known by now, and asks for the rest."""

    def __init__(self, command: Sequence[str] = (sys.executable, "-m", "tui.refrigerant.build.enthalpies")) -> None:
        self._command = list(command)
        self._child: subprocess.Popen[str] | None = None
        self._listener: threading.Thread | None = None
        self._lock = threading.Lock()
        self._asked: list[Key] = []
        self._known: dict[Key, list[float | None] | str] = {}

    def of(self, refrigerant: str, points: Sequence[Point]) -> list[float | None] | str | None:
        """J/kg for each point (None where there is none); why there are none, in words; None while it is worked out."""
        key = (refrigerant, tuple(points))
        with self._lock:
            if key in self._known:
                return self._known[key]
            if key not in self._asked:
                self._ask(key)
        return None

    @property
    def waiting(self) -> bool:
        """Whether an answer is still to come."""
        with self._lock:
            return bool(self._asked)

    def close(self) -> None:
        """Ends the child; it ends by itself where this process does."""
        if self._child is not None:
            self._child.kill()
        if self._listener is not None:
            self._listener.join()

    def _ask(self, key: Key) -> None:
        self._asked.append(key)
        try:
            if self._child is None or self._child.poll() is not None:
                self._child = self._started()
            assert self._child.stdin is not None
            question = {"refrigerant": key[0], "points": [list(point) for point in key[1]]}
            self._child.stdin.write(json.dumps(question) + "\n")
            self._child.stdin.flush()
        except OSError as problem:
            self._settle(key, f"The property library can't be started: {problem}.")

    def _started(self) -> subprocess.Popen[str]:
        child = subprocess.Popen(
            self._command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        self._listener = threading.Thread(target=self._listen, args=(child,), name="enthalpies", daemon=True)
        self._listener.start()
        return child

    def _listen(self, child: subprocess.Popen[str]) -> None:
        assert child.stdout is not None
        for line in child.stdout:
            answer = _answer(line)
            with self._lock:
                if self._asked:
                    self._settle(self._asked[0], answer)
        with self._lock:  # it is gone: nobody answers any more
            for key in list(self._asked):
                self._settle(key, "The property library has stopped: is CoolProp installed?")
            for pipe in (child.stdin, child.stdout):
                with suppress(OSError):
                    pipe.close()  # type: ignore[union-attr]
            child.wait()

    def _settle(self, key: Key, answer: list[float | None] | str) -> None:
        self._known[key] = answer
        self._asked.remove(key)


def _answer(line: str) -> list[float | None] | str:
    try:
        found: dict[str, Any] = json.loads(line)
        return f"The property library says: {found['problem']}" if "problem" in found else list(found["enthalpies"])
    except (ValueError, KeyError, TypeError):
        return "The property library's answer can't be read."
