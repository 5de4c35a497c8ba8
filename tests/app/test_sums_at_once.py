"""Quick sums without a form: a line is answered on the list, a value is told in other units."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.app.adding import FILLED, WITH_INSTRUMENTS, Person
from tui.app.sums import Surroundings
from tui.app.sums.converting import Units
from tui.quantity import Refused


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("r134a 18.43 psig", "R-134a saturated 20 °F"),  # R28
        ("18.43 psig r134a", "R-134a saturated 20 °F"),
        ("R 134a 18.43 psig", "R-134a saturated 20 °F"),
        ("20 °F r290", "R-290 saturated 41.1 psig"),  # R30
        ("propane 20 F", "R-290 saturated 41.1 psig"),
        ("22 40 °F", "R-22 saturated"),
        ("12 bar in psi", "174 psig"),  # C01, C02: 12e5 / 6894.757, ucum-essence.xml
        ("1 lb in g", "453.6 g"),  # C07: 453.59237 g, ucum-essence.xml
        ("500 micron in mbar", "0.7 mbar"),  # V02: 0.6666 mbar
        ("500 micron in inHg vac", "29.9 inHg vac"),  # V02: 29.90 inHg vac at 29.92
        ("4 inHg vac in psia", "12.73 psia"),  # V20
        ("25 inHg vac in psia", "2.42 psia"),  # V20
        ("1/4 in in mm", "6.35 mm"),  # C08: 25.4 mm an inch
        ("32 °F in °C", "0 °C"),
        ("0.5 oz/yr in g/yr", "14.2 g/yr"),  # L24: 14.17 g
    ],
)
def test_a_line_is_answered_at_once(line: str, told: str) -> None:
    person = Person()
    assert told in person.echo(line)
    assert told in person.said(line)


def test_a_number_with_a_unit_is_no_refrigerant() -> None:
    """12 and 22 are refrigerants too."""
    assert "R-12" not in Person().said("12 bar")
    assert "174 psig" in Person().said("12 bar")
    assert "R-22" not in Person().said("22 psig")


def test_a_pressure_alone_is_also_told_for_the_refrigerant_at_hand() -> None:
    told = Person(Surroundings(refrigerant="R-134a")).said("18.43 psig")
    assert "R-134a saturated 20 °F" in told  # R28
    assert "33.13 psia" in told
    assert "R-134a" not in Person(Surroundings(refrigerant="R-134a")).said("14 oz")


@pytest.mark.parametrize(
    ("line", "wrong"),
    [
        ("nothing", "no value with its unit"),
        ("12", "no unit"),
        ("r134a", "at what?"),
        ("r134a 12", "12 of what?"),
        ("r134a nothing", "no number"),
        ("r134a 14 oz", "is a mass"),
        ("r407z 40 F", "Did you mean"),
        ("r744 40 C", "supercritical"),
        ("-500 °F", "below absolute zero"),
        ("12 bar in oz", "is no unit"),
        ("12 bar in", "no value"),
    ],
)
def test_what_cannot_be_answered_is_told_with_the_cure(line: str, wrong: str) -> None:
    person = Person()
    assert wrong in person.echo(line)
    with pytest.raises(Refused):
        person.list.enter(line)


def test_a_value_is_told_as_everything_it_can_be_and_nothing_else() -> None:
    assert "temperature difference" in Person().said("35 °F")
    assert "time span" not in Person().said("12 A"), "A is no year here"
    assert "time span" not in Person().said("10 m"), "m is no minute here"
    told = Person().said("10 inHg")
    assert "-4.9 psig" in told
    assert "absolute" in told


def test_a_result_at_once_can_be_used() -> None:
    person = Person()
    with pytest.raises(Refused, match="no result to use"):
        person.list.enter("use")
    person.type("12 bar in psi", "use")
    assert person.used == ["174 psig"]


def test_a_value_in_other_units_has_a_page_of_its_own() -> None:
    person = Person(Surroundings("SI")).type("units", "14 oz")
    assert isinstance(person.mode, Units)
    assert "396.9 g" in person.page()
    person.type("use")
    assert person.used == ["396.9 g"]
    assert "not yet" in person.echo("14 potatoes")
    with pytest.raises(Refused):
        person.mode.enter("14 potatoes")


# ---- whatever is typed

PIECES = (
    *("r134a", "R-744", "744", "22", "12", "r999", "unlisted", "propane", "use", "use 2", "use 9", "liquid", "units"),
    *("0", "-1", "1e14", "1,234", "12,5", "1/4", "-459.67", "9999999", "nan", "°", "in", "to", "=", "in in", "-"),
    *("psig", "psia", "bar", "inHg vac", "micron", "°F", "K", "dF", "oz", "g/yr", "ft", "mm", "months", "yr", "%"),
    *("suction", "line", "at", "box", "temperature now", "2026-02-30", "2026-01-01", "\N{SNOWMAN}", '"', "#"),
)


@given(st.sampled_from(sorted(FILLED)), st.lists(st.lists(st.sampled_from(PIECES), max_size=4), max_size=6))
@settings(max_examples=60, deadline=None)
def test_nothing_that_is_typed_breaks_it(form: str, lines: list[list[str]]) -> None:
    """On the list, in other units and in every form: a line is taken or refused, and the page always stands."""
    for person in (Person(WITH_INSTRUMENTS), Person().type("units"), Person().type(form, *FILLED[form])):
        for line in (" ".join(pieces) for pieces in lines):
            person.echo(line)
            with suppress(Refused):
                person.type(line)
            assert person.page()
