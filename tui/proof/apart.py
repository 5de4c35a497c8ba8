"""Which steps and rows of a tree no example reaches, found out by a process of its own: nothing here waits for it.

Walking all examples takes many seconds; in a thread it would hold up whoever draws a screen meanwhile.
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

# -P: what lies in the folder the program was started from is no part of it.
CHILD = (sys.executable, "-P", "-m", "tui.proof.unreached")


class Unreached:
    """`bare`: (step, row) of what no example reaches, once it is known; a step itself with an empty row.

    folders: of the trees, later ones over earlier ones. digest: of the library they gave when it was read.
    """

    def __init__(self, tree: str, folders: Sequence[str], digest: str, command: Sequence[str] = CHILD) -> None:
        self.waiting = bool(folders)
        self.problem = "" if folders else "these trees lie in no folder"
        self._digest = digest
        self.bare: frozenset[tuple[str, str]] = frozenset()
        self._child: subprocess.Popen[str] | None = None
        if folders:
            self._start([*command, tree, *folders])

    def close(self) -> None:
        """Nobody wants to know any more."""
        if self._child is not None:
            self._child.kill()

    def _start(self, command: list[str]) -> None:
        source = str(Path(__file__).resolve().parents[2])
        paths = os.pathsep.join(filter(None, (source, os.environ.get("PYTHONPATH", ""))))
        pipe, env = subprocess.PIPE, {**os.environ, "PYTHONPATH": paths}
        try:
            self._child = subprocess.Popen(
                command, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, text=True, encoding="utf-8", env=env
            )
        except OSError as problem:
            self.waiting, self.problem = False, f"it can't be started: {problem}"
            return
        threading.Thread(target=self._listen, args=(self._child,), name="examples", daemon=True).start()

    def _listen(self, child: subprocess.Popen[str]) -> None:
        assert child.stdout is not None
        line = child.stdout.readline()
        self._take(line)
        self.waiting = False
        for stream in (child.stdin, child.stdout):
            with suppress(OSError):
                stream.close()  # type: ignore[union-attr]
        child.wait()

    def _take(self, line: str) -> None:
        try:
            found: dict[str, Any] = json.loads(line)
            if "problem" in found:
                self.problem = str(found["problem"])
            elif found["digest"] != self._digest:
                self.problem = "the trees have changed since they were read"
            else:
                self.bare = frozenset((str(step), str(row)) for step, row in found["bare"])
        except (ValueError, KeyError, TypeError):
            self.problem = "the examples could not be walked"
