"""What the screen shows of a conversation, and what is said under the line."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from tui.app.sheet import BAD, STRONG, Item, Part, item, shown
from tui.desk.line import Choices
from tui.quantity import Refused

LOW = 16  # screens of fewer rows have no blank lines; a question stands first there, then its choices, then why and how


@dataclass(frozen=True, slots=True)
class View:
    """`parts` and `choices` stand above the line, `label` before it, `hint` faintly in it.

    `below`: whether the table and the trail stand under it. `page`: it is for reading and may be long.
    `numbered`: whether choices are taken by their numbers; `side_by_side`: they are few and short.
    `amid`: what is marked at first stands in the middle of a long page.
    `units`: of the number that is typed, empty for words. `pinned`: so many of the first parts stay on a screen that is
    too low for all; `after`: what stands there behind the choices, then.
    """

    parts: tuple[Part, ...]
    choices: Choices = ()
    label: str = ""
    hint: str = ""
    below: bool = False
    page: bool = False
    numbered: bool = True
    side_by_side: bool = False
    amid: bool = False
    units: tuple[str, ...] = ()
    pinned: int = 0
    after: tuple[Part, ...] = ()


def refused(problem: Refused) -> tuple[Part, ...]:
    """A no, with the cure."""
    return (Item("NO", Content.assemble((shown(problem.message), BAD), " ", shown(problem.cure)), BAD),)


def told(say: str, label: str = "") -> tuple[Part, ...]:
    return (item(label, say, STRONG),)
