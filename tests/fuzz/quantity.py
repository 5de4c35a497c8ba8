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

SEEDS: dict[Kind, tuple[str, ...]] = {
    Kind.TEMPERATURE: ("35F", "2 °C", "68 deg F", "−40 °F", "280 K", "35°", "-459.67 F", "12,5 ℃"),
    Kind.TEMPERATURE_DIFFERENCE: ("5 dF", "10 F", "3 K", "2.5 dC", "8"),
    Kind.GAUGE_PRESSURE: (
        *("68", "-3", "10 inHg", '10" vac', "1.5 bar", "12,5", "12 #", "12 psi g", "1,234", "1.234,5"),
        *("1e3 psi", "1e999", "nan", "-inf", "0.25 psi vac", "50 kPa vac", "30 psig", "29.9 inHg"),
    ),
    Kind.ABSOLUTE_PRESSURE: ("500 micron", "29.92 inHg", "1013 mbar", "101.3 kPa", "27 psia"),
    Kind.PRESSURE_DIFFERENCE: ("5 psi", "0.3 bar", "30 kPa"),
    Kind.MASS: ("1 lb 4 oz", "370 g", "½ lb", "1½ lb", "2#", "0,37 kg", "1lb4oz", "1 pound and 4 ounces"),
    Kind.VOLUME: ("2 L", "120 in3", "50 cc"),
    Kind.DENSITY: ("4 lb/ft3", "28 kg/m3", "4.3 g/L"),
    Kind.LENGTH: ("5' 6\"", "1 1/4 in", '3/8"', "5 ft", "1-1/4 in", "1.5 m"),
    Kind.TIME_SPAN: ("1 h 30 min", "1h30", "3 d", "10 min", "2 weeks", "1:30"),
    Kind.DATE: ("2026-11-25", "03/04/2026", "25 Nov 2026", "Nov 25, 2026", "2026-02-30", "20261125"),
    Kind.RATIO: ("7 %", "7", "12.5 percent", "300 ppm"),
    Kind.VOLTAGE: ("115 VAC", "230 V", "24 mV"),
    Kind.CURRENT: ("4.5 A", "300 mA", "6 amps"),
    Kind.RESISTANCE: ("5 Mohm", "3.2 Ω", "500 megohm", "5 mohm", "2 k"),
    Kind.CAPACITANCE: ("15 mfd", "15 µF", "40 uF"),
    Kind.POWER: ("400 W", "1/3 hp", "9000 Btu/h"),
    Kind.LEAK_RATE: ("5 g/yr", "0.5 oz/yr"),
    Kind.NUMBER: ("3", "1,5", "-2"),
    Kind.TEXT: ("it hums", "K-12"),
    Kind.CHOICE: ("running", "stopped", "no fan", "r134a"),
    Kind.YES_NO: ("yes", "no", "Y"),
}
ALPHABET = (
    "0123456789.,+-−–eE/'\"#%°µΩ½ \u00a0\u202f\t\n\r\0\x1b\u200e\u200f\u202e\u2066\ufeff٣²①ßİ\ud800\U0001f600"
    "abcdefghiklmnoprstuvwyzFCKPGMH:;()[]{}<>&*@|\\`~^_=?!"
)
CHOICES = ("running", "stopped", "backwards", "no fan", "R-134a", "R-404A")
SYMBOLS = tuple(UNITS)


def mutated(rng: random.Random, kind: Kind) -> str:
    """A realistic answer at a step of `kind`, a few letters of it changed, cut or swapped."""
    text = rng.choice(SEEDS[kind])
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
            text = text[:place] + rng.choice(SEEDS[kind]) + text[place:]
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
        kind = rng.choice(kinds)
        text = mutated(rng, kind)
        if rng.random() < 0.2:
            try:
                parse_literal(text)
            except Refused as refusal:
                _must_speak(refusal)
            continue
        if rng.random() < 0.2:
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
