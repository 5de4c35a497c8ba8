"""The leak search as a list of places: what was looked at, how, and what it gave."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.content import Content

from tui.app.sheet import FAINT, STRONG, Line, shown
from tui.desk.saying import words

if TYPE_CHECKING:
    from tui.walk import Walk

MARKS = {"hit": "●", "growing": "●", "fresh": "◆", "old": "◇"}


@dataclass(frozen=True, slots=True)
class Looked:
    """One place with what was answered there, in order: (words of the reading, answer)."""

    place: str
    answers: tuple[tuple[str, str], ...]

    @property
    def mark(self) -> str:
        """The worst of its answers, as a sign."""
        said = [answer for _, answer in self.answers]
        return next((mark for word, mark in MARKS.items() if word in said), "○")


def looked_at(walk: Walk) -> list[Looked]:
    """Every place searched so far, in the order it came up; none that was taken back."""
    kept: list[tuple[int, dict[str, Any]]] = []
    for number, event in enumerate(walk.events):
        if event["event"] == "undone":
            kept = [(n, each) for n, each in kept if n < event["back_to"]]
        elif event["event"] == "answered" and event.get("place"):
            kept.append((number, event))
    given = {each.event_no: each.shown for each in walk.given()}
    found: dict[str, list[tuple[str, str]]] = {}
    for number, event in kept:
        if number in given:
            answer = (words(str(event["reading"])), given[number])
            found.setdefault(str(event["place"]), []).append(answer)
    return [Looked(place, tuple(answers)) for place, answers in found.items()]


def places_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """The latest that fit, one line each."""
    found = looked_at(walk)
    if not found:
        return []
    wide = min(30, max(len(each.place) for each in found))
    head = Line(Content.styled(f" {'place':<{wide + 2}} what was found, in order"[:width], STRONG))
    foot = Line(Content.styled(" ● hit  ◆ fresh oil  ◇ old oil  ○ clear"[:width], FAINT))
    lines = []
    for each in found[-max(1, height - 3) :]:
        said = ", ".join(f"{name} {answer}" for name, answer in each.answers)
        text = shown(f" {each.mark} {each.place[:wide]:<{wide}} {said}")
        text = text if len(text) <= width else text[: width - 3] + "..."
        lines.append(Line(Content.styled(text, STRONG) if each.mark == "●" else Content(text)))
    return [head, *lines, foot][:height]
