"""The line that is typed into: quick, for every key goes through it."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding
from textual.geometry import Offset, Region
from textual.strip import Strip
from textual.widgets import Input

from tui.app.dialogue import SHORT
from tui.app.sheet import shown

Told = Callable[[str], None]
_EDIT = re.compile(r"(cursor|delete|select|home|end)\w*(\(True\))?\Z")


def _edits() -> dict[str, tuple[str, tuple[bool, ...]]]:
    """Keys that move in the line or delete of it: the action's name, and whether it selects."""
    found: dict[str, tuple[str, tuple[bool, ...]]] = {}
    for binding in Input.BINDINGS:
        if isinstance(binding, Binding) and _EDIT.match(binding.action):
            name, _, selects = binding.action.partition("(")
            found |= dict.fromkeys(binding.key.split(","), (f"action_{name}", (True,) if selects else ()))
    return found


EDITS = _edits()


class Entry(Input):
    """Says at once what it holds, without a message that goes round.

    Enter is taken here, in the order of the keys: what is typed after it belongs to the next question.
    """

    def __init__(self, changed: Told, entered: Told, crossed: Callable[[int], None]) -> None:
        """crossed: left (-1) or right (1) was pressed with nothing in the line."""
        super().__init__(id="entry", select_on_focus=False)
        self._tell_changed, self._tell_entered, self._tell_crossed = changed, entered, crossed
        self._quiet = False
        self.cursor_blink = False  # a screen that nobody touches writes nothing

    @property
    def content_width(self) -> int:
        """Never less than the box: as long as the text fits, a key then costs no new layout of the screen."""
        return max(super().content_width, self.scrollable_content_region.width)

    def scroll_to_region(self, region: Region, **how: Any) -> Offset:
        """Nothing to do while all of it fits."""
        if self.virtual_size.width <= self.scrollable_content_region.width and not self.scroll_offset.x:
            return Offset(0, 0)
        return super().scroll_to_region(region, **how)

    def watch_value(self, value: str) -> None:
        if not self._quiet:
            self._tell_changed(value)

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()

    def on_input_blurred(self, event: Input.Blurred) -> None:
        self.focus()

    async def _on_key(self, event: events.Key) -> None:
        if event.key in ("left", "right") and not self.value:
            event.stop()
            event.prevent_default()
            self._tell_crossed(-1 if event.key == "left" else 1)
            return
        if event.key in EDITS:  # at once: by way of the bindings, a letter that came after would be before it
            event.stop()
            event.prevent_default()
            name, selects = EDITS[event.key]
            getattr(self, name)(*selects)
            return
        if event.key != "enter":
            await super()._on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._tell_entered(self.value)

    def put(self, text: str, *, selected: bool = False) -> None:
        """This stands in it from now on, and nobody is told. selected: the next key is typed over it."""
        self._quiet = True
        self.value = text
        self.cursor_position = len(text)
        self._quiet = False
        if selected and 0 < len(text) <= SHORT:
            self.select_all()

    # ---- drawing

    def render_line(self, y: int) -> Strip:
        width = self.scrollable_content_region.width + 1
        if y != 0:
            return Strip.blank(width, self.rich_style)
        left = self.scroll_offset.x if self.value else 0
        strip = Strip(self._segments()).crop(left, left + width)
        return strip.extend_cell_length(width).apply_style(self.rich_style)

    def _segments(self) -> list[Segment]:
        """The text in the pieces that its cursor and what is selected make; the hint where it is empty."""
        text = shown(self.value or self.placeholder).replace("\n", " ")
        faint = None if self.value else self.get_component_rich_style("input--placeholder")
        cursor = self.cursor_position if self.value else 0
        start, end = sorted(self.selection) if self.value else (0, 0)
        text += " " * (cursor >= len(text))
        cuts = sorted({0, len(text), cursor, cursor + 1, start, end})
        return [Segment(text[a:b], self._style_of(a, cursor, start, end, faint)) for a, b in pairwise(cuts)]

    def _style_of(self, place: int, cursor: int, start: int, end: int, style: Style | None) -> Style | None:
        if place == cursor and self._cursor_visible and self.has_focus:
            return self.get_component_rich_style("input--cursor")
        return self.get_component_rich_style("input--selection") if start <= place < end else style
