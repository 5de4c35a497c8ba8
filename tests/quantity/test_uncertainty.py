"""JCGM 100 and JCGM 106 as the walk needs them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import Accuracy, Kind, KindRefused, Quantity, Refused, compare, propagate
from tui.quantity.uncertainty import OWN_SHARE

PSI = 6894.757293168361


def _psi(number: float, **errors: float) -> Quantity:
    return Quantity(Kind.GAUGE_PRESSURE, number * PSI, "psig", "", {k: v * PSI for k, v in errors.items()})


@pytest.mark.parametrize(
    ("text", "kind", "reading", "half"),
    [
        ("0.5 psi", Kind.PRESSURE_DIFFERENCE, 100 * PSI, 0.5 * PSI),
        ("1 % of 250 psi", Kind.PRESSURE_DIFFERENCE, 100 * PSI, 2.5 * PSI),
        ("1 % of 250 psig", Kind.PRESSURE_DIFFERENCE, 100 * PSI, 2.5 * PSI),
        ("10 % of reading", None, 66.661, 6.6661),
        ("1 dF", Kind.TEMPERATURE_DIFFERENCE, 280.0, 5 / 9),
        ("2 g", Kind.MASS, 1.0, 0.002),
        ("1 % of reading + 0.2 ohm", Kind.RESISTANCE, 10.0, 0.3),
    ],
)
def test_accuracy(text: str, kind: Kind | None, reading: float, half: float) -> None:
    accuracy = Accuracy.parse(text)
    assert accuracy.kind is kind
    assert accuracy.half_width(reading) == pytest.approx(half)
    # JCGM 100, 4.3.7: u = a / sqrt(3)
    assert accuracy.standard(reading) == pytest.approx(half / math.sqrt(3))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "unreadable"),
        ("5 %", "unreadable"),
        ("-1 psi", "unreadable"),
        ("1 psig", "wrong-kind"),
        ("1 °F", "wrong-kind"),
        ("5 psi of reading", "wrong-kind"),
        ("1 % of 50 °F", "wrong-kind"),
        ("1 psi + 1 dF", "wrong-kind"),
        ("1 % of", "wrong-unit"),
        ("1 % of readings", "unreadable"),
        ("1 pis", "wrong-unit"),
        ("3", "unreadable"),
    ],
)
def test_accuracy_refused(text: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        Accuracy.parse(text)
    assert refused.value.code == code, str(refused.value)


def test_accuracy_fits_its_reading() -> None:
    assert Accuracy.parse("0.5 psi").fits(Kind.GAUGE_PRESSURE)
    assert Accuracy.parse("1 dF").fits(Kind.TEMPERATURE)
    assert not Accuracy.parse("1 dF").fits(Kind.GAUGE_PRESSURE)
    assert not Accuracy.parse("1 % of reading").fits(Kind.TEMPERATURE)
    assert Accuracy.parse("1 % of reading").fits(Kind.CURRENT)


def test_root_sum_square_and_coverage() -> None:  # JCGM 100, 5.1.2 and 6.2.1
    value = _psi(10, gauge=3, table=4)
    assert value.u == pytest.approx(5 * PSI)
    assert pytest.approx(10 * PSI) == value.U


def test_one_gauge_used_twice_cancels() -> None:
    fall = _psi(20, gauge=0.3) - _psi(12, gauge=0.3)
    assert fall.u == pytest.approx(0, abs=1e-9)
    assert (_psi(20, low=0.3) - _psi(12, high=0.4)).u == pytest.approx(0.5 * PSI)


@given(st.floats(1, 1e6), st.floats(1, 1e6), st.floats(-100, 100))
def test_errors_of_one_source_cancel(x: float, y: float, error: float) -> None:
    one = Quantity(Kind.MASS, x, "", "", {"scale": error})
    two = Quantity(Kind.MASS, y, "", "", {"scale": error})
    assert (one - two).u <= 1e-9 * abs(error)
    assert (one + two).u == pytest.approx(2 * abs(error))


@given(st.floats(1, 100), st.floats(1, 100), st.floats(0, 0.1), st.floats(0, 0.1))
def test_products_carry_relative_errors(x: float, y: float, a: float, b: float) -> None:
    """JCGM 100, 5.1.6: relative variances add in products and quotients of independent values."""
    density = Quantity(Kind.DENSITY, x, "", "", {"table": a * x})
    volume = Quantity(Kind.VOLUME, y, "", "", {"bore": b * y})
    mass = density * volume
    assert mass.u == pytest.approx(mass.si * math.hypot(a, b), abs=1e-12)
    back = mass / volume
    assert back.si == pytest.approx(x)
    assert back.u == pytest.approx(a * x, abs=1e-9)


@given(st.floats(1, 50), st.floats(0.001, 0.2))
def test_propagate_agrees_with_the_derivative(x: float, u: float) -> None:
    value = Quantity(Kind.TEMPERATURE, x, "", "", {"clamp": u, "table": -u / 2})
    result = propagate(Kind.ABSOLUTE_PRESSURE, lambda t: t * t, value, unit="kPa")
    assert result.si == pytest.approx(x * x)
    assert result.unit == "kPa"
    assert result.errors["clamp"] == pytest.approx(2 * x * u)
    assert result.errors["table"] == pytest.approx(-x * u)


def test_propagate_near_a_limit_takes_the_side_there_is() -> None:
    def only_below(x: float) -> float:
        if x > 10:
            raise Refused("above-table", "too high")
        return 3 * x

    result = propagate(Kind.NUMBER, only_below, Quantity(Kind.NUMBER, 10.0, errors={"a": 0.5}))
    assert result.errors["a"] == pytest.approx(1.5)

    def only_here(x: float) -> float:
        if x != 10:
            raise Refused("above-table", "too high")
        return x

    with pytest.raises(Refused):
        propagate(Kind.NUMBER, only_here, Quantity(Kind.NUMBER, 10.0, errors={"a": 0.5}))


def test_propagate_of_two_with_one_source() -> None:
    one = Quantity(Kind.NUMBER, 4.0, errors={"meter": 0.1})
    two = Quantity(Kind.NUMBER, 3.0, errors={"meter": 0.1})
    assert propagate(Kind.NUMBER, lambda a, b: a - b, one, two).u == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "error", "verdict", "close", "other"),
    [
        (8, 0.2, "low", False, None),
        (9.7, 0.2, "low", True, "on"),
        (10, 0.0, "on", False, None),
        (10.3, 0.2, "on", True, "low"),
        (15, 0.2, "on", False, None),
        (19.7, 0.2, "on", True, "high"),
        (20, 0.0, "on", False, None),
        (20.3, 0.2, "high", True, "on"),
        (25, 0.2, "high", False, None),
        (10.4, 0.2, "on", False, None),  # JCGM 106: the margin must be inside U = 2 u; 0.4 is not below 0.4
    ],
)
def test_compare(value: float, error: float, verdict: str, close: bool, other: str | None) -> None:
    found = compare(_psi(value, gauge=error), _psi(10), _psi(20))
    assert (found.verdict, found.close, found.other) == (verdict, close, other)
    assert found.margin.kind is Kind.PRESSURE_DIFFERENCE
    assert found.u == pytest.approx(error * PSI)


def test_compare_gives_the_signed_margin_to_the_nearest_edge() -> None:
    assert compare(_psi(12), _psi(10), _psi(20)).margin.to("psi") == pytest.approx(2)
    assert compare(_psi(19), _psi(10), _psi(20)).margin.to("psi") == pytest.approx(-1)
    assert compare(_psi(7), _psi(10), None).margin.to("psi") == pytest.approx(-3)


def test_compare_with_one_side() -> None:
    assert compare(_psi(5), None, _psi(20)).verdict == "on"
    assert compare(_psi(25), None, _psi(20)).verdict == "high"
    assert compare(_psi(25), _psi(20), None).verdict == "on"
    with pytest.raises(ValueError):
        compare(_psi(5), None, None)


def test_a_coarse_gauge_leaves_every_verdict_open() -> None:
    found = compare(_psi(9, gauge=8), _psi(10), _psi(14))
    assert found.verdict == "low"
    assert found.other == "on"
    assert found.others == ("on", "high")


def test_compare_ignores_rounding_at_the_edge() -> None:
    share = Quantity.of(4, "oz") / Quantity.of(20, "oz")
    assert compare(share, None, Quantity.of(20, "%")).verdict == "on"
    assert (
        compare(Quantity.of(0.1, "dC") + Quantity.of(0.2, "dC"), None, Quantity.of(0.3, "dC")).verdict == "on"
    )


def test_compare_cancels_the_shared_instrument() -> None:
    found = compare(_psi(9.9, gauge=1), _psi(10, gauge=1), None)
    assert found.verdict == "low"
    assert not found.close


def test_compare_refuses_other_kinds() -> None:
    with pytest.raises(KindRefused):
        compare(_psi(5), Quantity.of(5, "psia"), None)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0 psi", "never wrong"),
        ("0 dF", "never wrong"),
        ("0.0 g", "never wrong"),
        ("0 % of reading", "never wrong"),
        ("0 % of 250 psi", "never wrong"),
        ("0 psi + 0 % of reading", "never wrong"),
        ("0.00001 psi", "never wrong"),
        ("-0.5 psi", "from zero up"),
        ("101 psi", "at most 100 psi"),
        ("50 % of 500 psi", "at most 100 psi"),
        ("40 dF", "at most 36 dF"),
        ("100 % of reading", "less than 100 %"),
        ("0.5 psi + 250 % of reading", "less than 100 %"),
    ],
)
def test_what_no_instrument_can_be_good_to_is_refused_where_it_is_declared(text: str, said: str) -> None:
    with pytest.raises(Refused) as refused:
        Accuracy.declared(text)
    assert said in f"{refused.value.message} {refused.value.cure}"
    assert "0.5 psi" in refused.value.cure


@pytest.mark.parametrize("text", ["0.5 psi", "1 % of 250 psi", "10 % of reading", "0.1 g", "0.02 dC", "36 dF"])
def test_what_instruments_are_good_to_is_taken(text: str) -> None:
    assert Accuracy.declared(text) == Accuracy.parse(text)


READ = st.floats(-1e6, 1e6)
HALF = st.floats(1e-3, 1e3)


def _two_readings(half: float, x: float, y: float) -> tuple[Quantity, Quantity, Accuracy]:
    good_to = Accuracy(half, 0.0, Kind.MASS, "")
    one, two = (
        Quantity(Kind.MASS, si, "", "", good_to.contributions(si, "scale", f"scale#own {n}"))
        for n, si in enumerate((x, y))
    )
    return one, two, good_to


@given(st.floats(0, 1e3), st.floats(0, 0.2), READ)
def test_what_is_a_readings_own_changes_nothing_of_its_error(fixed: float, relative: float, si: float) -> None:
    good_to = Accuracy(fixed, relative, Kind.MASS, "")
    found = good_to.contributions(si, "scale", "scale#own 1")
    assert math.hypot(*found.values()) == pytest.approx(good_to.standard(si), rel=1e-9, abs=1e-12)


@given(HALF, READ, READ)
def test_a_difference_is_between_one_error_throughout_and_none_in_common(half: float, x: float, y: float) -> None:
    one, two, good_to = _two_readings(half, x, y)
    u = good_to.standard(x)
    assert 0.1 * u < (one - two).u < math.sqrt(2) * u
    assert u * math.sqrt(2) < (one + two).u < 2 * u


@given(HALF, READ, READ)
def test_a_difference_has_the_share_that_is_said(half: float, x: float, y: float) -> None:
    """JCGM 100, 5.2.2: u squared of a difference of two, each u, is 2 u squared times (1 - r)."""
    one, two, good_to = _two_readings(half, x, y)
    assert (one - two).u == pytest.approx(good_to.standard(x) * math.sqrt(2 * OWN_SHARE), rel=1e-6)


@given(st.floats(0.001, 0.2), st.floats(1, 1e3))
def test_a_share_of_the_reading_is_the_scales(relative: float, si: float) -> None:
    """Two equal readings of one voltmeter are equally wrong."""
    good_to = Accuracy(0.0, relative, None, "")
    one, two = (Quantity(Kind.VOLTAGE, si, "", "", good_to.contributions(si, "meter", f"own {n}")) for n in (1, 2))
    assert (one - two).u == pytest.approx(0, abs=1e-9 * si)


@given(st.floats(-20, 20), st.sampled_from([-1.0, 1.0]))
def test_one_wrong_by_twice_its_instrument_never_turns_a_difference_unseen(apart: float, sign: float) -> None:
    """Limit 0, clamps good to 1: before or after, the verdict is close, or it is the same."""
    one, two, _ = _two_readings(1.0, apart, 0.0)
    wrong, _, _ = _two_readings(1.0, apart + 2.0 * sign, 0.0)
    limit = Quantity(Kind.MASS, 0.0)
    before, after = compare(one - two, limit, None), compare(wrong - two, limit, None)
    assert before.verdict == after.verdict or before.close or after.close or abs(abs(apart) - 1.0) < 1e-6
