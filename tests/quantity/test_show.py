"""Printing, the live echo, what a file keeps, the site's atmosphere."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import (
    Atmosphere,
    Kind,
    KindRefused,
    Quantity,
    Refused,
    Value,
    clock_span,
    echo,
    from_json,
    nearest,
    parse,
    pounds_and_ounces,
    show,
    standard_atmosphere,
    to_absolute,
    to_gauge,
    to_json,
    usual_unit,
)
from tui.quantity.units import ALL


def _typed(text: str, kind: Kind, shown: str | None = None) -> Quantity:
    value = parse(text, kind, shown=shown)
    assert isinstance(value, Quantity)
    return value


@pytest.mark.parametrize(
    ("number", "symbol", "text"),
    [
        (15.2, "psig", "15.2 psig"),
        (12, "psig", "12.0 psig"),
        (150, "psig", "150 psig"),
        (150.26, "psig", "150.3 psig"),
        (-4.9, "psig", "10.0 inHg vac"),
        (10, "inHg vac", "10.0 inHg vac"),
        (-5, "inHg vac", "2.5 psig"),
        (15, "°F", "15 °F"),
        (14.62, "°F", "14.6 °F"),
        (-0.04, "°F", "-0.04 °F"),
        (0, "psig", "0.0 psig"),
        (7, "%", "7 %"),
        (0.98, "oz", "0.98 oz"),
        (1.5, "barg", "1.50 barg"),
        (-0.2, "barg", "-0.20 barg"),
        (-0.3, "kPag", "-0.3 kPag"),
        (500, "micron", "500 micron"),
        (3, "", "3"),
        (5, "dF", "5 dF"),
        (2, "week", "2 weeks"),
        (1, "month", "1 month"),
        (-5, "dF", "-5 dF"),
    ],
)
def test_show(number: float, symbol: str, text: str) -> None:
    assert show(Quantity.of(number, symbol)) == text


def test_show_in_an_asked_for_unit_keeps_the_sign() -> None:
    vacuum = Quantity.of(10, "inHg vac")
    assert show(vacuum, "psig") == "-4.9 psig"
    assert show(vacuum, "barg", digits=3) == "-0.339 barg"
    with pytest.raises(Refused):
        show(vacuum, "psia")


def test_show_keeps_the_digits_that_were_typed() -> None:
    assert show(_typed("12.25 psi", Kind.GAUGE_PRESSURE)) == "12.25 psig"
    assert show(_typed("86.5 kPa", Kind.GAUGE_PRESSURE)) == "86.5 kPag"


def test_no_minus_before_nothing() -> None:
    assert show(Quantity(Kind.TEMPERATURE_DIFFERENCE, -1e-12, "dF")) == "0 dF"
    assert show(Quantity(Kind.GAUGE_PRESSURE, -1e-6, "psig")) == "0.0 psig"


@pytest.mark.parametrize(
    ("text", "kind", "us", "si"),
    [
        (
            "12,5 psi",
            Kind.GAUGE_PRESSURE,
            "12.5 psig = 0.86 barg = 86 kPag",
            "12.5 psig = 0.86 barg = 86 kPag",
        ),
        (
            "1.5 bar",
            Kind.GAUGE_PRESSURE,
            "1.50 barg = 21.8 psig = 150 kPag",
            "1.50 barg = 150 kPag = 21.8 psig",
        ),
        (
            '10"',
            Kind.GAUGE_PRESSURE,
            "10.0 inHg vac = -4.9 psig = -0.34 barg",
            "10.0 inHg vac = -0.34 barg = -4.9 psig",
        ),
        (
            "-3 psi",
            Kind.GAUGE_PRESSURE,
            "-3.0 psig = 6.1 inHg vac = -0.21 barg",
            "-3.0 psig = -0.21 barg = 6.1 inHg vac",
        ),
        ("35F", Kind.TEMPERATURE, "35 °F = 1.7 °C", "35 °F = 1.7 °C"),
        ("2 °C", Kind.TEMPERATURE, "2 °C = 35.6 °F", "2 °C = 35.6 °F"),
        ("10 F", Kind.TEMPERATURE_DIFFERENCE, "10 dF = 5.6 dC", "10 dF = 5.6 dC"),
        ("1 lb 4 oz", Kind.MASS, "20 oz = 1 lb 4 oz = 567 g", "20 oz = 567 g = 1 lb 4 oz"),
        ("90 min", Kind.TIME_SPAN, "90 min = 1 h 30 min", "90 min = 1 h 30 min"),
        ("2026-11-25", Kind.DATE, "2026-11-25 = 25 November 2026", "2026-11-25 = 25 November 2026"),
        ("500 micron", Kind.ABSOLUTE_PRESSURE, "500 micron = 0.1 kPa", "500 micron = 0.1 kPa"),
    ],
)
def test_echo(text: str, kind: Kind, us: str, si: str) -> None:
    assert echo(_typed(text, kind), system="US") == us
    assert echo(_typed(text, kind), system="SI") == si


def test_words_echo_themselves() -> None:
    assert echo("running") == show("running") == "running"


def test_a_long_span_is_shown_in_hours_or_days() -> None:
    spans = [_typed(text, Kind.TIME_SPAN) for text in ("90 min", "1843.4 min", "4000 min", "-4000 min")]
    assert [show(span, usual_unit(span)) for span in spans] == ["90 min", "30.72 h", "2.8 d", "-2.8 d"]
    assert usual_unit(_typed("3 oz", Kind.MASS), "SI") == "g"
    vacuum = [_typed(text, Kind.ABSOLUTE_PRESSURE) for text in ("330 micron", "50 mbar")]
    assert [usual_unit(each, "SI") for each in vacuum] == ["micron", "bara"], "a vacuum is in microns everywhere"


@pytest.mark.parametrize(
    ("ohms", "shown"),
    [(8.1, "8.1 ohm"), (9_000, "9000 ohm"), (20_000, "20 kohm"), (500_000, "0.5 Mohm"), (1.4e6, "1.4 Mohm")],
)
def test_windings_are_shown_in_ohms_and_insulation_in_megohms(ohms: float, shown: str) -> None:
    found = Quantity(Kind.RESISTANCE, ohms)
    assert show(found, usual_unit(found)) == shown


def test_spans_and_pounds_in_words() -> None:
    assert [clock_span(x) for x in (0, 45, 600, 5400, 273600, -60)] == [
        "0 s",
        "45 s",
        "10 min",
        "1 h 30 min",
        "3 d 4 h",
        "-1 min",
    ]
    assert pounds_and_ounces(0.5669904625) == "1 lb 4 oz"
    assert pounds_and_ounces(-0.056699) == "-2 oz"
    assert pounds_and_ounces(0.45359237) == "1 lb"
    assert pounds_and_ounces(0.4535) == "16 oz" or pounds_and_ounces(0.4535) == "1 lb"


def test_stored_as_ucum_with_the_typed_text() -> None:
    assert to_json(_typed("12,5", Kind.GAUGE_PRESSURE, "psig")) == {
        "kind": "gauge pressure",
        "value": "12.5",
        "unit": "[psi]",
        "shown": "psig",
        "gauge": True,
        "typed": "12,5",
    }
    assert to_json(_typed('10" vac', Kind.GAUGE_PRESSURE))["value"] == "-10"  # counts upwards in a file
    stored = to_json(_typed("9 F", Kind.TEMPERATURE_DIFFERENCE))
    assert (stored["unit"], stored["value"], stored["shown"]) == ("K", "5", "dF")
    assert to_json(_typed("2026-11-25", Kind.DATE)) == {
        "kind": "date",
        "value": "2026-11-25",
        "typed": "2026-11-25",
    }
    assert to_json("running") == {"kind": "text", "value": "running"}


@given(
    st.sampled_from([one for one in ALL if one.kind is not Kind.DATE]),
    st.floats(-1e9, 1e9, allow_subnormal=False),
    st.floats(-10, 10),
)
def test_stored_without_loss(one: object, si: float, error: float) -> None:
    from tui.quantity import Unit

    assert isinstance(one, Unit)
    value = Quantity(one.kind, si, one.symbol, "as typed", {"low-gauge": error})
    through = json.loads(json.dumps(to_json(value, errors=True)))
    assert from_json(through) == value
    plain: Value = from_json(to_json(value))
    assert isinstance(plain, Quantity)
    assert plain.errors == {}


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"kind": "mass"},
        {"kind": "weight", "value": "1"},
        {"kind": "mass", "value": 1, "unit": "g"},
        {"kind": "mass", "value": "one", "unit": "g"},
        {"kind": "mass", "value": "nan", "unit": "g"},
        {"kind": "mass", "value": "1", "unit": "psi"},
        {"kind": "mass", "value": "1", "unit": "g", "shown": "psig"},
        {"kind": "mass", "value": "1e999", "unit": "g"},
        {"kind": "mass", "value": "1"},
        {"kind": "date", "value": "never"},
        {"kind": "mass", "value": "1", "unit": "g", "errors": ["x"]},
        {"kind": "mass", "value": "1", "unit": "g", "errors": {"a": "b"}},
        {"kind": "mass", "value": "1", "unit": "g", "typed": 3},
    ],
)
def test_damaged_store_is_refused(data: dict[str, object]) -> None:
    with pytest.raises(Refused) as refused:
        from_json(data)
    assert refused.value.cure


@pytest.mark.parametrize(
    ("altitude", "pa", "tolerance"),
    [
        # ISO 2533:1975 table 5 (geopotential altitude), as carried in the fixtures of metanorma/atmospheric
        (-500, 107478, 0.5),
        (0, 101325, 0.001),
        (50, 100726, 0.5),
        (100, 100129, 0.5),
        (200, 98945.3, 0.05),
        # ISO 2533:1975 table 5, from memory
        (1000, 89874.6, 0.05),
        (2000, 79495.2, 0.05),
        (3000, 70108.5, 0.1),
        (5000, 54019.9, 0.05),
    ],
)
def test_standard_atmosphere(altitude: float, pa: float, tolerance: float) -> None:
    assert standard_atmosphere(altitude) == pytest.approx(pa, abs=tolerance)


@pytest.mark.parametrize("altitude", [-501, 9001, 1e300, float("nan"), float("inf")])
def test_absurd_altitude(altitude: float) -> None:
    with pytest.raises(Refused) as refused:
        standard_atmosphere(altitude)
    assert refused.value.code == "out-of-range"
    assert len(str(refused.value)) < 250


def test_atmosphere_says_where_it_is_from() -> None:
    assert Atmosphere() == Atmosphere(101325.0, "sea level, not set")
    high = Atmosphere.from_altitude(_typed("5000 ft", Kind.LENGTH))
    assert high.source == "altitude 5000 ft"
    # US Standard Atmosphere 1976 at 5,000 ft: 24.90 inHg, from memory
    assert Quantity(Kind.ABSOLUTE_PRESSURE, high.pa).to("inHg") == pytest.approx(24.90, abs=0.01)
    assert (
        Atmosphere.from_barometer(_typed("29.1 inHg", Kind.ABSOLUTE_PRESSURE)).source
        == "barometer 29.10 inHg"
    )
    with pytest.raises(Refused):
        Atmosphere.from_barometer(_typed("2 psia", Kind.ABSOLUTE_PRESSURE))
    with pytest.raises(KindRefused):
        Atmosphere.from_altitude(_typed("5 oz", Kind.MASS))


def test_gauge_to_absolute_and_back_carries_errors() -> None:
    gauge = _typed("12 psi", Kind.GAUGE_PRESSURE).with_error("low-gauge", 2000.0)
    absolute = to_absolute(gauge, Atmosphere())
    assert absolute.to("psia") == pytest.approx(26.696, abs=0.001)
    assert absolute.unit == "psia"
    assert absolute.u == 2000.0
    assert to_gauge(absolute, Atmosphere()).to("psig") == pytest.approx(12)
    with pytest.raises(KindRefused):
        to_absolute(absolute, Atmosphere())


def test_below_full_vacuum_at_this_site() -> None:
    high = Atmosphere.from_altitude(_typed("5000 ft", Kind.LENGTH))
    with pytest.raises(Refused) as refused:
        to_absolute(_typed("27 inHg", Kind.GAUGE_PRESSURE), high)
    assert "altitude 5000 ft" in refused.value.message
    assert to_absolute(_typed("27 inHg", Kind.GAUGE_PRESSURE), Atmosphere()).si > 0


@pytest.mark.parametrize(
    ("word", "words", "found"),
    [
        ("pisg", ["psia", "psig", "barg"], "psig"),
        ("stoped", ["running", "stopped"], "stopped"),
        ("x", ["running"], None),
        ("", ["a"], None),
        ("x" * 5000, ["x"], None),
        ("evaporater-fan", ["condenser-fan", "evaporator-fan"], "evaporator-fan"),
        ("xyzzy", ["alpha", "beta"], None),
    ],
)
def test_nearest(word: str, words: list[str], found: str | None) -> None:
    assert nearest(word, words) == found


def test_a_plain_number_worked_out_next_to_nothing_is_not_a_row_of_zeros() -> None:
    assert show(Quantity(Kind.NUMBER, 0.0000017)) == "under 0.001"
    assert show(Quantity(Kind.NUMBER, 0.02)) == "0.02"
    assert show(Quantity(Kind.NUMBER, 0.0)) == "0"
