"""Walks of the answers files up to a step, and the lines of a picture as text."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path

from tests.app.typist import ANSWERS, bundled
from tui.app.sheet import Line, joined
from tui.walk import Walk
from tui.walk.answers import Answers, begin, drive


class _Stop(Exception):
    pass


def driven(path: Path, step: str, times: int) -> Walk:
    answers = Answers.read(path)
    walk = begin(bundled(), answers)
    left = times

    def act(intent: Callable[[Walk], object]) -> None:
        nonlocal left
        if step and walk.prompt is not None and walk.prompt.step == step:
            left -= 1
            if not left:
                raise _Stop
        intent(walk)

    with suppress(_Stop):
        drive(walk, answers, act)
    return walk


@cache
def walk_to(name: str, step: str = "", times: int = 1) -> Walk:
    """A walk of an answers file, up to where that step is asked for so many times; else to its end."""
    return driven(ANSWERS / f"{name}.yaml", step, times)


def changed(tmp_path: Path, answers: dict[str, str], step: str = "", times: int = 1) -> Walk:
    """The walk of the leaking reach-in with some answers put otherwise."""
    text = (ANSWERS / "call-leak.yaml").read_text(encoding="utf-8")
    for reading, answer in answers.items():
        text, count = re.subn(rf"(?m)^(    {reading}:) .*$", rf"\1 {answer}", text)
        text += "" if count else f"    {reading}: {answer}\n"
    path = tmp_path / "changed.yaml"
    path.write_text(text, encoding="utf-8")
    return driven(path, step, times)


def text(lines: list[Line]) -> list[str]:
    return joined(lines).plain.split("\n")


def row_with(lines: list[str], words: str) -> int:
    return next(n for n, line in enumerate(lines) if words in line)


def again(walk: Walk) -> Walk:
    return Walk.from_events(walk.library, walk.events)
