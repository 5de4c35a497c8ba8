"""Quick sums: the list, the forms, what goes into the step's line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.app.adding import FILLED, WITH_INSTRUMENTS, Person, flat
from tests.app.lines import BEGINNING, page, said, typed
from tests.app.typist import begun, bundled, enter, shown
from tui.app.modes import Asked
from tui.app.screen import LowsideApp, page_height
from tui.app.sheet import laid_out
from tui.app.sums import Surroundings, around_of, quick_sums, working
from tui.app.sums.forms import FORMS
from tui.app.talk import Talk
from tui.quantity import Atmosphere, Kind, Quantity, Refused, parse_literal
from tui.refrigerant import ids
from tui.trade import SUMS

# ---- the forms as data


def test_every_form_takes_what_its_sums_take() -> None:
    for form in FORMS:
        fields = {each.name: each for each in form.fields}
        for result in form.results:
            for name, argument in zip(result.needs, SUMS[result.sum].arguments, strict=True):
                assert any(working.takes(argument, kind) for kind in fields[name].kinds), (form.name, name)


def test_what_is_put_in_beforehand_are_readings_and_figures_of_that_kind() -> None:
    catalogue = bundled().catalogue
    for field in (each for form in FORMS for each in form.fields if each.known and each.known != "altitude"):
        for name in field.known.split():
            found = catalogue.readings.get(name) or catalogue.figures[name]
            assert found.kind in field.kinds, name
    for field in (each for form in FORMS for each in form.fields if each.with_):
        assert field.with_ in catalogue.instruments
        for known in filter(None, map(catalogue.readings.get, field.known.split())):
            assert known.instrument in (field.with_, None), known.id


@pytest.mark.parametrize("name", [form.name for form in FORMS])
def test_a_filled_form_fits_a_small_screen(name: str) -> None:
    """With all instruments and a name to use each result by: 80x24, nothing to turn."""
    person = Person(WITH_INSTRUMENTS).type(name, *FILLED[name])
    view = person.form.view(80)
    lines = laid_out(view.parts, 80)
    assert all(person.form.values[field.name] is not None for field in person.form.fields)
    hints = [hint_of(person, place) for place in range(len(person.form.fields))]
    assert max(len(hint) for hint in hints) <= 40, hints
    assert len(lines) <= page_height(24, view), "\n".join(line.content.plain for line in lines)
    assert "NO" not in person.page()
    assert "use 1" in person.page()


def hint_of(person: Person, place: int) -> str:
    person.host.mark = place
    return person.form.view(80).hint


def test_the_list_fits_a_small_screen() -> None:
    view = Person().list.view(80)
    assert len(laid_out(view.parts, 80)) + len(view.choices) + 1 <= page_height(24, view)
    assert len(view.choices) <= 9, "one digit each"


# ---- the sums


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("18.43 psig", "saturated 20 °F"),  # R28, by the property library
        ("20 °F", "saturated 18.4 psig"),  # R28
        ("33.13 psia", "saturated 20 °F"),  # R28 with 14.696 psi of air
    ],
)
def test_saturation_goes_both_ways(at: str, told: str) -> None:
    person = Person().type("saturation", "r134a", at)
    assert told in person.page()
    assert "glide" not in person.page(), "a single fluid has none"


def test_a_blend_has_dew_bubble_and_glide() -> None:
    # R32: 204.5 psig bubble at 90 °F, R29: 55.3 psig dew at 20 °F, by the property library
    assert "bubble 204." in Person().type("saturation", "r404a", "90 °F").page()
    assert "dew 55." in Person().type("saturation", "r404a", "20 °F").page()
    assert "glide" in Person().type("saturation", "r455a", "12 psig").page()


@pytest.mark.parametrize("refrigerant", ids())
def test_every_refrigerant_that_is_carried_has_its_saturation(refrigerant: str) -> None:
    person = Person().type("saturation", refrigerant, "75 °F")
    assert "NO" not in person.page()
    assert "psig" in person.page()


def test_what_is_only_estimated_says_so() -> None:
    assert "estimated, good to 2 dF" in Person().type("saturation", "r401a").page()
    assert "good to 1.1 dC" in Person(Surroundings("SI")).type("saturation", "r401a").page()


def test_superheat_and_subcooling_of_a_worked_case() -> None:
    # R05, common practice: 1.8 psig and 30 °F are superheat 40; 95 psig and 70 °F subcooling 15
    assert "superheat 40." in Person().type("superheat", "r134a", "1.8", "30").page()
    assert "subcooling 14.9 dF" in Person().type("subcooling", "r134a", "95", "70").page()


def test_wanted_suction_and_head() -> None:
    # Common practice, no source: 35 °F box, TD 20 dF about 15 psig; 75 °F air, split 30 dF about 135 psig
    person = Person().type("wanted", "r134a", "35", "20")
    assert "suction wanted 15.0 psig" in person.page()
    assert "head" not in person.page().replace("Wanted suction and head", ""), "not yet"
    assert "head wanted 135" in person.type("75", "30").page()


def test_a_wanted_suction_in_vacuum_is_told_as_one() -> None:
    # R31: R-600a at 0 °F is 6.4 inHg vac, by the property library
    assert "6.4 inHg vac" in Person().type("wanted", "r600a", "20", "20").page()


def test_what_a_hose_holds_goes_by_what_is_in_it() -> None:
    # H07: 5 ft of 1/4 in bore full of liquid R-134a at 77 °F hold 58.2 g, by the property library
    person = Person(Surroundings("SI")).type("hose", "r134a", "5 ft", "1/4 in")
    assert "pressure" in [field.name for field in person.form.fields]
    person.type("liquid", "77 °F")
    assert "pressure" not in [field.name for field in person.form.fields]
    assert "it holds 58.2 g" in person.page()
    assert "48.3 mL" in person.page(), "H02: 9.65 mL a foot, pi d^2/4"


def test_a_leak_rate_over_a_time_or_since_a_day() -> None:
    # E03, achrnews.com, EPA requirements for leak repair: 5 lb of 100 lb in a month are 60 lb, 60 % a year
    person = Person().type("leak", "5 lb", "1", "100 lb")
    assert "leaks 60 lb/yr" in person.page()
    assert "60 %" in person.page()
    since = Surroundings(today=date(2026, 11, 25))
    assert "leaks 730.5 g/yr" in Person(since).type("leak", "600 g", "2026-01-29").page(), "300 of 365.25 days"
    assert "No time has passed" in Person(since).type("leak", "60 g", "2026-11-25").page()


def test_nitrogen_is_expected_as_a_real_gas() -> None:
    # N06: 500 psig at 80 °F are 489.68 psig at 70 °F, by the equation of state of nitrogen
    assert "expected now 489.7 psig" in Person().type("nitrogen", "500", "80", "70").page()


@pytest.mark.parametrize(
    ("held", "told"),
    [
        ("146.5", "no more than the instruments can tell"),
        ("143", "It has lost nitrogen"),
        ("150", "warmer than measured"),
    ],
)
def test_a_hold_is_told_against_what_the_gauges_can_tell(held: str, told: str) -> None:
    # N11: 146.8 psig or so is tight; gauge 0.5 psi and clamp 1 dF (0.3 psi, N08), each twice, are good to 1.0 psi
    page = Person(WITH_INSTRUMENTS).type("nitrogen", "150", "80", "70", held).page()
    assert told in page
    assert "±1.0 psi" in page


def test_without_instruments_a_hold_has_no_verdict() -> None:
    page = Person().type("nitrogen", "150", "80", "70", "143").page()
    assert "no verdict" in page
    assert "lost" not in page


def test_air_pressure_at_a_height() -> None:
    # ISO 2533 at 1,524 m: 84,307 Pa
    page = Person().type("air", "5000").page()
    assert "12.23 psia" in page
    assert "843.1 mbar" in page


# ---- filling in


def test_instruments_are_carried_and_named() -> None:
    page = Person(WITH_INSTRUMENTS).type("superheat", "r134a", "12", "35").page()
    assert "(±1.5 dF)" in page  # R28: 0.73 psi a degree; 0.5 psi and 1 dF, rectangular, coverage factor 2
    assert "± by low gauge 0.5 psi, clamp 1 dF; coverage factor 2" in page
    assert "± by" not in Person().type("superheat", "r134a", "12", "35").page()


def test_a_reading_keeps_the_error_that_its_instrument_had() -> None:
    """The gauge was zeroed since: the reading from before is no better for it. Half-widths as JCGM 100, 4.3.7."""
    old = Quantity.of(12, "psig").with_error("low-gauge", parse_literal("0.5 psi").si / 3**0.5)
    zeroed = Surroundings(refrigerant="R-134a", known={"suction": old}, good_to={"low-gauge": "0.25 psi"})
    assert "low gauge 0.5 psi" in Person(zeroed).type("superheat", "35").page()
    assert "low gauge 0.25 psi" in Person(zeroed).type("superheat", "suction 12", "35").page()


def test_each_result_has_its_sum_in_words() -> None:
    page = Person().type("wanted", "r134a", "35", "20", "75", "30").page()
    assert "box less TD" in page
    assert "air plus split" in page
    assert page.count("common practice") == 1


def test_the_air_here_counts_and_is_named() -> None:
    high = Surroundings(atmosphere=Atmosphere.from_altitude(parse_literal("5000 ft")))
    page = Person(high).type("superheat", "r134a", "18.43", "20").page()
    assert "superheat 0 dF" not in page
    assert "air: altitude 5000 ft" in page
    assert "air: sea level, not set" in Person().type("superheat").page()


def test_a_field_is_gone_to_by_its_name_with_or_without_its_value() -> None:
    person = Person().type("superheat", "line 35", "refrigerant r134a")
    assert person.form.field.name == "suction", "the only one empty"
    person.type("refrigerant")
    assert person.form.field.name == "refrigerant"
    person.type("suction 12")
    assert "superheat 2" in person.page()
    assert Person().type("nitrogen", "temperature now 70").form.values["now"] == Quantity(
        Kind.TEMPERATURE, parse_literal("70 °F").si, "°F", "70"
    )


def test_enter_alone_goes_to_the_next_field() -> None:
    person = Person().type("superheat")
    assert person.form.field.name == "refrigerant"
    assert person.type("").form.field.name == "suction"
    person.host.mark = 2  # Down, or a click
    assert person.type("").form.field.name == "line"
    assert person.type("").form.field.name == "refrigerant"


def test_what_is_typed_is_told_at_once_with_what_comes_of_it() -> None:
    person = Person().type("superheat", "r134a", "18.43")
    told = person.echo("30")
    assert "taken as 30 °F" in told
    assert "superheat 10 dF" in told, "R28: 20 °F at 18.43 psig, by the property library"
    assert "·" in person.page(), "nothing counts before Enter"


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("12 oz", "is a mass; a gauge pressure is asked for"),
        ("12 bananas", "is no unit"),
        ("-20 psig", "below a perfect vacuum"),
        ("1,234", "can be"),
        ("minus", "holds no number"),
    ],
)
def test_a_slip_is_told_while_it_is_typed_and_not_taken(typed: str, wrong: str) -> None:
    person = Person().type("superheat", "r134a")
    assert person.echo(typed).startswith("not yet")
    assert wrong in person.echo(typed)
    with pytest.raises(Refused):
        person.form.enter(typed)
    assert person.form.values["suction"] is None


def test_a_vacuum_that_this_air_does_not_allow_is_refused() -> None:
    high = Surroundings(atmosphere=Atmosphere.from_altitude(parse_literal("5000 ft")))
    assert "below a perfect vacuum" in Person(high).type("superheat", "r134a").echo("26 inHg vac")


def test_what_the_tables_do_not_hold_is_said_in_the_form() -> None:
    assert "supercritical" in Person().type("saturation", "r744", "100 °F").page()
    assert Person().type("saturation", "r744", "100 °F").page().count("supercritical") == 1, "once"


def test_a_refrigerant_unknown_to_the_tables_is_not_put_in() -> None:
    assert Person(Surroundings(refrigerant="unlisted")).type("superheat").form.values["refrigerant"] is None


def test_the_units_of_the_person_are_taken() -> None:
    known = {"suction": parse_literal("2 barg")}
    person = Person(Surroundings("SI", None, "R-134a", known)).type("superheat")
    assert person.form.unit == "°C"
    assert "superheat" in person.type("5").page()


# ---- using a result


def test_a_result_is_used_by_its_number() -> None:
    person = Person().type("wanted", "r134a", "40", "20", "75", "30")
    person.type("use", "use 2")
    assert person.used[0] == "18.4 psig"  # R28
    assert person.used[1] == "135 psig"  # R33
    with pytest.raises(Refused, match="no result 3"):
        person.form.enter("use 3")


def test_nothing_is_used_before_there_is_anything_nor_without_a_step() -> None:
    with pytest.raises(Refused, match="no result to use"):
        Person().type("wanted").form.enter("use")
    person = Person(step=False).type("air", "5000")
    assert "use 1" not in person.page()
    with pytest.raises(Refused, match="no step"):
        person.form.enter("use")


@pytest.mark.parametrize("form", [name for name in FILLED if name not in ("leak", "hose")])
def test_what_is_used_can_be_read_again(form: str) -> None:
    person = Person(WITH_INSTRUMENTS).type(form, *FILLED[form], "use")
    assert isinstance(parse_literal(person.used[0]), Quantity)


# ---- at a visit


def test_a_visit_puts_in_what_it_knows(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    around = around_of(talk.walk)
    assert around.refrigerant == "R-134a"
    assert around.air.source == "altitude 300 ft"
    talk.press("sums")
    typed(talk, "3")
    assert "refrigerant R-134a" in " ".join(page(talk).split()), "of the circuit at hand"
    typed(talk, "18.43 psig", "30")
    assert "superheat 10.2 dF" in page(talk), "R28; 0.2 more at 300 ft, for the air is thinner"
    assert "definition" in page(talk), "the source stands beside it"


def test_a_visit_knows_its_instruments_and_the_figures_of_its_class() -> None:
    visit = begun(bundled(), "both-low")
    assert "evaporator-td" not in around_of(visit.walk).known
    visit.walk.tell("equipment", "reach-in cooler")
    visit.walk.tell("nameplate-charge", "14 oz")
    around = around_of(visit.walk)
    assert around.good_to["low-gauge"] == "0.5 psi"
    assert around.known["evaporator-td"].to("dF") == pytest.approx(20)
    assert around.known["nameplate-charge"].to("oz") == pytest.approx(14)


def test_a_result_goes_into_the_line_of_the_step(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    talk.press("sums")
    typed(talk, "1", "15 °F")
    typed(talk, "use")
    assert isinstance(talk.mode, Asked)
    left = talk.left_over()
    assert left.endswith("psig")
    assert "taken as" in said(talk)


def test_escape_goes_back_to_the_list_then_to_the_step(talk: Talk) -> None:
    typed(talk, *BEGINNING[:2])
    talk.press("sums")
    typed(talk, "3")
    talk.escape()
    assert "Which sum?" in page(talk)
    talk.escape()
    assert isinstance(talk.mode, Asked)


async def test_on_the_screen_fields_are_gone_through_with_the_arrows(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f9")
        await enter(pilot, "3")
        assert "> suction" in " ".join(shown(app, "page").split())
        await pilot.press("down")
        assert "> line at the outlet" in " ".join(shown(app, "page").split())
        await pilot.press(*"35")
        assert "taken as" in shown(app, "said")
        await pilot.press("enter")
        assert "> suction" in " ".join(shown(app, "page").split()), "the one still empty"
        await pilot.press("up")
        assert "> refrigerant" in " ".join(shown(app, "page").split())
        assert "R-1234yf" in shown(app, "said"), "those that are carried"


async def test_on_the_screen_it_stands_in_the_line(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        talk.aside = quick_sums(talk, around_of(talk.walk), talk.use)
        await enter(pilot, "saturation")
        await enter(pilot, "15 °F")
        assert "use 1" in shown(app, "page")
        await enter(pilot, "use")
        assert app.query_one("#entry").value.endswith("psig")  # type: ignore[attr-defined]


async def test_a_click_on_a_field_goes_to_it(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING[:-1])
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f9")
        await enter(pilot, "3")
        row = next(n for n, line in enumerate(shown(app, "page").splitlines()) if "line at the outlet" in line)
        await pilot.click("#page", offset=(20, row))
        assert "> line at the outlet" in " ".join(shown(app, "page").split())


def test_at_home_the_settings_count(tmp_path: Path) -> None:
    from tests.app.house import front_of
    from tui.app.home import Home

    home = Home(front_of(tmp_path))
    settings = "altitude: 300 ft\ninstruments:\n  clamp:\n    good to: 2 dF\n"
    (tmp_path / "settings.yaml").write_text(settings, encoding="utf-8")
    assert home.press("sums")
    for line in ("superheat", "r134a", "18.43", "30"):
        assert home.enter(line), home.said
    told = flat(home.view(80).parts)
    assert "± by clamp 2 dF" in told
    assert "altitude 300 ft" in told


def test_what_is_not_true_any_more_is_no_figure_to_begin_with(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of()
    typed(talk, *BEGINNING)
    assert "suction" in around_of(talk.walk).known
    typed(talk, "", "100 oz", "")
    known = around_of(talk.walk).known
    assert "suction" not in known, "refrigerant was added since"
    assert "nameplate-charge" in known
