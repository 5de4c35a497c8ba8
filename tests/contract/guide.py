"""The trainer's guide, followed to the letter: its boxes in their order, in an empty folder.

Run alone (``python tests/contract/guide.py``) it writes what the commands in it print anew.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ROOT / "trees" / "README.md"
FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def followed(text: str) -> str:
    """The guide with what its commands print in the current folder. AssertionError where a box can't be followed.

    A box is `console`, `text copy`, or `yaml FILE` with what to do: be it, be written whole, at its end, or
    taken out of it and another put in.
    """
    taken: dict[str, str] = {}

    def follow(box: re.Match[str]) -> str:
        kind, _, rest = box[1].partition(" ")
        if kind == "console":
            return f"```{box[1]}\n{''.join(_said(command) for command in _commands(box[2]))}```"
        if kind == "text":
            assert rest == "copy", f"no such box: {box[1]}"
            shutil.copytree(*box[2].strip().split(" -> "))
        else:
            assert kind == "yaml", f"no such box: {box[1]}"
            file, _, what = rest.partition(" ")
            _edited(Path(file), what, box[2], taken)
        return box[0]

    done = FENCE.sub(follow, text)
    assert taken == {}, f"taken out and nothing put in: {taken}"
    return done


def _edited(file: Path, what: str, text: str, taken: dict[str, str]) -> None:
    before = file.read_text(encoding="utf-8") if file.exists() else ""
    if what == "is":
        assert before == text
    elif what in ("take out", "take out each"):
        many = before.count(text)
        assert many == 1 or (many and what == "take out each"), f"{file} has this {many} times:\n{text}"
        taken[str(file)] = text
    elif what in ("put in", "put in each"):
        file.write_text(before.replace(taken.pop(str(file)), text), encoding="utf-8")
    else:
        assert what in ("whole", "at the end"), f"no such box: {what}"
        assert (what == "whole") == (not file.exists())
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(before + text, encoding="utf-8")


def _commands(text: str) -> Iterator[str]:
    return (line.removeprefix("$ ") for line in text.splitlines() if line.startswith("$ "))


def _said(command: str) -> str:
    """The command with what it prints on either stream, as a terminal shows it."""
    from tui.cli.main import main

    name, *arguments = shlex.split(command)
    assert name == "lowside", f"not a command of ours: {command}"
    screen = io.StringIO()
    with contextlib.redirect_stdout(screen), contextlib.redirect_stderr(screen):
        main(arguments)
    return f"$ {command}\n{screen.getvalue()}"


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    with tempfile.TemporaryDirectory() as empty:
        os.environ["LOWSIDE_HOME"] = f"{empty}/home"
        os.chdir(empty)
        GUIDE.write_text(followed(GUIDE.read_text(encoding="utf-8")), encoding="utf-8")
