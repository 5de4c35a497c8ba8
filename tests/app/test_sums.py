"""Quick sums: the form, what is said at once, what goes into the step's line."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.app.lines import BEGINNING, page, said, typed
from tests.app.typist import enter, shown
from tui.app.modes import Asked
from tui.app.screen import LowsideApp
from tui.app.sums import FORMS, Filled, Surroundings, at_once, converted, quick_sums
from tui.app.talk import Talk
from tui.quantity import Quantity, Refused, parse_literal
from tui.trade import SUMS


def flat(parts: object) -> str:
    from tests.app.lines import text

    return " ".join(text(parts).split())  # type: ignore[arg-type]


def test_every_form_takes_what_its_sums_take() -> None:
    for form in FORMS:
        for _, name, places in form.results:
            kinds = tuple(form.fields[place].kind for place in places)
            assert kinds == SUMS[name].arguments, (form.name, name)


def test_a_form_is_filled_field_by_field(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("sums")
    typed(talk, "3")
    assert isinstance(talk.mode, Filled)
    assert "refrigerant R-134a" in " ".join(page(talk).split()), "of the circuit at hand"
    typed(talk, "18.43 psig")
    typed(talk, "30")
    # R-134a is saturated at 20 °F under 18.43 psig: CoolProp
    assert "superheat 10.2 dF" in page(talk), "0.2 more at 300 ft, for the air is thinner"
    assert "definition" in page(talk), "the source stands beside it"


def test_a_result_goes_into_the_line_of_the_step(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    talk.press("sums")
    typed(talk, "2", "15 °F")
    typed(talk, "use")
    assert isinstance(talk.mode, Asked)
    left = talk.left_over()
    assert left.endswith("psig")
    assert "taken as" in said(talk)


async def test_on_the_screen_it_stands_in_the_line(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f9")
        await enter(pilot, "2")
        await enter(pilot, "15 °F")
        assert "use: " in shown(app, "page")
        await enter(pilot, "use")
        assert app.query_one("#entry").value.endswith("psig")  # type: ignore[attr-defined]


def test_a_slip_is_told_while_it_is_typed(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("sums")
    typed(talk, "3")
    talk.typing("12 oz")
    assert "not yet" in said(talk)
    assert not talk.enter("12 oz")
    assert talk.enter("12")
    assert not talk.enter("minus")


def test_fields_are_turned_through_with_the_arrows(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("sums")
    typed(talk, "3")
    mode = talk.mode
    assert isinstance(mode, Filled)
    before = mode.field.words
    assert talk.turn(1)
    assert mode.field.words != before


@pytest.mark.parametrize("line", ["r134a 18.43 psig", "18.43 psig r134a"])
def test_a_refrigerant_with_a_value_is_looked_up_at_once(line: str) -> None:
    # R-134a is saturated at 20 °F under 18.43 psig: CoolProp
    assert "dew 20 °F" in flat(at_once(line, Surroundings()))


def test_a_value_alone_is_put_into_other_units() -> None:
    # 1 lb is 453.59237 g exactly, NIST Handbook 44
    assert any("453.6 g" in line or "454 g" in line for line in converted("1 lb"))
    assert converted("nothing") == []
    assert "NO" in flat(at_once("nothing", Surroundings()))
    assert "NO" in flat(at_once("r134a nothing", Surroundings()))


def test_what_the_tables_do_not_hold_is_said(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("sums")
    typed(talk, "2", "400 °F")
    assert "NO" in page(talk) or "supercritical" in page(talk)


def test_the_units_of_the_person_are_taken() -> None:
    class Host:
        said = ()
        mark = None
        height = 24

        def say(self, done: str, label: str = "") -> None: ...
        def begin_aside(self, aside: object) -> None:
            self.aside = aside

        def leave_aside(self, mode: object) -> None: ...
        def put_aside(self, mode: object, other: object) -> None: ...

    host = Host()
    known = {"suction": parse_literal("2 barg")}
    assert all(isinstance(value, Quantity) for value in known.values())
    mode = quick_sums(host, Surroundings("SI", None, "R-134a", known), None)  # type: ignore[arg-type]
    mode.enter("3")
    filled = host.aside
    assert isinstance(filled, Filled)
    assert filled.unit == "°C"
    with pytest.raises(Refused, match="no result to use"):
        filled.enter("use")
