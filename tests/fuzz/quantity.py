"""Throw mutated answers and literals at the reader: whatever is typed, only Refused may come out.

Run alone: ``python tests/fuzz/quantity.py --count 200000 --seed 1``.
"""

from __future__ import annotations

import argparse
import random
import sys

from tui.quantity import (
    UNITS,
    Kind,
    Quantity,
    Refused,
    default_unit,
    echo,
    from_json,
    parse,
    parse_literal,
    to_json,
)

SEEDS = (
    "68",
    "-3",
    "10 inHg",
    '10" vac',
    "1 lb 4 oz",
    "35F",
    "2 °C",
    "1.5 bar",
    "12,5",
    "370 g",
    "12 #",
    "−40 °F",
    "12 psi",
    "1,234",
    "1.234,5",
    "1 h 30 min",
    "1h30",
    "3 d",
    "2026-11-25",
    "03/04/2026",
    "25 Nov 2026",
    "Nov 25, 2026",
    "5' 6\"",
    "1 1/4 in",
    '3/8"',
    "500 micron",
    "29.92 inHg",
    "1013 mbar",
    "7 %",
    "5 dF",
    "5 Mohm",
    "3.2 Ω",
    "15 mfd",
    "4.5 A",
    "115 VAC",
    "1e3 psi",
    "1e999",
    "nan",
    "inf",
    "-inf",
    "68 deg F",
    "0.25 psi vac",
    "50 kPa vac",
    "5 g/yr",
    "½ lb",
    "12 psi g",
    "yes",
    "no",
    "running",
    "stopped",
    "it hums",
    "30 psig",
    "10 inHg vac",
    "10 min",
    "3",
    "2026-02-30",
    "4 lb/ft3",
    "2 L",
    "400 W",
    "1/3 hp",
    "9000 Btu/h",
)
ALPHABET = (
    "0123456789.,+-−–eE/'\"#%°µΩ½ \u00a0\u202f\t\n\r\0\x1b\u200e\u200f\u202e\u2066\ufeff٣²①ßİ\ud800\U0001f600"
    "abcdefghiklmnoprstuvwyzFCKPGMH:;()[]{}<>&*@|\\`~^_=?!"
)
CHOICES = ("running", "stopped", "backwards", "no fan", "R-134a", "R-404A")
SYMBOLS = tuple(UNITS)


def mutated(rng: random.Random) -> str:
    """A realistic answer with a few letters changed, cut, doubled, swapped, or joined to another."""
    text = rng.choice(SEEDS)
    if rng.random() < 0.2:
        text = (
            f"{rng.choice(('', '-', '+'))}{rng.randrange(10 ** rng.randrange(1, 12))}{rng.choice(('', ' '))}"
            f"{rng.choice(SYMBOLS)}"
        )
    for _ in range(rng.randrange(4)):
        place = rng.randrange(len(text) + 1)
        way = rng.randrange(6)
        if way == 0:
            text = text[:place] + rng.choice(ALPHABET) + text[place:]
        elif way == 1:
            text = text[:place] + text[place + 1 :]
        elif way == 2:
            text = text[:place] + rng.choice(ALPHABET) + text[place + 1 :]
        elif way == 3:
            text = text[:place] + rng.choice(SEEDS) + text[place:]
        elif way == 4:
            text = text[:place] + text[place:][::-1]
        else:
            text = text.upper() if rng.random() < 0.5 else text.title()
    if rng.random() < 0.005:
        text = (text or "9") * rng.randrange(1, 5000)
    return text[:20000]


def try_one(text: str, kind: Kind, shown: str | None) -> None:
    """Read, print and store one answer. What was taken must print, and store without loss."""
    try:
        value = parse(text, kind, shown=shown, choices=CHOICES)
    except Refused as refusal:
        _must_speak(refusal)
        return
    if not isinstance(value, Quantity):
        return
    echo(value, system="SI")
    if from_json(to_json(value)) != value:
        raise AssertionError(f"{text!r} as {kind} is not stored whole: {to_json(value)}")


def _must_speak(refusal: Refused) -> None:
    if not refusal.message or len(str(refusal)) > 900 or not str(refusal).isprintable():
        raise AssertionError(f"this refusal doesn't fit a screen: {str(refusal)!r}")


def run(count: int, seed: int) -> int:
    """Try `count` inputs; the number tried. Any exception but Refused comes out."""
    rng = random.Random(seed)
    kinds = tuple(Kind)
    for _ in range(count):
        text = mutated(rng)
        if rng.random() < 0.2:
            try:
                parse_literal(text)
            except Refused as refusal:
                _must_speak(refusal)
            continue
        kind = rng.choice(kinds)
        shown = None if rng.random() < 0.3 else default_unit(kind, rng.choice(("US", "SI")))
        try_one(text, kind, shown)
    return count


def main() -> int:
    """Exit 0: nothing but refusals came out."""
    parser = argparse.ArgumentParser(description="Fuzzes the reading of quantities.")
    parser.add_argument("--count", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    run(options.count, options.seed)
    return 0


if __name__ == "__main__":
    sys.exit(main())
