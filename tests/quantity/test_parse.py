"""What people type, and how each is read or refused."""

from __future__ import annotations

import contextlib
import datetime
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import Kind, Quantity, Refused, parse, parse_literal, unit
from tui.quantity.dates import day_of, days_of, iso_date

G, T, DT, M = Kind.GAUGE_PRESSURE, Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.MASS
A, P, E, S = Kind.ABSOLUTE_PRESSURE, Kind.PRESSURE_DIFFERENCE, Kind.LENGTH, Kind.TIME_SPAN

# text, kind, unit shown, number and symbol it must be
READ = [
    ("68", G, "psig", 68, "psig"),
    ("-3", G, "psig", -3, "psig"),
    ("−3", G, "psig", -3, "psig"),
    ("– 3", G, "psig", -3, "psig"),
    ("10 inHg", G, "psig", 10, "inHg vac"),
    ('10" vac', G, "psig", 10, "inHg vac"),
    ("10”", G, "psig", 10, "inHg vac"),
    ("10 in. Hg", G, "psig", 10, "inHg vac"),
    ("10 inches of vacuum", G, "psig", 10, "inHg vac"),
    ("-10 inHg", G, "psig", 10, "inHg vac"),
    ("10 vac", G, "psig", 10, "inHg vac"),
    ("10", G, "inHg vac", 10, "inHg vac"),
    ("30 kPa vac", G, "psig", -30, "kPag"),
    ("1.5 bar", G, "psig", 1.5, "barg"),
    ("12,5", G, "psig", 12.5, "psig"),
    ("0.8 BAR", G, "barg", 0.8, "barg"),
    ("0,8", G, "barg", 0.8, "barg"),
    ("86 kPa", G, "psig", 86, "kPag"),
    ("12 #", G, "psig", 12, "psig"),
    ("12#", G, None, 12, "psig"),
    ("12\u00a0PSI", G, "barg", 12, "psig"),
    ("12 psig.", G, None, 12, "psig"),
    ("１２ psi", G, None, 12, "psig"),
    ("1e2 psi", G, None, 100, "psig"),
    (".5 psi", G, None, 0.5, "psig"),
    ("5. psi", G, None, 5, "psig"),
    ("+5", G, "psig", 5, "psig"),
    ("1,234.5", G, "psig", 1234.5, "psig"),
    ("1.234,5", G, "psig", 1234.5, "psig"),
    ("1,234,567 kPa", A, None, 1234567, "kPa"),
    ("1234,567", G, "kPag", 1234.567, "kPag"),
    ("0,125 in", E, None, 0.125, "in"),
    ("\u200e12 psi", G, None, 12, "psig"),
    ("35F", T, "°C", 35, "°F"),
    ("2 °C", T, "°F", 2, "°C"),
    ("2℃", T, "°F", 2, "°C"),
    ("35", T, "°F", 35, "°F"),
    ("35°", T, "°C", 35, "°C"),
    ("68 deg F", T, None, 68, "°F"),
    ("68 Deg. F", T, None, 68, "°F"),
    ("68 degrees fahrenheit", T, None, 68, "°F"),
    ("68 ºf", T, None, 68, "°F"),
    ("280 K", T, None, 280, "K"),
    ("10 F", DT, None, 10, "dF"),
    ("5 °C", DT, None, 5, "dC"),
    ("5 K", DT, None, 5, "K"),
    ("8", DT, "dF", 8, "dF"),
    ("1 lb 4 oz", M, None, 20, "oz"),
    ("1lb4oz", M, None, 20, "oz"),
    ("1 lb, 4.5 oz", M, None, 20.5, "oz"),
    ("1 pound and 4 ounces", M, None, 20, "oz"),
    ("-1 lb 4 oz", M, None, -20, "oz"),
    ("370 g", M, "oz", 370, "g"),
    ("2#", M, None, 2, "lb"),
    ("½ lb", M, None, 0.5, "lb"),
    ("1½ lb", M, None, 1.5, "lb"),
    ("0,37 kg", M, None, 0.37, "kg"),
    ("5'", E, None, 5, "ft"),
    ("5' 6\"", E, None, 5.5, "ft"),
    ("5 ft 6 in", E, None, 5.5, "ft"),
    ("1/4", E, "in", 0.25, "in"),
    ('1 1/4"', E, None, 1.25, "in"),
    ("1-1/4 in", E, None, 1.25, "in"),
    ("10 min", S, None, 10, "min"),
    ("1 h 30 min", S, None, 1.5, "h"),
    ("1h30", S, None, 1.5, "h"),
    ("3 d", S, None, 3, "d"),
    ("2 weeks", S, None, 2, "week"),
    ("500", A, "micron", 500, "micron"),
    ("500 Microns", A, None, 500, "micron"),
    ("29.92 inHg", A, None, 29.92, "inHg"),
    ("1013 hPa", A, None, 1013, "mbar"),
    ("101.3 kPa", A, None, 101.3, "kPa"),
    ("27 psia", A, None, 27, "psia"),
    ("5 psi", P, None, 5, "psi"),
    ("0.3 bar", P, None, 0.3, "bar"),
    ("7 %", Kind.RATIO, None, 7, "%"),
    ("7%", Kind.RATIO, None, 7, "%"),
    ("7", Kind.RATIO, "%", 7, "%"),
    ("3", Kind.NUMBER, None, 3, ""),
    ("115 VAC", Kind.VOLTAGE, None, 115, "V"),
    ("4,5 A", Kind.CURRENT, None, 4.5, "A"),
    ("3.2 Ω", Kind.RESISTANCE, None, 3.2, "ohm"),
    ("500 MΩ", Kind.RESISTANCE, None, 500, "Mohm"),
    ("500 megohm", Kind.RESISTANCE, None, 500, "Mohm"),
    ("15 MFD", Kind.CAPACITANCE, None, 15, "µF"),
    ("15 uF", Kind.CAPACITANCE, None, 15, "µF"),
    ("15 μF", Kind.CAPACITANCE, None, 15, "µF"),
    ("1/3 hp", Kind.POWER, None, 1 / 3, "hp"),
    ("5 g/yr", Kind.LEAK_RATE, None, 5, "g/yr"),
    ("2 L", Kind.VOLUME, None, 2, "L"),
    ("4.3 g/L", Kind.DENSITY, None, 4.3, "g/L"),
]


