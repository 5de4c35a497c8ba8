"""Choices as parts of a sheet."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from tui.app.sheet import MARKED, STRONG, Columns, Item, Line, Part, styled
from tui.desk.line import Choices, has_numbers

BLANK = Line(Content(""))


def choice_parts(
    choices: Choices, marked: int | None, *, numbered: bool = True, side_by_side: bool = False
) -> Iterator[Part]:
    """Choices with their numbers in the margin; many side by side, with theirs before them if they have any."""
    if len(choices) > 9 or side_by_side:
        counted = numbered and has_numbers(choices)
        wide = len(str(len(choices)))
        said = [f"{place:>{wide}} {say}" if counted else say for place, (_, say) in enumerate(choices, start=1)]
        yield Columns(tuple(said), marked)
        return
    for place, (_, say) in enumerate(choices):
        here = place == marked
        label = str(place + 1) if numbered else ""
        yield Item(label, styled(f" {say} ", MARKED) if here else styled(f" {say}"), STRONG, choice=place)


def choice_hint(choices: Choices) -> str:
    return "number or arrows; then Enter" if has_numbers(choices) else "type it, or arrows; then Enter"
