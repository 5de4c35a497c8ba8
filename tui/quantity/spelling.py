"""Units as people spell them, at a step whose kind is known."""

from __future__ import annotations

import re
from typing import NamedTuple

from tui.quantity.kinds import Kind
from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.units import ALL, Unit, unit, units_of
from tui.quantity.words import nearest


class Spelled(NamedTuple):
    """A unit that was recognised; `vacuum`: the number counts down from atmosphere."""

    unit: Unit
    vacuum: bool


_EXAMPLES: dict[Kind, str] = {
    Kind.TEMPERATURE: "35 °F or 2 °C",
    Kind.TEMPERATURE_DIFFERENCE: "10 dF or 5 dC",
    Kind.GAUGE_PRESSURE: "12 psi, 0.8 bar or 10 inHg for a vacuum",
    Kind.ABSOLUTE_PRESSURE: "27 psia, 1.8 bara or 500 micron",
    Kind.PRESSURE_DIFFERENCE: "5 psi or 0.3 bar",
    Kind.MASS: "1 lb 4 oz or 370 g",
    Kind.VOLUME: "2 L or 120 in3",
    Kind.DENSITY: "28 kg/m3",
    Kind.LENGTH: "5 ft or 1.5 m",
    Kind.TIME_SPAN: "10 min or 1 h 30 min",
    Kind.DATE: "2026-11-25",
    Kind.RATIO: "7 %",
    Kind.VOLTAGE: "115 V",
    Kind.CURRENT: "4.5 A",
    Kind.RESISTANCE: "3.2 ohm",
    Kind.CAPACITANCE: "15 µF",
    Kind.POWER: "250 W",
    Kind.LEAK_RATE: "5 g/yr",
    Kind.NUMBER: "3",
}

_VACUUMS = ("vacuum", "vac")
_MERCURY_ALONE = frozenset({"", "in", "inches", "inch", "of", "in of", "inches of"})


def _tables() -> dict[Kind, dict[str, Unit]]:
    tables: dict[Kind, dict[str, Unit]] = {}
    for one in ALL:
        table = tables.setdefault(one.kind, {})
        for word in (one.symbol.lower(), *one.spellings):
            table.setdefault(word, one)
    return tables


_TABLES = _tables()


def usual(word: str) -> str | None:
    """The symbol that a tree writes for a unit as people spell it; pounds and inches are of mass and length."""
    symbols = {kind: table[word.lower()].symbol for kind, table in _TABLES.items() if word.lower() in table}
    if len(set(symbols.values())) == 1:
        return next(iter(symbols.values()))
    return symbols.get(Kind.MASS) or symbols.get(Kind.LENGTH)


def example(kind: Kind, shown: str | None = None) -> str:
    """A figure of this kind as one would type it (in the unit shown, where there is one)."""
    if shown and kind not in (Kind.MASS, Kind.DATE):
        return f"12 {shown}"
    return _EXAMPLES.get(kind, "3")


def spelled(word: str, kind: Kind, shown: str | None) -> Spelled | None:
    """The unit of `kind` that `word` spells, or None. A bare ``°`` is the degree shown in the box.

    Refused ``ambiguous`` where the spelling stands for two units, ``no-unit`` for ``°`` with none shown.
    """
    lower = word.lower().rstrip(".;,")
    found = _TABLES.get(kind, {}).get(lower)
    if found is not None:
        if kind is Kind.RESISTANCE and found.symbol == "Mohm":
            _refuse_milliohm(word)
        return Spelled(found, found.symbol == "inHg vac")
    if kind is Kind.GAUGE_PRESSURE:
        return _vacuum(lower)
    if kind is Kind.RESISTANCE and lower in ("mω", "m", "m ohm", "m ohms", "mohms"):
        _refuse_milliohm(word)
        return Spelled(unit("Mohm"), False)
    if lower in ("°", "deg", "degree", "degrees") and kind in (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE):
        if shown is None:
            raise Refused("no-unit", f"{quoted(word)}: Fahrenheit or Celsius?",
                          f"Write the unit out, such as {example(kind)}.")
        return Spelled(unit(shown, kind), False)
    return None