@pytest.mark.parametrize(("text", "kind", "shown", "number", "symbol"), READ)
def test_read_kindly(text: str, kind: Kind, shown: str | None, number: float, symbol: str) -> None:
    value = parse(text, kind, shown=shown)
    assert isinstance(value, Quantity)
    assert value.kind is kind
    assert value.unit == symbol
    assert value.si == pytest.approx(unit(symbol, kind).to_si(number), rel=1e-12)
    assert value.typed == text.strip()


# text, kind, unit shown, code, a word the message or the cure must hold
REFUSED = [
    ("", G, "psig", "unreadable", "Nothing"),
    (" \u00a0 ", G, "psig", "unreadable", "Nothing"),
    ("hello", G, "psig", "unreadable", "no number"),
    ("--3", G, "psig", "unreadable", "no number"),
    ("nan", G, "psig", "unreadable", "can't be measured"),
    ("inf", T, "°F", "unreadable", "can't be measured"),
    ("OL", Kind.RESISTANCE, "ohm", "unreadable", "100 Mohm"),
    ("open", Kind.RESISTANCE, "ohm", "unreadable", "100 Mohm"),
    ("OL", G, "psig", "unreadable", "no number"),
    ("1.2.3", G, "psig", "unreadable", "decimal point"),
    ("1/0 in", E, None, "unreadable", "no number"),
    ("12 psi\x00", G, "psig", "unreadable", "U+0000"),
    ("12\u202e psi", G, "psig", "unreadable", "U+202E"),
    ("12\x1b[2J", G, "psig", "unreadable", "U+001B"),
    ("٣ psi", G, "psig", "unreadable", "no number"),
    ("\ud800", Kind.TEXT, None, "unreadable", "U+D800"),
    ("9" * 5000, G, "psig", "unreadable", "5000"),
    ("1" * 200, G, "psig", "out-of-range", "too large"),
    ("1e999", G, "psig", "out-of-range", "too large"),
    ("-1e999 psi", G, "psig", "out-of-range", "too large"),
    ("68", G, None, "no-unit", "12 psi"),
    ("35°", T, None, "no-unit", "35 °F"),
    ("1,234", G, "psig", "ambiguous", "1.234"),
    ("1 234", G, "psig", "ambiguous", "two numbers"),
    ("10-12", G, "psig", "ambiguous", "range"),
    ("10 – 12 psi", G, "psig", "ambiguous", "range"),
    ("+10 inHg", G, "psig", "ambiguous", "vacuum"),
    ("5 psi", A, "psia", "ambiguous", "psia"),
    ("5 mohm", Kind.RESISTANCE, "ohm", "ambiguous", "megohm"),
    ("5 mΩ", Kind.RESISTANCE, "ohm", "ambiguous", "megohm"),
    ("2 gr", M, "oz", "ambiguous", "grains"),
    ("1.5 lb 4 oz", M, "oz", "ambiguous", "decimals"),
    ("12 psia", G, "psig", "wrong-kind", "absolute"),
    ("500 micron", G, "psig", "wrong-kind", "absolute"),
    ("35 F", G, "psig", "wrong-kind", "temperature"),
    ("3 psig", A, "psia", "wrong-kind", "gauge"),
    ("5 dF", T, "°F", "wrong-kind", "difference"),
    ("12 psi", T, "°F", "wrong-kind", "pressure"),
    ("5 min", M, "oz", "wrong-kind", "time span"),
    ("10 inHg vac", A, "psia", "wrong-kind", "gauge"),
    ("5 A", Kind.RESISTANCE, "ohm", "wrong-kind", "current"),
    ("12 pis", G, "psig", "wrong-unit", "psi"),
    ("12 brag", G, "psig", "wrong-unit", "barg"),
    ("10 onces", M, "oz", "wrong-unit", "ounces"),
    ("5 oz 1 lb", M, "oz", "wrong-unit", "1 lb 4 oz"),
    ("1 lb 4", M, "oz", "no-unit", "1 lb 4 oz"),
    ("3 x", Kind.NUMBER, "", "wrong-unit", "only a number"),
    ("1:30", S, "min", "wrong-unit", "min"),
    ("-500 F", T, "°F", "below-absolute-zero", "-459.67"),
    ("-274 C", T, "°F", "below-absolute-zero", "sign"),
    ("-1 psia", A, "psia", "below-absolute-zero", "zero"),
    ("31 inHg", G, "psig", "out-of-range", "perfect vacuum"),
    ("-16 psi", G, "psig", "out-of-range", "perfect vacuum"),
    ("03/04/2026", Kind.DATE, None, "ambiguous", "2026-11-25"),
    ("26-11-25", Kind.DATE, None, "ambiguous", "year"),
    ("2026-02-30", Kind.DATE, None, "unreadable", "February"),
    ("2026-13-01", Kind.DATE, None, "unreadable", "13"),
    ("today", Kind.DATE, None, "unreadable", "no date"),
    ("0026-01-01", Kind.DATE, None, "out-of-range", "year"),
    ("①②③④-11-25", Kind.DATE, None, "unreadable", "no date"),
    ("maybe", Kind.YES_NO, None, "not-a-choice", "yes or no"),
]


