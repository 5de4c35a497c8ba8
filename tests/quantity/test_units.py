"""Factors against what is published. Ids (C01, V20, ...) number the checks; the source stands beside each."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tui.quantity import UNITS, Atmosphere, Kind, Quantity, Refused, default_unit, parse, show, unit, units_of
from tui.quantity.units import ALL

UCUM = "ucum-essence.xml of ucum-org/ucum"

# id, kind, symbol, SI value of one, tolerance, source
PUBLISHED = [
    ("C01", Kind.PRESSURE_DIFFERENCE, "psi", 6894.757, 5e-4, f"{UCUM}: [psi] = [lbf_av]/[in_i]2"),
    ("C01", Kind.GAUGE_PRESSURE, "psig", 6894.757, 5e-4, f"{UCUM}: [psi]"),
    ("C01", Kind.ABSOLUTE_PRESSURE, "psia", 6894.757, 5e-4, f"{UCUM}: [psi]"),
    ("C02", Kind.PRESSURE_DIFFERENCE, "bar", 1e5, 0, f"{UCUM}: bar"),
    ("C02", Kind.ABSOLUTE_PRESSURE, "kPa", 1e3, 0, f"{UCUM}: kPa"),
    ("", Kind.GAUGE_PRESSURE, "MPag", 1e6, 0, f"{UCUM}: MPa, prefix mega"),
    ("C03", Kind.ABSOLUTE_PRESSURE, "inHg", 3386.379, 5e-4, f"{UCUM}: m[Hg] 133.3220 kPa by [in_i]/m"),
    ("C03", Kind.GAUGE_PRESSURE, "inHg vac", -3386.379, 5e-4, f"{UCUM}: counted down from atmosphere"),
    ("C04", Kind.ABSOLUTE_PRESSURE, "micron", 0.133322, 0, f"{UCUM}: m[Hg], metric, prefix u"),
    ("C07", Kind.MASS, "lb", 0.45359237, 0, f"{UCUM}: [lb_av] = 7000 gr"),
    ("C07", Kind.MASS, "oz", 0.028349523125, 0, f"{UCUM}: [oz_av] = [lb_av]/16"),
    ("C08", Kind.LENGTH, "in", 0.0254, 0, f"{UCUM}: [in_i]"),
    ("C08", Kind.LENGTH, "ft", 0.3048, 0, f"{UCUM}: [ft_i] = 12 [in_i]"),
    ("C08", Kind.POWER, "Btu/h", 1055.05585262 / 3600, 0, f"{UCUM}: [Btu_IT] 1.05505585262 kJ"),
    ("C09", Kind.TIME_SPAN, "yr", 365.25 * 86400, 0, f"{UCUM}: a is the Julian year"),
    ("", Kind.POWER, "hp", 745.69987158, 1e-7, f"{UCUM}: [HP] = 550 [ft_i].[lbf_av]/s"),
]

CODES = [
    ("C01", "psig", "[psi]"),
    ("C02", "bar", "bar"),
    ("C02", "kPa", "kPa"),
    ("C03", "inHg vac", "[in_i'Hg]"),
    ("C04", "micron", "um[Hg]"),
    ("C05", "°C", "Cel"),
    ("C05", "°F", "[degF]"),
    ("C06", "dF", "K"),
    ("C06", "dC", "K"),
    ("C06", "K", "K"),
    ("C11", "lb", "[lb_av]"),
    ("C11", "oz", "[oz_av]"),
    ("C11", "mmHg", "mm[Hg]"),  # C11: the FHIR value set of common UCUM codes
]


@pytest.mark.parametrize(("check", "kind", "symbol", "si", "tolerance", "source"), PUBLISHED)
def test_published_factor(
    check: str,
    kind: Kind,
    symbol: str,
    si: float,
    tolerance: float,
    source: str,
) -> None:
    assert unit(symbol, kind).factor == pytest.approx(si, rel=1e-15, abs=tolerance), f"{check} {source}"


@pytest.mark.parametrize(("check", "symbol", "code"), CODES)
def test_ucum_code(check: str, symbol: str, code: str) -> None:
    assert UNITS[symbol].ucum == code, check


@pytest.mark.parametrize(
    ("number", "symbol", "other", "expected"),
    [
        (32, "°F", "°C", 0.0),
        (212, "°F", "°C", 100.0),
        (-40, "°F", "°C", -40.0),
        (0, "°C", "K", 273.15),
        (-459.67, "°F", "K", 0.0),
    ],
)  # C05; the fixed points by definition of the two scales
def test_temperature_scales(number: float, symbol: str, other: str, expected: float) -> None:
    assert Quantity.of(number, symbol).to(other) == pytest.approx(expected, abs=1e-9)


def test_a_difference_has_no_offset() -> None:
    assert Quantity.of(9, "dF").to("dC") == pytest.approx(5.0)  # C06


def test_micron() -> None:  # V01: UCUM m[Hg] = 133.322 kPa
    assert Quantity.of(1, "micron").si == pytest.approx(0.133322)


def test_500_micron_in_every_unit() -> None:  # V02: arithmetic on UCUM's m[Hg]
    deep = Quantity.of(500, "micron")
    assert deep.si == pytest.approx(66.66, abs=0.005)
    assert deep.to("mbar") == pytest.approx(0.6666, abs=0.00005)
    assert deep.to("inHg") == pytest.approx(0.01969, abs=0.000005)
    atmosphere = Quantity.of(29.92, "inHg")
    gauge = Quantity(Kind.GAUGE_PRESSURE, deep.si - atmosphere.si)
    assert gauge.to("inHg vac") == pytest.approx(29.90, abs=0.005)


def test_500_micron_and_less_is_a_deep_vacuum() -> None:  # V03: common practice
    assert Quantity.of(500, "micron").si < Quantity.of(1, "mmHg").si


@pytest.mark.parametrize(("vacuum", "psia"), [(4, 12.73), (10, 9.78), (15, 7.33), (25, 2.42)])
def test_vacuum_to_absolute(vacuum: float, psia: float) -> None:  # V20: arithmetic at 29.92 inHg
    from tui.quantity import to_absolute

    here = Atmosphere.from_barometer(Quantity.of(29.92, "inHg"))
    assert to_absolute(Quantity.of(vacuum, "inHg vac"), here).to("psia") == pytest.approx(psia, abs=0.02)


def test_25_mmhg_absolute() -> None:  # V21: arithmetic at 29.92 inHg
    from tui.quantity import to_gauge

    level = Quantity.of(25, "mmHg")
    assert level.to("psia") == pytest.approx(0.483, abs=0.0005)
    here = Atmosphere.from_barometer(Quantity.of(29.92, "inHg"))
    assert to_gauge(level, here).to("inHg vac") == pytest.approx(28.94, abs=0.005)


def test_one_atmosphere() -> None:  # C08: UCUM atm = 101325 Pa
    assert Atmosphere().pa == 101325
    assert Quantity(Kind.ABSOLUTE_PRESSURE, 101325).to("psia") == pytest.approx(14.696, abs=0.0005)


def test_leak_labels_in_grams() -> None:  # L24: arithmetic; SAE J2791's ounces a year are rounded
    for ounces, grams in ((0.15, 4.25), (0.25, 7.09), (0.5, 14.17)):
        assert Quantity.of(ounces, "oz/yr").to("g/yr") == pytest.approx(grams, abs=0.005)


def test_every_kind_has_its_default_units() -> None:
    for kind in Kind:
        for system in ("US", "SI"):
            symbol = default_unit(kind, system)
            if kind in (Kind.TEXT, Kind.CHOICE, Kind.YES_NO):
                assert symbol == ""
                assert units_of(kind) == ()
            else:
                assert unit(symbol, kind) in units_of(kind)


def test_no_symbol_twice_in_a_kind() -> None:
    for kind in Kind:
        symbols = [one.symbol for one in units_of(kind)]
        assert len(symbols) == len(set(symbols))


def test_no_spelling_stands_for_two_units_of_a_kind() -> None:
    for kind in Kind:
        owners: dict[str, str] = {}
        for one in units_of(kind):
            for word in {one.symbol.lower(), *one.spellings}:
                assert owners.setdefault(word, one.symbol) == one.symbol, (kind, word)


def test_difference_units_exist() -> None:
    from tui.quantity import difference_of

    for one in ALL:
        if one.delta:
            assert unit(one.delta, difference_of(one.kind))


def test_unknown_unit_names_the_nearest() -> None:
    with pytest.raises(Refused) as refused:
        unit("pisg")
    assert refused.value.code == "wrong-unit"
    assert "psig" in refused.value.cure


@given(st.sampled_from(ALL), st.floats(-1e6, 1e6))
def test_round_trip_of_every_unit(one: object, number: float) -> None:
    from tui.quantity import Unit

    assert isinstance(one, Unit)
    back = one.from_si(one.to_si(number))
    assert math.isclose(back, number, rel_tol=1e-9, abs_tol=1e-9 + 1e-12 * abs(one.offset / one.factor))


_SAFE = {Kind.TEMPERATURE: (0, 5000), Kind.ABSOLUTE_PRESSURE: (0, 1e6), Kind.GAUGE_PRESSURE: (0, 14)}


@given(st.sampled_from([one for one in ALL if one.kind is not Kind.DATE]), st.data())
def test_every_shown_value_reads_back_to_its_digits(one: object, data: st.DataObject) -> None:
    from tui.quantity import Unit

    assert isinstance(one, Unit)
    low, high = _SAFE.get(one.kind, (-1e6, 1e6))
    if one.symbol == "inHg vac":
        high = 29
    number = data.draw(st.floats(low, high))
    assume(one.kind is not Kind.NUMBER or number == 0 or abs(number) >= 0.001)  # next to nothing is said in words
    value = Quantity(one.kind, one.to_si(number), one.symbol)
    digits = data.draw(st.integers(0, 6))
    text = show(value, one.symbol, digits=digits)
    read = parse(text, one.kind, shown=None)
    assert isinstance(read, Quantity)
    assert read.unit == one.symbol
    assert abs(read.to(one.symbol) - number) <= 0.5001 * 10.0**-digits + 1e-9 * abs(number) + 1e-9
