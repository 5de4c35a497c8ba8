"""What stands beside the question on a wide screen: what is still possible, what is not, the way, the ladder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content

from tui.app.choices import BLANK
from tui.app.look import cut, telling
from tui.app.sheet import FAINT, STRONG, Line, shown
from tui.desk.saying import words

if TYPE_CHECKING:
    from tui.walk import Walk

MOST_CAUSES = 12
LADDER = 16  # lines that the ladder has, at most
WAY = 7  # lines kept for the way


def panel(walk: Walk, width: int, height: int) -> list[Line]:
    """At most `height` lines of `width` cells; empty while there is nothing to tell."""
    lines = [*_possible(walk, width), *_ruled_out(walk, width)]
    ladder = _ladder(walk, width, min(LADDER, height - len(lines) - WAY))
    room = height - len(lines) - (len(ladder) + 1 if ladder else 0)
    lines += _way(walk, width, room)
    if ladder:
        lines += [*[BLANK] * max(1, height - len(lines) - len(ladder)), *ladder]
    return lines[:height]


def _possible(walk: Walk, width: int) -> list[Line]:
    causes = walk.still_possible
    if not causes:
        return []
    lines = [_heading(f"{len(causes)} still possible")]
    shown_ones = causes if len(causes) <= MOST_CAUSES else causes[: MOST_CAUSES - 1]
    lines += [_line(words(cause), width) for cause in shown_ones]
    if len(causes) > len(shown_ones):
        lines.append(_line(f"and {len(causes) - len(shown_ones)} more: F5", width, FAINT))
    return lines


def _ruled_out(walk: Walk, width: int) -> list[Line]:
    ruled = walk.ruled_out
    if not ruled:
        return []
    by_step: dict[str, list[str]] = {}
    for cause, at in ruled.items():
        by_step.setdefault(words(at.split("/")[-1]), []).append(words(cause))
    lines = [BLANK, _heading(f"{len(ruled)} ruled out")]
    for step, causes in list(by_step.items())[-6:]:
        lines.append(_line(f"by {step}: {', '.join(causes)}", width, FAINT))
    return lines


def _way(walk: Walk, width: int, room: int) -> list[Line]:
    entries = telling(walk)
    if not entries or room < 4:
        return []
    lines = [BLANK, _heading("the way")]
    for entry in entries[-(room - 2) :]:
        close = "  close" if entry.close else ""
        lines.append(_line(f"{words(entry.at.split('/')[-1])} - {entry.words}{close}", width))
    return lines


def _ladder(walk: Walk, width: int, room: int) -> list[Line]:
    if room < 8:
        return []
    from tui.app.pictures.ladder import ladder_lines

    return ladder_lines(walk, width, room)


def _heading(say: str) -> Line:
    return Line(Content.styled(say, STRONG))


def _line(say: str, width: int, style: str = "") -> Line:
    text = cut(shown(say), width - 2)
    return Line(Content("  ") + (Content.styled(text, style) if style else Content(text)))
