"""Which kinds go together, and that sums of quantities obey the same table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity import Kind, KindRefused, Quantity, Refused, kind_of, negative_of

T, DT, G, A = Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE
P, M, N, R = Kind.PRESSURE_DIFFERENCE, Kind.MASS, Kind.NUMBER, Kind.RATIO
NUMERIC = [kind for kind in Kind if kind not in (Kind.TEXT, Kind.CHOICE, Kind.YES_NO)]


@pytest.mark.parametrize(
    ("left", "operator", "right", "result"),
    [
        (T, "-", T, DT),
        (T, "+", DT, T),
        (DT, "+", T, T),
        (T, "-", DT, T),
        (T, "+", T, None),
        (DT, "-", T, None),
        (G, "-", G, P),
        (G, "+", P, G),
        (G, "-", P, G),
        (G, "+", G, None),
        (G, "*", N, None),
        (N, "*", G, None),
        (G, "/", G, None),
        (G, "+", A, None),
        (G, "-", A, None),
        (A, "-", G, None),
        (A, "-", A, P),
        (A, "/", A, R),
        (T, "*", N, None),
        (T, "/", T, None),
        (P, "+", P, P),
        (M, "+", M, M),
        (M, "+", DT, None),
        (M, "/", M, R),
        (R, "*", M, M),
        (M, "*", R, M),
        (N, "*", M, M),
        (M, "/", N, M),
        (N, "*", N, N),
        (N, "/", N, N),
        (R, "*", R, R),
        (N, "*", R, R),
        (M, "/", Kind.TIME_SPAN, Kind.LEAK_RATE),
        (Kind.LEAK_RATE, "*", Kind.TIME_SPAN, M),
        (M, "/", Kind.LEAK_RATE, Kind.TIME_SPAN),
        (M, "/", Kind.VOLUME, Kind.DENSITY),
        (Kind.DENSITY, "*", Kind.VOLUME, M),
        (M, "/", Kind.DENSITY, Kind.VOLUME),
        (Kind.DATE, "-", Kind.DATE, Kind.TIME_SPAN),
        (Kind.DATE, "+", Kind.TIME_SPAN, Kind.DATE),
        (Kind.DATE, "+", Kind.DATE, None),
        (Kind.DATE, "*", N, None),
        (Kind.VOLTAGE, "*", Kind.CURRENT, Kind.POWER),
        (Kind.VOLTAGE, "/", Kind.CURRENT, Kind.RESISTANCE),
        (Kind.VOLTAGE, "/", Kind.RESISTANCE, Kind.CURRENT),
        (Kind.POWER, "/", Kind.VOLTAGE, Kind.CURRENT),
        (Kind.TEXT, "+", Kind.TEXT, None),
        (Kind.CHOICE, "-", N, None),
        (M, "*", M, None),
        (N, "+", R, None),
    ],
)
def test_table(left: Kind, operator: str, right: Kind, result: Kind | None) -> None:
    assert kind_of(operator, left, right) is result


def _do(operator: str, left: Quantity, right: Quantity) -> Quantity:
    if operator == "+":
        return left + right
    if operator == "-":
        return left - right
    return left * right if operator == "*" else left / right


@given(
    st.sampled_from("+-*/"),
    st.sampled_from(NUMERIC),
    st.sampled_from(NUMERIC),
    st.floats(0.1, 1e5),
    st.floats(0.1, 1e5),
)
def test_sums_obey_the_table(operator: str, left: Kind, right: Kind, x: float, y: float) -> None:
    kind = kind_of(operator, left, right)
    one, two = Quantity(left, x), Quantity(right, y)
    if kind is None:
        with pytest.raises(KindRefused) as refused:
            _do(operator, one, two)
        assert refused.value.code == "wrong-kind"
        assert left.value in refused.value.message.lower()
    else:
        result = _do(operator, one, two)
        assert result.kind is kind
        assert result.si == {"+": x + y, "-": x - y, "*": x * y, "/": x / y}[operator]
        str(result)


@given(st.sampled_from("+*"), st.sampled_from(NUMERIC), st.sampled_from(NUMERIC))
def test_sum_and_product_commute(operator: str, left: Kind, right: Kind) -> None:
    assert kind_of(operator, left, right) is kind_of(operator, right, left)


@given(st.sampled_from(NUMERIC), st.sampled_from(NUMERIC))
def test_a_quotient_times_its_divisor_is_the_dividend(left: Kind, right: Kind) -> None:
    quotient = kind_of("/", left, right)
    if quotient is not None and (left, right) != (Kind.NUMBER, Kind.RATIO):  # a number by a share is a share again
        assert kind_of("*", quotient, right) is left


@given(st.sampled_from(NUMERIC), st.sampled_from(NUMERIC))
def test_a_difference_added_again_is_the_first(left: Kind, right: Kind) -> None:
    difference = kind_of("-", left, right)
    if difference is not None:
        assert kind_of("+", difference, right) is left


def test_results_are_shown_in_the_unit_of_what_went_in() -> None:
    assert str(Quantity.of(35, "°F") - Quantity.of(15, "°F")) == "20 dF"
    assert str(Quantity.of(5, "°C") - Quantity.of(2, "°C")) == "3 dC"
    assert str(Quantity.of(15, "psig") - Quantity.of(8, "psig")) == "7.0 psi"
    assert str(Quantity.of(2, "barg") - Quantity.of(1.5, "barg")) == "0.50 bar"
    assert str(Quantity.of(35, "°F") - Quantity.of(20, "dF")) == "15 °F"
    assert str(Quantity.of(7, "%") * Quantity.of(14, "oz")) == "0.98 oz"
    assert str(2 * Quantity.of(14, "oz")) == "28 oz"


def test_division_by_nothing_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        Quantity.of(5, "oz") / Quantity.of(0, "oz")
    assert refused.value.code == "divided-by-zero"


def test_too_large_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        Quantity(N, 1e300) * Quantity(N, 1e300)
    assert refused.value.code == "out-of-range"


def test_points_have_no_opposite() -> None:
    assert (-Quantity.of(5, "dF")).si == -Quantity.of(5, "dF").si
    for kind in (T, G, A, Kind.DATE):
        assert negative_of(kind) is None
        with pytest.raises(KindRefused):
            -Quantity(kind, 1.0)


def test_gauge_with_absolute_points_to_the_atmosphere() -> None:
    with pytest.raises(KindRefused) as refused:
        Quantity.of(5, "psig") - Quantity.of(5, "psia")
    assert "atmosphere" in refused.value.cure


def test_a_quantity_can_be_a_key() -> None:
    assert len({Quantity.of(5, "psig"), Quantity.of(5, "psig").with_error("gauge", 1.0)}) == 2
