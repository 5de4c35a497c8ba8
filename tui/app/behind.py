"""The sum behind any number of the circuit at hand, with where each part of it is from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui.app.forms import Page, Pick
from tui.app.mode import Mode, choice
from tui.app.sheet import FAINT, STRONG, Part, item
from tui.desk.saying import words
from tui.quantity import Refused
from tui.walk.behind import Working, names_of, working_of

if TYPE_CHECKING:
    from tui.app.talk import Talk


class _Numbers(Pick):
    """Stays when one was looked at."""

    def enter(self, line: str) -> None:
        self.then(choice(self.choices, line, self.talk.mark))


def behind(talk: Talk) -> Mode:
    """Which number? Raises Refused where nothing has been worked out yet."""
    names = names_of(talk.walk)
    if not names:
        raise Refused("not-now", "Nothing has been worked out here yet.", "Take the readings first.")

    def then(name: str) -> None:
        lines = list(working_parts(working_of(talk.walk, name)))
        talk.begin_aside(Page(talk, "working", lambda width: iter(lines)))

    title = (item("working", "Which number? The latest stands first.", STRONG),)
    return _Numbers(talk, title, tuple((name, words(name.rpartition("/")[2])) for name in names), then, marked=0)


def working_parts(found: Working) -> Iterator[Part]:
    """One sum, its parts and their sources."""
    yield item("", f"{words(found.name)}: {found.result}", STRONG)
    if found.wanted:
        yield item("", found.wanted)
    yield item("as", found.formula)
    if found.numbers not in (found.formula, found.result):
        yield item("=", f"{found.numbers} = {found.result}")
    for number, (what, value, source) in enumerate(found.inputs):
        yield item("with" if number == 0 else "", f"{what} {value} - {source}")
    for number, (instrument, share) in enumerate(found.errors):
        yield item("error" if number == 0 else "", f"{instrument}: up to {share} of it")
    for number, (say, source) in enumerate(found.sources):
        yield item("source" if number == 0 else "", f"{say} - {source}", FAINT)
    yield item("step", found.at, FAINT)