@pytest.mark.parametrize(("text", "kind", "shown", "code", "word"), REFUSED)
def test_refused_in_words(text: str, kind: Kind, shown: str | None, code: str, word: str) -> None:
    with pytest.raises(Refused) as refused:
        parse(text, kind, shown=shown)
    assert refused.value.code == code, str(refused.value)
    assert word in str(refused.value)
    assert refused.value.cure
    assert str(refused.value).isprintable()


def test_gauge_floor_leaves_the_deepest_real_vacuum() -> None:
    value = parse("29.9 inHg", G, shown="psig")
    assert isinstance(value, Quantity)
    assert value.to("psig") == pytest.approx(-14.686, abs=0.001)


def test_range_says_its_words() -> None:
    with pytest.raises(Refused) as refused:
        parse("500", G, shown="psig", low=0.0, high=Quantity.of(400, "psig").si, range_text="0 to 400 psig")
    assert refused.value.code == "out-of-range"
    assert "500 psig is above what this can be (0 to 400 psig)" in str(refused.value)


def test_range_is_said_in_the_typed_unit_without_words() -> None:
    with pytest.raises(Refused) as refused:
        parse("-80 C", T, shown="°F", low=Quantity.of(-60, "°C").si, high=Quantity.of(80, "°C").si)
    assert "-80 °C is below what this can be (-60 °C to 80 °C)" in str(refused.value)


def test_range_includes_its_ends_however_typed() -> None:
    low, high = Quantity.of(-20, "°F").si, Quantity.of(120, "°F").si
    for text in ("-20 F", "120 F"):
        assert parse(text, T, shown=None, low=low, high=high)


def test_choices() -> None:
    choices = ("running", "stopped", "no fan", "R-134a")
    assert parse("Running", Kind.CHOICE, shown=None, choices=choices) == "running"
    assert parse("no-fan", Kind.CHOICE, shown=None, choices=choices) == "no fan"
    assert parse("r134a", Kind.CHOICE, shown=None, choices=choices) == "R-134a"
    assert parse("sto", Kind.CHOICE, shown="", choices=choices) == "stopped"
    with pytest.raises(Refused) as refused:
        parse("sto", Kind.CHOICE, shown=None, choices=choices)
    assert refused.value.code == "not-a-choice"
    with pytest.raises(Refused, match="Did you mean “stopped”"):
        parse("stoped", Kind.CHOICE, shown="", choices=choices)
    with pytest.raises(Refused) as refused:
        parse("no", Kind.CHOICE, shown="", choices=("no fan", "no power"))
    assert refused.value.code == "ambiguous"


def test_yes_no_and_text() -> None:
    assert parse("Y", Kind.YES_NO, shown=None) == "yes"
    assert parse("No.", Kind.YES_NO, shown=None) == "no"
    assert parse("  K-12 – Küche ", Kind.TEXT, shown=None) == "K-12 – Küche"
    with pytest.raises(Refused):
        parse("x" * 5000, Kind.TEXT, shown=None)


