"""The end of a walk: what was found, what the customer said, what comes after, the sheet; then the visit is closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.app.asides import photo
from tui.app.forms import Page, Reason
from tui.app.leaving import leaving
from tui.app.look import earlier_parts, finding_parts, own_findings, ruled_out
from tui.app.mode import Mode, choice, nothing_else
from tui.app.modes import TalkMode
from tui.app.sheet import STRONG, Part, item
from tui.app.view import View
from tui.desk.line import Choices
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.talk import Talk

CLOSE = "close"
ENDINGS: Choices = (
    (CLOSE, "close the visit"),
    ("sheet", "read the sheet"),
    ("photo", "add a photo"),
    ("customer", "customer's answer"),
    ("follow-up", "follow-up"),
    ("parts", "parts"),
)
ASKED = {
    "customer": ("What did the customer agree to? No names: they don't belong in the record.", "agreed"),
    "follow-up": ("Which day, and what is done then?", "follow-up"),
    "parts": ("Which parts were fitted, or are to be ordered?", "parts"),
}


class AtEnd(TalkMode):
    """The walk has ended: Enter, and once more, closes the visit; before that, what belongs to it can be added."""

    commands = True

    @property
    def choices(self) -> Choices:
        return ENDINGS

    def picked(self, line: str) -> str | None:
        """`close` means here what Enter does; words that are commands too stay commands."""
        if line.lower() == CLOSE:
            return CLOSE
        by_number = {str(place): name for place, (name, _) in enumerate(ENDINGS, start=1)}
        return by_number.get(line) or next((name for name, say in ENDINGS if line.lower() in (name, say)), None)

    def view(self, width: int) -> View:
        parts: list[Part] = list(self.talk.notices)
        last, *before = reversed(self.talk.walk.findings) if self.talk.walk.findings else (None,)
        parts += [] if last is None else finding_parts(last, self.talk.causes)
        parts += earlier_parts(before, self.talk.causes)
        parts += own_findings(self.talk.walk)
        parts += [] if last is None else ruled_out(last)
        if not self.talk.walk.findings:
            parts.append(item("", "The walk has ended without a finding.", STRONG))
        hint = "Enter: close the visit; or a number"
        return View(tuple(parts), ENDINGS, hint=hint, below=True, page=True, side_by_side=True)

    def enter(self, line: str) -> None:
        if line and self.picked(line) is None:
            nothing_else(line, "Enter, and once more, closes the visit, a number adds to it. F3 goes back.")
        one = self.picked(line) or (CLOSE if line else choice(ENDINGS, "", self.talk.mark or 0))
        if one == CLOSE and line:
            self.talk.act(lambda walk: walk.close())
        elif one == CLOSE:  # one Enter, by a glove or a key that bounced, closes nothing for good
            self.talk.begin_aside(leaving(self.talk))
        elif one == "sheet":
            lines = _sheet(self.talk)
            self.talk.begin_aside(Page(self.talk, "sheet", lambda width: iter(lines)))
        elif one == "photo":
            self.talk.begin_aside(photo(self.talk))
        else:
            self.talk.begin_aside(more(self.talk, one))


def more(talk: Talk, about: str) -> Mode:
    title, label = ASKED[about]

    def then(text: str) -> None:
        talk.act(lambda walk: walk.note(text, about=about))
        talk.say("Recorded.", label)

    return Reason(talk, title, then, label=label)


def _sheet(talk: Talk) -> list[Part]:
    """The sheet as it stands now. Raises Refused where nothing is recorded."""
    from tui.app.earlier import sheet_lines

    if talk.visit.path is None:
        raise Refused("nothing-recorded", "This visit is not recorded, so there is no sheet.", "Go on without it.")
    return sheet_lines(talk.visit.path)
