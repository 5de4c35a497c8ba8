"""The fenced blocks of the documents, and what the commands in them print.

Run alone (``python tests/contract/transcripts.py``) it writes the transcripts of README.md anew.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO, cast

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
CONSOLE = "console"
TYPED = "> "


@dataclass(frozen=True)
class Block:
    """A fenced block: `language` is what stands behind the fence, `start` and `end` where its text is."""

    document: str
    line: int
    language: str
    text: str
    start: int
    end: int


def blocks(document: str) -> list[Block]:
    """The fenced blocks of a document, down the page."""
    text = (ROOT / document).read_text(encoding="utf-8")
    return [
        Block(document, text.count("\n", 0, f.start()) + 1, f[1].strip(), f[2], f.start(2), f.end(2))
        for f in FENCE.finditer(text)
    ]


class _Typist:
    """A person at a terminal: what is typed stands on the screen too."""

    def __init__(self, lines: list[str], screen: io.StringIO) -> None:
        self._lines = iter(lines)
        self._screen = screen

    def readline(self, size: int = -1) -> str:
        line = next((f"{line}\n" for line in self._lines), "")
        self._screen.write(line)
        return line


def transcript(text: str) -> str:
    """A console block as it should be: each ``$ command`` with what it prints, ``> `` lines typed."""
    return "".join(f"$ {command}\n{_said(command, typed)}" for command, typed in _commands(text))


def _commands(text: str) -> Iterator[tuple[str, list[str]]]:
    for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
        command, *rest = part.splitlines()
        yield command, [line.removeprefix(TYPED) for line in rest if line.startswith(TYPED)]


def _said(command: str, typed: list[str]) -> str:
    from tui.cli.main import main

    name, *arguments = shlex.split(command)
    assert name == "lowside", f"not a command of ours: {command}"
    screen, stdin = io.StringIO(), sys.stdin
    sys.stdin = cast(TextIO, _Typist(typed, screen))
    try:
        with contextlib.redirect_stdout(screen):
            main(arguments)
    finally:
        sys.stdin = stdin
    said = screen.getvalue()
    return said[: said.rindex(f"\n{TYPED}\n") + 1] if typed else said  # up to where the typing ends


def _rewrite(document: str) -> None:
    file = ROOT / document
    text = file.read_text(encoding="utf-8")
    for block in reversed(blocks(document)):
        if block.language == CONSOLE:
            text = text[: block.start] + transcript(block.text) + text[block.end :]
    file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    with tempfile.TemporaryDirectory() as home:
        os.environ["LOWSIDE_HOME"] = home
        for each in DOCUMENTS:
            _rewrite(each)
