"""Every text has contrast against what is under it. WCAG 2.2, 1.4.3 (4.5:1) and 1.4.6 (7:1)."""

from __future__ import annotations

import pytest
from textual.color import Color
from textual.theme import Theme

from tests.app.typist import Typist, app_of, asks, begun, bundled, known_of
from tui.app.themes import SUNLIGHT, THEMES

INKS = ("foreground", "text-muted", "text-warning", "text-error", "text-success")
PAPERS = ("background", "panel")


def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.2 defines it."""

    def linear(part: int) -> float:
        share = part / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * linear(color.r) + 0.7152 * linear(color.g) + 0.0722 * linear(color.b)


def contrast(one: Color, other: Color) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def color(theme: Theme, name: str) -> Color:
    found = theme.variables.get(name) or getattr(theme, name)
    return Color.parse(str(found))


def test_black_on_white_is_21() -> None:
    assert contrast(Color.parse("#000"), Color.parse("#fff")) == pytest.approx(21)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ink", INKS)
@pytest.mark.parametrize("paper", PAPERS)
def test_declared_colours(theme: Theme, ink: str, paper: str) -> None:
    assert contrast(color(theme, ink), color(theme, paper)) >= (7 if theme is SUNLIGHT else 4.5)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
async def test_colours_as_they_are_drawn(theme: Theme) -> None:
    """Every character on three real screens: a marked choice, a refusal, a finding."""
    app = app_of(begun(bundled()), theme.name)
    least = 7 if theme is SUNLIGHT else 4.5
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down")
        await pilot.pause()
        assert worst(app) >= least
        typist = Typist(known_of("leak"))
        await typist.walk(pilot, asks("suction"))
        await pilot.press(*"8oz", "enter")
        await pilot.pause()
        assert worst(app) >= least
        await pilot.press(*["backspace"] * 3)
        await typist.walk(pilot)
        await pilot.pause()
        assert worst(app) >= least


def worst(app: object) -> float:
    """The least contrast of any letter that is drawn."""
    found = 21.0
    for strip in app.screen._compositor.render_strips():  # type: ignore[attr-defined]
        for segment in strip:
            style = segment.style
            if style is None or not segment.text.strip() or style.color is None or style.bgcolor is None:
                continue
            ink, paper = (Color.from_rich_color(each) for each in (style.color, style.bgcolor))
            assert not style.dim, segment.text
            found = min(found, contrast(ink, paper))
    return found
