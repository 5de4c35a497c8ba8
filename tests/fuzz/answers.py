"""Broken answers files: reading and walking them ends in a finding or a refusal, never in a traceback.

Run alone: ``python tests/fuzz/run.py answers --count 200000 --seed 1``.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from pathlib import Path

from tui.quantity import Refused
from tui.tree import source
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk.answers import Answers, run_answers

SEEDS = Path(__file__).resolve().parents[1] / "answers"
SLOWEST = 5.0  # seconds of CPU for one input: a busy machine is not its fault
_VALUES = (
    *(
        "8 psig",
        "-3 psig",
        "10 inHg vac",
        "1.5 bar",
        "2 °C",
        "35 °F",
        "-500 °F",
        "12 oz",
        "1 lb 4 oz",
        "400 g",
    ),
    *(
        "yes",
        "no",
        "on",
        "unknown",
        "R-134a",
        "R-999",
        "R-744",
        "8",
        "",
        "~",
        "null",
        "nan",
        "1e999 psig",
        "[]",
    ),
    *("[8 psig, 9 psig]", "[]", "{a: b}", "'", '"', "*x", "&x 1", "!!int 3", "| text", "\u2028", "9" * 400),
)
_NAMES = (
    *(
        "tree",
        "units",
        "site",
        "visit",
        "circuits",
        "main",
        "altitude",
        "barometer",
        "suction",
        "head",
        "sucton",
    ),
    *("refrigerant", "nameplate-charge", "evaporator-fan", "box-air", "today", "region", "unit", "why", ""),
)


def run(count: int, seed: int) -> int:
    """Try `count` inputs; the number tried. Any exception but Refused comes out."""
    library = Library.load(bundled_trees())
    texts = [file.read_text(encoding="utf-8") for file in sorted(SEEDS.glob("*.yaml"))]
    rng = random.Random(seed)
    for number in range(count):
        text = rng.choice(texts)
        for _ in range(rng.choice((1, 1, 1, 2, 3, 6))):
            text = rng.choice(_MUTATIONS)(rng, text)
        _try(library, text, number)
    return count


def _try(library: Library, text: str, number: int) -> None:
    began = time.process_time()
    try:
        answers = Answers.from_node(source.read_text("answers.yaml", text, flow=True), "answers.yaml")
        walk = run_answers(library, answers, embed_texts=False)
        assert walk.closed
    except Refused as refused:
        if not refused.message:
            raise AssertionError(f"input {number} was refused without a word") from refused
    except Exception as error:
        error.add_note(f"input {number}:\n{text}")
        raise
    taken = time.process_time() - began
    if taken > SLOWEST:
        raise AssertionError(f"input {number} took {taken:.1f} s:\n{text}")


def _letters(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text) + 1)
    return (
        text[:at]
        + rng.choice(("\t", " ", "#", ":", "-", "{", "}", "[", "]", ",", "°", "\0", "\n", "é", "'", '"'))[
            : rng.randrange(2)
        ]
        + text[at + rng.randrange(3) :]
    )


def _value(rng: random.Random, text: str) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    key, colon, _ = lines[at].partition(": ")
    lines[at] = f"{key}{colon}{rng.choice(_VALUES)}"
    return "\n".join(lines)


def _name(rng: random.Random, text: str) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    key, colon, value = lines[at].partition(":")
    blanks = key[: len(key) - len(key.lstrip())]
    lines[at] = f"{blanks}{rng.choice(_NAMES)}{colon}{value}"
    return "\n".join(lines)


def _lines(rng: random.Random, text: str) -> str:
    """A line taken out, doubled, moved, or shifted to the right."""
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    line = lines.pop(at)
    what = rng.randrange(4)
    if what == 1:
        lines[at:at] = [line, line]
    elif what == 2:
        lines.insert(rng.randrange(len(lines) + 1), line)
    elif what == 3:
        lines.insert(at, " " * rng.randrange(4) + line)
    return "\n".join(lines)


def _cut(rng: random.Random, text: str) -> str:
    return text[: rng.randrange(len(text) + 1)]


_MUTATIONS: tuple[Callable[[random.Random, str], str], ...] = (
    _letters,
    _value,
    _value,
    _name,
    _lines,
    _lines,
    _cut,
)
