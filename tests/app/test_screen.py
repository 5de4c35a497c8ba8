"""The real screen under a pilot: what stands there, at which size, and what keys and clicks do."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from textual.widgets import Input, Static

from tests.app.lines import BEGINNING, TO_THE_WAIT
from tests.app.typist import Typist, app_of, asks, begun, bundled, enter, known_of, screen_text, shown
from tests.record.helpers import HandClock
from tui.app.asides import BY_WORD
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.line import cleaned
from tui.tree.library import Library

SIZES = ((80, 24), (100, 30), (140, 45))


@pytest.fixture(scope="session")
def trees() -> Library:
    return bundled()


@pytest.fixture
def app(talk: Talk) -> LowsideApp:
    return LowsideApp(talk)


def talk_of(app: LowsideApp) -> Talk:
    assert isinstance(app.talk, Talk)
    return app.talk


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_whole_visit_ends_in_its_finding(trees: Library, size: tuple[int, int]) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=size) as pilot:
        await Typist(known_of("leak")).walk(pilot, by_keys=size == (80, 24))
        await pilot.pause()
        stands = screen_text(app)
        assert "FOUND  Short of refrigerant - it has leaked" in stands
        assert "NEXT  Not left running without a date." in stands
        assert "ruled out" in stands
        assert "Enter: close the visit" in stands
        await enter(pilot)
        assert not talk_of(app).walk.closed
        assert "Enter once more" in screen_text(app)
        await enter(pilot)
    assert talk_of(app).walk.closed
    assert [found.cause for found in talk_of(app).walk.findings] == ["short-of-charge"] * 2


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_question_reasons_line_and_keys_stand_where_they_should(trees: Library, size: tuple[int, int]) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=size) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("evaporator-outlet"))
        await pilot.press(*"35")
        await pilot.pause()
        lines = screen_text(app).splitlines()
    assert len(lines) == size[1]
    assert lines[0].startswith(" K-12  R-134a")
    assert lines[0].endswith("one set")
    assert lines[2].startswith("            The line at the evaporator's outlet")
    asked = [line.split("│")[0].rstrip() for line in lines]
    assert "         >  Line at the evaporator outlet?" in asked, "the one of several that is asked now"
    assert any(line.startswith("       how  On the straight tube at the coil") for line in lines)
    line = next(number for number, text in enumerate(lines) if text.startswith("        °F   35"))
    assert lines[line + 1].startswith("  taken as  35 °F = 1.7 °C")
    assert "superheat 31.9 dF" in lines[line + 2], "what would follow from it"
    if size[0] >= 80:
        said = asked[line + 2]
        assert said.endswith("superheat 31.9 dF, 16.9 dF above wanted"), "as the table says then"
    assert lines[-1].startswith(" F1 Help  F2 Couldn't  F3 Back")
    assert "F10 Leave" in lines[-1]


async def test_the_table_at_80_by_24(trees: Library) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=(80, 24)) as pilot:
        await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
        await pilot.pause()
        stands = screen_text(app)
    assert " reading         │ measured │ wanted          │ difference │ says" in stands
    assert " evaporating now │ 3.1 °F   │ 13 °F to 27 °F  │ -9.9 dF    │ ▼ low" in stands
    assert " superheat       │ 31.9 dF  │ 5 dF to 15 dF   │ +16.9 dF   │ ▲ high" in stands
    assert "at least 5 dF" not in stands, "the limit that is kept stands with F5"
    below = stands.splitlines()
    assert below[-2].strip(), "the whole height is used"


async def test_the_line_keeps_the_focus_whatever_is_clicked(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for where in ("#top", "#page", "#below", "#said"):
            await pilot.click(where)
            await pilot.pause()
            assert app.focused is app.query_one("#entry")
        await pilot.press("tab")
        assert app.focused is app.query_one("#entry")


async def test_a_click_on_a_choice_takes_it(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        row = next(y for y, line in enumerate(shown(app, "page").splitlines()) if "R-448A" in line)
        await pilot.click("#page", offset=(15, row))
        await pilot.pause()
        assert "refrigerant: R-448A" in shown(app, "said")


async def test_a_click_on_a_key_of_the_bottom_line_works(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click("#keys", offset=(3, 0))
        await pilot.pause()
        assert "what this step wants, and all keys" in shown(app, "page")


async def test_keys_do_what_they_say(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "1")
        for key, words in (
            ("f11", "A note in your own words"),
            ("f5", "Nothing has been judged"),
            ("f8", "Any reading, in any order"),
            ("f12", "What do you want to do?"),
            ("f14", "What do you find?"),
            ("f16", "Which photo?"),
            ("f17", "Why does the visit end here?"),
        ):
            await pilot.press(key)
            await pilot.pause()
            assert words in shown(app, "page"), key
            await pilot.press("escape")
            await pilot.pause()
            assert "Does the door close?" in shown(app, "page")
        await pilot.press("f3")
        await pilot.pause()
        assert "Take back: refrigerant R-134a?" in shown(app, "page")
        await pilot.press("f3")
        await pilot.pause()
        assert "Refrigerant?" in shown(app, "page")
        await pilot.press("f10")
    assert not talk_of(app).walk.closed


async def test_the_visit_is_ended_early_with_its_key(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f12", *"end", "enter")
        await pilot.press(*"a burst pipe", "enter")
        await pilot.pause()
        assert "Close this visit?" in shown(app, "page")
        await enter(pilot)
    assert talk_of(app).walk.closed
    assert talk_of(app).walk.events[-1]["why"] == "a burst pipe"


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_what_earlier_visits_know_leaves_room_for_the_question(trees: Library, size: tuple[int, int]) -> None:
    known = "table R-134a, 11 oz, last found: Filter drier blocked, 12 more; freezer R-290, 3.1 oz, 12 more"
    history = [{"circuit": "main", "reading": "refrigerant", "value": "R-134a", "visit": "2026-05-01"}]
    app = app_of(begun(trees, history=history), notices=(f"From earlier visits: {known}. Hold it against the plates.",))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert "From earlier visits" in screen_text(app)
        await Typist(known_of("leak")).walk(pilot, asks("nameplate-charge"))
        await pilot.press("f4")
        await pilot.pause()
        assert "refrigerant R-134a (from the visit of 2026-05-01)" in screen_text(app)


async def test_arrows_move_the_mark_and_enter_takes_it(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down", "enter")
        await pilot.pause()
        assert "refrigerant: R-290" in shown(app, "said")


async def test_ctrl_c_leaves(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("ctrl+c")
        await pilot.pause()
    assert talk_of(app).left


async def test_what_was_refused_stays_in_the_line(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "R-9")
        assert app.query_one("#entry", Input).value == "R-9"
        assert "NO" in shown(app, "said")


# ---- what stood in the line


async def test_the_next_key_types_over_what_was_refused(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "r134a")
        await enter(pilot, "perhaps")
        line = app.query_one("#entry", Input)
        assert "NO" in shown(app, "said")
        assert line.value == "perhaps"
        await pilot.press("y", "e")
        assert line.value == "ye"


async def test_an_arrow_mends_what_was_refused(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "r134a")
        await enter(pilot, "yess")
        await pilot.press("right", "backspace")
        assert app.query_one("#entry", Input).value == "yes"


async def test_arrows_take_the_place_of_what_was_typed(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "r134a")
        await pilot.press("y", "e", "down")
        assert app.query_one("#entry", Input).value == ""
        await pilot.press("enter")
        assert "door: no" in shown(app, "said")


async def test_after_help_in_mid_typing_the_line_stands_selected(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, "r134a")
        await pilot.press("y", "e", "f1")
        line = app.query_one("#entry", Input)
        assert line.value == ""
        await pilot.press("escape")
        assert (line.value, line.selected_text) == ("ye", "ye")
        await pilot.press("end", "s")
        assert line.value == "yes"


# ---- small, resized, odd


async def test_every_step_of_a_visit_stands_at_40_by_10(trees: Library) -> None:
    app = app_of(begun(trees))
    async with app.run_test(size=(40, 10)) as pilot:
        await Typist(known_of("drier")).walk(pilot)
        await pilot.pause()
        assert "FOUND" in screen_text(app)
        assert "PageDown" in screen_text(app), "what does not fit says so"
        await pilot.press("pagedown")
        await pilot.pause()
        assert "FOUND" not in screen_text(app)
        await pilot.press("pageup", "pageup")


async def test_resized_in_the_middle_of_typing(app: LowsideApp) -> None:
    async with app.run_test(size=(140, 45)) as pilot:
        for line in BEGINNING[:-1]:
            await enter(pilot, line)
        await pilot.press("8", ".")
        for size in ((40, 10), (1, 1), (20, 5), (80, 24), (300, 80), (41, 3), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        await pilot.press("2")
        await pilot.pause()
        assert app.query_one("#entry", Input).value == "8.2"
        assert "taken as  8.2 psig" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "suction: 8.2 psig" in shown(app, "said")


async def test_resized_it_is_laid_out_for_the_size_it_has_now(app: LowsideApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f1")
        for width, height in ((40, 10), (145, 45), (80, 24)):
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            assert max(map(len, shown(app, "page").split("\n"))) <= width
            assert (BY_WORD in shown(app, "page")) == (width == 145)


ODD = (
    "[bold]not bold[/bold] [/",
    "valve [low] \\[x] $text-muted {x}",
    "\x1b[31mred\x1b]0;title\x07 bell\x07",
    "שלום \u202erevo\u202c عربي \u2066x\u2069",
    "e\u0301\u0302\u0303 \ufeff \u200b 雪雪雪雪 \U0001f600",
    "a\nb\rc\u2028d",
    "x" * 5000,
    "\ud800",
)


@pytest.mark.parametrize("text", ODD, ids=range(len(ODD)))
async def test_odd_text_is_shown_and_kept_as_text(app: LowsideApp, text: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await enter(pilot, text)
        await pilot.press("f11")
        await enter(pilot, text)
        await pilot.press("f1")
        await pilot.pause()
        stands = screen_text(app)
        assert "\x1b" not in stands
        assert "\u202e" not in stands
    noted = [event["text"] for event in talk_of(app).walk.events if event["event"] == "noted"]
    assert len(noted) == (1 if cleaned(text) else 0)
    if text.isascii() and text.isprintable():
        assert noted == [" ".join(text.split())]


async def test_words_of_a_tree_are_never_markup(small: Library, talk_of: Callable[..., Talk]) -> None:
    talk = talk_of(unit="[red]K[/] [/")
    app = LowsideApp(talk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert screen_text(app).startswith(" [red]K[/] [/")


# ---- time


async def test_a_wait_counts_down_rings_and_goes_on(app: LowsideApp, clock: HandClock) -> None:
    rung: list[int] = []
    app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
    async with app.run_test(size=(80, 24)) as pilot:
        for line in TO_THE_WAIT:
            await enter(pilot, line)
        before = shown(app, "page")
        clock.seconds += 61
        await pilot.pause(0.7)
        assert shown(app, "page") != before, "the clock runs by itself"
        assert not rung
        clock.seconds += 1000
        await pilot.pause(0.7)
        assert len(rung) == 1
        assert "The time is over." in shown(app, "page")
        await enter(pilot)
        assert "WAIT" not in shown(app, "page")


# ---- colours


@pytest.mark.parametrize(
    "environment", [{"NO_COLOR": "1"}, {"TERM": "linux"}, {"COLORTERM": "", "TERM": "xterm"}], ids=str
)
async def test_few_colours_change_no_word(
    talk_of: Callable[..., Talk], environment: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    app = LowsideApp(talk_of())
    async with app.run_test(size=(80, 24)) as pilot:
        for line in BEGINNING:
            await enter(pilot, line)
        assert "▼ low" in screen_text(app)


async def test_an_unknown_theme_is_the_usual_one(talk: Talk) -> None:
    app = LowsideApp(talk, "mauve")
    async with app.run_test(size=(80, 24)):
        assert app.theme == "cellar"
    assert all(not isinstance(widget, Static) or not widget._render_markup for widget in app.query(Static))