def _refuse_milliohm(word: str) -> None:
    """A thousandth and a million differ by one capital letter: nobody may mean one and get the other."""
    if word[0] == "m" and not word.startswith("meg"):
        raise Refused("ambiguous", f"{quoted(word)}: a thousandth of an ohm, or a million ohms?",
                      "Write megohm for a million, 0.005 ohm for thousandths.")


def _vacuum(word: str) -> Spelled | None:
    """``" vac``, ``inHg vacuum``, ``kPa vac``: any gauge unit counted downwards."""
    for ending in _VACUUMS:
        for joint in (f" of {ending}", f" {ending}", ending):
            if word.endswith(joint):
                stem = word[: -len(joint)].strip(" .")
                if stem in _MERCURY_ALONE:
                    return Spelled(unit("inHg vac"), True)
                found = _TABLES[Kind.GAUGE_PRESSURE].get(stem)
                return None if found is None else Spelled(found, True)
    return None


_POUNDS_AND = re.compile(r"(lbs?|#|pounds?)\.?,? ?\d+([.,]\d+)?")


def refuse_unit(text: str, word: str, kind: Kind, shown: str | None) -> Refused:
    """Why `word` after a number is no unit of `kind`: another kind's, mistyped, or not a unit."""
    sample = example(kind, shown)
    lower = word.lower()
    if word[0].isdigit() or word[0] in "+-/.,":
        return _refuse_second_number(text, word, sample)
    if kind is Kind.ABSOLUTE_PRESSURE and lower in ("psi", "bar", "#", "lbs"):
        return Refused("ambiguous", f"{quoted(text)}: gauge or absolute?",
                       f"Write {'bara' if lower == 'bar' else 'psia'} if it counts from a perfect vacuum.")
    if lower in ("gr", "gr.") and kind is Kind.MASS:
        return Refused("ambiguous", f"{quoted(text)}: grams or grains?", "Write g for grams.")
    if kind is Kind.MASS and _POUNDS_AND.fullmatch(lower):
        return Refused("no-unit", f"{quoted(text)}: pounds, and then of what?",
                       f"Did you mean {text.strip()} oz?")
    other = _other_kind(word, kind)
    if other is not None:
        return Refused("wrong-kind", f"{quoted(text)} is {other.named}; {kind.named} is asked for.",
                       f"Type it such as {sample}.")
    close = nearest(word, _TABLES.get(kind, {}))
    if close is not None:
        return Refused("wrong-unit", f"{quoted(word)} is no unit of {kind.named}.",
                       f"Did you mean {close}?")
    if kind is Kind.NUMBER:
        return Refused("wrong-unit", f"{quoted(text)}: only a number is asked for.", "Leave the unit away.")
    return Refused("wrong-unit", f"{quoted(word)} is no unit of {kind.named}.", f"Type it such as {sample}.")


def _other_kind(word: str, kind: Kind) -> Kind | None:
    """The kind this unit belongs to: by its exact symbol first (``A`` is no year), else by a spelling."""
    for other in Kind:
        if other is not kind and any(one.symbol == word for one in units_of(other)):
            return other
    for other in Kind:
        if other is not kind and word.lower() in _TABLES.get(other, {}):
            return other
    return None


def _refuse_second_number(text: str, word: str, sample: str) -> Refused:
    digits = word.lstrip("- ")
    if word[0] == "-" and digits[:1].isdigit():
        return Refused("ambiguous", f"{quoted(text)} is a range, not one figure.",
                       "Read the instrument once more and type one figure.")
    if word[0].isdigit():
        return Refused("ambiguous", f"{quoted(text)} holds two numbers.",
                       f"Type one figure without blanks inside, such as {sample}.")
    return Refused("unreadable", f"{quoted(text)} can't be read.", f"Type it such as {sample}.")
