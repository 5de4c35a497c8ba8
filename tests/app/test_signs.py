"""Consoles without line drawing, with sixteen colours, or with none."""

from __future__ import annotations

import pytest
from rich._palettes import STANDARD_PALETTE
from rich.color import Color as RichColor
from rich.color import ColorSystem
from textual.color import Color
from textual.content import Content
from textual.theme import Theme

from tests.app.test_themes import INKS, PAPERS, color, contrast
from tests.app.typist import Typist, asks, begun, bundled, known_of, screen_text
from tests.record.helpers import HandClock
from tui.app import keys, signs, themes
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.settings import ACTIONS
from tui.desk.settings import THEMES as THEMES_IN_SETTINGS


def test_every_sign_is_put_by_one_of_ascii() -> None:
    text = "".join(signs._ASCII)
    plain = signs.plainly(Content.styled(text, "bold"))
    assert plain.plain.isascii()
    assert len(plain.plain) == len(text)
    assert plain.spans[0].style == "bold"


@pytest.mark.parametrize("size", [(80, 24), (140, 45)], ids=str)
async def test_a_plain_screen_is_ascii_and_nothing_moves(size: tuple[int, int]) -> None:
    texts = []
    for plain in (False, True):
        app = LowsideApp(Talk(begun(bundled(), clock=HandClock())), plain=plain)
        async with app.run_test(size=size) as pilot:
            await Typist(known_of("leak")).walk(pilot, asks("adding-allowed"))
            await pilot.press("f5") if size[0] < 100 else None
            await pilot.pause()
            texts.append(screen_text(app))
    drawn, plainly = texts
    assert not drawn.isascii()
    assert plainly.isascii()
    assert [len(line) for line in drawn.splitlines()] == [len(line) for line in plainly.splitlines()]


class _Stream:
    def __init__(self, encoding: str) -> None:
        self.encoding = encoding


@pytest.mark.parametrize(("encoding", "plain"), [("utf-8", False), ("cp437", True), ("ascii", True), ("utf-16", False)])
def test_the_encoding_tells(monkeypatch: pytest.MonkeyPatch, encoding: str, plain: bool) -> None:
    monkeypatch.setattr("sys.__stderr__", _Stream(encoding))
    assert signs.plain_terminal() is plain


def of_sixteen(theme: Theme, name: str) -> Color:
    """The colour a terminal of sixteen colours would show, as the drawing library maps it."""
    number = RichColor.parse(color(theme, name).hex).downgrade(ColorSystem.STANDARD).number
    assert number is not None
    return Color(*STANDARD_PALETTE[number])


@pytest.mark.parametrize("theme", themes.THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ink", INKS)
@pytest.mark.parametrize("paper", PAPERS)
def test_sixteen_colours_can_be_read(theme: Theme, ink: str, paper: str) -> None:
    assert contrast(of_sixteen(theme, ink), of_sixteen(theme, paper)) >= (7 if theme is themes.SUNLIGHT else 4.5)


async def test_no_color_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """https://no-color.org: no colour is added; bold and reverse stay."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = LowsideApp(Talk(begun(bundled(), clock=HandClock())))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for strip in app.screen._compositor.render_strips():
            for segment in strip:
                style = segment.style
                for each in (style.color, style.bgcolor) if style is not None else ():
                    red, green, blue = each.get_truecolor() if each is not None else (0, 0, 0)
                    assert red == green == blue


def test_settings_name_what_there_is() -> None:
    assert tuple(theme.name for theme in themes.THEMES) == THEMES_IN_SETTINGS
    assert tuple(name for name, _ in themes.SAID) == THEMES_IN_SETTINGS
    assert {command.action for command in keys.COMMANDS} == set(ACTIONS)
