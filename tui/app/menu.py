"""Everything that can be done now, found by its number or its words; and the colours."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.app import keys
from tui.app.forms import Pick
from tui.app.mode import Mode, choice
from tui.app.sheet import STRONG, Part, item
from tui.app.themes import SAID
from tui.app.view import told
from tui.desk.home import home
from tui.desk.settings import changed, load, save

if TYPE_CHECKING:
    from tui.app.talk import Talk


class Menu(Pick):
    """Every command that is allowed now; what each does is said while it is marked."""

    talk: Talk

    def __init__(self, talk: Talk) -> None:
        found = [each for each in keys.COMMANDS if each.action != "menu" and each.allowed(talk.walk)]
        title = (item("menu", "What do you want to do?", STRONG),)
        super().__init__(talk, title, tuple((each.action, each.words) for each in found), self._press, marked=0)

    def says(self, place: int) -> tuple[Part, ...]:
        return self._help(self.choices[place][0])

    def echo(self, line: str) -> tuple[Part, ...]:
        found = self.picked(line)
        return self._help(found) if found is not None else ()

    def enter(self, line: str) -> None:
        action = choice(self.choices, line, self.talk.mark)
        self.talk.leave_aside(self)
        self.then(action)

    def _press(self, action: str) -> None:
        self.talk.press(action)

    def _help(self, action: str) -> tuple[Part, ...]:
        command = keys.BY_ACTION[action]
        key = self.talk.key_of(command)
        by = key.upper() if keys.has_key(key) else f"or type {command.typed[0]}"
        return told(f"{command.help} ({by})", command.words.lower())


def theme(talk: Talk) -> Mode:
    """The colours of the screen, from now on and on the days to come."""

    def then(name: str) -> None:
        talk.theme = name
        path = home().settings
        save(path, changed(load(path), "theme", name))
        talk.say("Kept in your settings.", "colours")

    return Pick(talk, (item("colours", "Which colours?", STRONG),), SAID, then)
