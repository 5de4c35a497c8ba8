"""Mutated trees: one file of a small library of three trees is changed, and the library is loaded and proven.

Whatever the change, the library is either whole or refused as a BrokenLibrary whose every problem has a
place inside its file, a code and words. Run alone: ``python tests/fuzz/run.py tree --count 200000 --seed 1``.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from pathlib import Path

from tui.tree.library import BrokenLibrary, Library
from tui.tree.spot import Problem

HERE = Path(__file__).resolve().parent / "library"
MOST_LINES = 60  # of the file that is changed
SLOWEST = 5.0  # seconds of CPU for one input: a busy machine is not its fault
_SIGNS = (
    *("\t", " ", "  ", "#", " #", ":", ": ", "-", "- ", "{", "}", "[", "]", ",", "'", '"', "|", ">", "<", "*", "&"),
    *("%", "@", "!", "?", "(", ")", "\0", "\r", "\n", "\u0085", "\u2028", "\u00a0", "\ufeff", "\ud800", "°", "é", "1"),
)
_VALUES = (
    *("carry on", "go round", "otherwise", "unknown", "any", "yes", "no", "on", "1e3", "010", "12:30", "2026-02-30"),
    *("5 dF", "-5 °F", "-500 °F", "30 psig", "7 %", "3", "3 rounds", "10 min", "0 rounds", "nan", "9" * 40, ""),
    *("fan", "scale", "circuit", "suction-level", "net-added", "place in leak-places", "circuit", "gloves, gloves"),
    *("a - b", "a -b", "scale - scale", "scale * scale", "first(scale)", "first(5 g)", "smaller(scale)", "-scale"),
    *("fan is running", "fan is not running or stopped", "scale is above 3", "scale is above 3 g or fan is unknown"),
    *(
        "fan is running and scale is below 1 g or fan is stopped",
        "is",
        "x is",
        " is not ",
        "(" * 60,
        "(" * 60 + ")" * 60,
    ),
    *("<scale>", "<scale", "<>", "<first(scale) - scale>", "*x", "&x y", "!!str x", "{a: b}", "[a, b]", "| x", "> x"),
    *("low, on", "low, any, on", "low or on, any", "any, any", "running, low or high", "-" * 30, "- " * 30, "k: " * 30),
)


def run(count: int, seed: int) -> int:
    """Try `count` inputs; the number tried. Any exception but BrokenLibrary comes out."""
    texts = {str(file.relative_to(HERE)).replace("\\", "/"): file.read_text("utf-8") for file in HERE.rglob("*.yaml")}
    assert max(text.count("\n") for text in texts.values()) <= MOST_LINES
    Library.from_texts(texts)
    names = sorted(texts)
    words = sorted({word for text in texts.values() for word in text.replace(",", " ").split()})
    rng = random.Random(seed)
    for number in range(count):
        name = rng.choice(names)
        text = texts[name]
        for _ in range(rng.choice((1, 1, 1, 2, 3, 6))):
            text = rng.choice(_MUTATIONS)(rng, text, words)
        if text.count("\n") <= MOST_LINES:
            _try({**texts, name: text}, name, number)
        else:
            _try({**texts, name: "\n".join(text.split("\n")[:MOST_LINES])}, name, number)
    return count


def _try(texts: dict[str, str], name: str, number: int) -> None:
    began = time.process_time()
    try:
        problems: list[Problem] = list(Library.from_texts(texts).problems)
    except BrokenLibrary as broken:
        problems = broken.problems
        assert any(problem.severity == "error" for problem in problems)
    except Exception as error:
        error.add_note(f"input {number}, {name}:\n{texts[name]}")
        raise
    for problem in problems:
        _told_well(problem, texts)
    taken = time.process_time() - began
    if taken > SLOWEST:
        raise AssertionError(f"input {number} took {taken:.1f} s, {name}:\n{texts[name]}")


def _told_well(problem: Problem, texts: dict[str, str]) -> None:
    """Every problem has words, and a place that is there."""
    spot = problem.spot
    lines = texts[spot.path].replace("\r\n", "\n").split("\n")
    there = 1 <= spot.line <= len(lines) and 1 <= spot.column <= len(lines[spot.line - 1]) + 2
    if not (there and problem.code and problem.message):
        raise AssertionError(f"{problem} in:\n{texts[spot.path]}")


def _letters(rng: random.Random, text: str, words: list[str]) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice(_SIGNS)[: rng.randrange(3)] + text[at + rng.randrange(3) :]


def _word(rng: random.Random, text: str, words: list[str]) -> str:
    """One word replaced by another of the library."""
    old = rng.choice(words)
    at = text.find(old, rng.randrange(len(text) + 1))
    return text if at < 0 else text[:at] + rng.choice(words) + text[at + len(old) :]


def _value(rng: random.Random, text: str, words: list[str]) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    key, colon, _ = lines[at].partition(": ")
    lines[at] = f"{key}{colon}{rng.choice(_VALUES)}"
    return "\n".join(lines)


def _key(rng: random.Random, text: str, words: list[str]) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    other = rng.choice(lines).strip().removeprefix("- ").partition(":")[0]
    key, colon, value = lines[at].partition(":")
    lead = key[: len(key) - len(key.lstrip(" -"))]
    lines[at] = f"{lead}{rng.choice((other, rng.choice(_VALUES)))}{colon}{value}"
    return "\n".join(lines)


def _lines(rng: random.Random, text: str, words: list[str]) -> str:
    """A line taken out, doubled, moved, or shifted."""
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    line = lines.pop(at)
    what = rng.randrange(5)
    if what == 1:
        lines[at:at] = [line, line]
    elif what == 2:
        lines.insert(rng.randrange(len(lines) + 1), line)
    elif what == 3:
        lines.insert(at, " " * rng.randrange(5) + line)
    elif what == 4:
        lines.insert(at, line.removeprefix("  "))
    return "\n".join(lines)


def _cut(rng: random.Random, text: str, words: list[str]) -> str:
    return text[: rng.randrange(len(text) + 1)]


_MUTATIONS: tuple[Callable[[random.Random, str, list[str]], str], ...] = (
    _letters,
    _letters,
    _word,
    _word,
    _value,
    _value,
    _key,
    _lines,
    _lines,
    _cut,
)