@pytest.mark.parametrize(
    "text", ["2026-11-25", "20261125", "25 Nov 2026", "Nov 25, 2026", "25.11.2026", "11/25/2026"]
)
def test_dates(text: str) -> None:
    value = parse(text, Kind.DATE, shown=None)
    assert isinstance(value, Quantity)
    assert value.si == (datetime.date(2026, 11, 25) - datetime.date(1970, 1, 1)).days * 86400


@pytest.mark.parametrize("text", ["03/2023", "2023-03", "3/2023", "2023/3", "Mar 2023", "march 2023"])
def test_a_month_alone_is_its_first_day(text: str) -> None:
    value = parse(text, Kind.DATE, shown=None)
    assert isinstance(value, Quantity)
    assert value.si == (datetime.date(2023, 3, 1) - datetime.date(1970, 1, 1)).days * 86400


@pytest.mark.parametrize("text", ["03/23", "13/2023", "2023-2024", "spring 2023", "2023"])
def test_what_is_no_month_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(Refused) as refused:
        parse(text, Kind.DATE, shown=None)
    assert "2026-11" in refused.value.cure


@given(st.dates(datetime.date(1900, 1, 1), datetime.date(2200, 12, 31)))
def test_days_agree_with_the_calendar(day: datetime.date) -> None:
    days = (day - datetime.date(1970, 1, 1)).days
    assert days_of(day.year, day.month, day.day) == days
    assert day_of(days) == (day.year, day.month, day.day)
    assert iso_date(days * 86400.0) == day.isoformat()


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("5 dF", DT, 25 / 9),
        ("7 %", Kind.RATIO, 0.07),
        ("30 psig", G, 206842.7),
        ("10 min", S, 600.0),
        ("3", Kind.NUMBER, 3.0),
        ("-3 psig", G, -20684.27),
        ("5 psi", P, 34473.79),
        ("5 bar", P, 5e5),
        ("90 kPa", A, 9e4),
        ("10 inHg vac", G, -33863.79),
        ("60 °F", T, 288.7056),
        ("2 d", S, 172800.0),
        ("3 years", S, 94672800.0),
        ("2026-01-01", Kind.DATE, 1767225600.0),
        ("500 micron", A, 66.661),
        ("0 psig", G, 0.0),
    ],
)
def test_literals(text: str, kind: Kind, si: float) -> None:
    value = parse_literal(text)
    assert value.kind is kind
    assert value.si == pytest.approx(si, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("5  dF", "unreadable"),
        ("5dF", "unreadable"),
        ("5,5 dF", "unreadable"),
        ("05 dF", "unreadable"),
        ("1e3 psig", "unreadable"),
        (".5 psi", "unreadable"),
        ("+5 dF", "unreadable"),
        ("", "unreadable"),
        ("dF", "unreadable"),
        ("5 F", "wrong-unit"),
        ("5 °", "wrong-unit"),
        ("5 pisg", "wrong-unit"),
        ("1 lb 4 oz", "wrong-unit"),
        ("-500 °F", "below-absolute-zero"),
        ("-1 psia", "below-absolute-zero"),
        ("2026-02-30", "unreadable"),
        ("5 date", "wrong-unit"),
        ("9" * 5000, "unreadable"),
    ],
)
def test_literals_are_strict(text: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_literal(text)
    assert refused.value.code == code


@given(st.text(max_size=300), st.sampled_from(list(Kind)), st.booleans())
def test_any_text_is_read_or_refused(text: str, kind: Kind, bare: bool) -> None:
    from tui.quantity import default_unit

    with contextlib.suppress(Refused):
        value = parse(text, kind, shown=default_unit(kind) if bare else None, choices=("running", "stopped"))
        assert value != ""


def test_import_is_light() -> None:
    heavy = [
        "asyncio",
        "difflib",
        "datetime",
        "decimal",
        "fractions",
        "json",
        "unicodedata",
        "yaml",
        "textual",
        "rich",
        "CoolProp",
        "hashlib",
        "tui.refrigerant",
        "tui.tree",
    ]
    code = f"import sys, tui.quantity; print([m for m in {heavy!r} if m in sys.modules])"
    root = Path(__file__).resolve().parents[2]
    environment = {**os.environ, "PYTHONPATH": str(root)}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("text", ["11 lb 4", "11 lbs 4", "11lb 4", "11 lb. 4"])
def test_pounds_and_a_bare_number_are_asked_about(text: str) -> None:
    with pytest.raises(Refused) as refused:
        parse(text, Kind.MASS, shown="oz")
    assert f"Did you mean {text} oz?" in refused.value.cure
