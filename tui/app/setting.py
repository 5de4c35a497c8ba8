"""The settings, one at a time, each with what it means."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.app.forms import Pick, Then
from tui.app.mode import Mode, choice
from tui.app.sheet import FAINT, STRONG, Part, item
from tui.app.view import View, refused, told
from tui.desk.line import Choices
from tui.desk.settings import DRAWINGS, REGIONS, THEMES, UNITS, changed, explanations, flattened, load, save
from tui.quantity import Refused

if TYPE_CHECKING:
    from collections.abc import Callable

    from tui.app.home import Home

#: What can be set here, with the instruments that most bags hold.
KEYS = ("units", "altitude", "region", "theme", "drawing", "technician")
INSTRUMENTS = ("low-gauge", "high-gauge", "clamp", "air-probe", "scale", "amp-clamp")
OFFERED = {"units": UNITS, "region": REGIONS, "theme": THEMES, "drawing": DRAWINGS}
#: What is asked of every instrument, what stands for nothing, and where else it leads.
ASKED_OF: dict[str, tuple[str, str, Choices]] = {
    "good-to": ("How good is which instrument?", "as usual", (("calibrated", "the days of their calibration"),)),
    "calibrated": ("Which instrument was calibrated?", "not set", ()),
}
BEGINS_ANEW = frozenset({"units", "altitude", "region", "instruments"})


def settings_page(home: Home) -> Mode:
    """Every setting with what it is now. Raises Refused for a file that can't be read."""
    now = flattened(load(home.front.settings))

    def then(key: str) -> None:
        home.begin_aside(instruments_page(home) if key == "instruments" else Setting(home, key))

    choices: Choices = tuple((key, f"{key:<13}{now.get(key, 'not set')}") for key in KEYS)
    count = len({key.split(".")[1] for key in now if key.startswith("instruments.")})
    choices += (("instruments", f"{'instruments':<13}{count or 'none'} set by you, else good digital ones"),)
    return _stays(home, "Which setting?", choices, then, lambda: settings_page(home))


def instruments_page(home: Home, of: str = "good-to") -> Mode:
    """How good each instrument is (`good-to`), or when it was last `calibrated`."""
    now = flattened(load(home.front.settings))
    title, unset, more = ASKED_OF[of]

    def then(name: str) -> None:
        days = name == "calibrated"
        home.begin_aside(instruments_page(home, name) if days else Setting(home, f"instruments.{name}.{of}"))

    choices = tuple((name, f"{name:<13}{now.get(f'instruments.{name}.{of}', unset)}") for name in INSTRUMENTS)
    return _stays(home, title, (*choices, *more), then, lambda: instruments_page(home, of))


def _stays(home: Home, title: str, choices: Choices, then: Then, made: Callable[[], Mode]) -> Mode:
    page = _Stays(home, (item("", title, STRONG),), choices, then)
    page.made = made
    return page


class _Stays(Pick):
    """Stays after one was taken, and is made anew when that is done."""

    made: Callable[[], Mode]

    def again(self) -> Mode:
        return self.made()

    def enter(self, line: str) -> None:
        self.then(choice(self.choices, line, self.talk.mark))


class Setting(Mode):
    """One setting: the new value is checked before it is kept."""

    own_words = True

    def __init__(self, home: Home, key: str) -> None:
        super().__init__(home)
        self.home, self.key = home, key
        self.now = flattened(load(home.front.settings)).get(key, "")

    @property
    def choices(self) -> Choices:
        return tuple((word, word) for word in OFFERED.get(self.key, ()))

    def view(self, width: int) -> View:
        parts: tuple[Part, ...] = (
            item("", f"{self.key.replace('.', ' ')}: {self.now or 'not set'}", STRONG),
            item("", meaning(self.key)),
            item("", "ESC: leave it; type a minus sign alone to unset it", FAINT),
        )
        return View(parts, self.choices, "new", "the new value, then Enter")

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or line == "-":
            return ()
        try:
            kept = flattened(changed(load(self.home.front.settings), self.key, self.picked(line) or line))
        except Refused as problem:
            return refused(problem)
        return told(kept[self.key], "taken as")

    def enter(self, line: str) -> None:
        text = "" if line == "-" else self.picked(line) or line or choice(self.choices, line, self.talk.mark)
        path = self.home.front.settings
        save(path, changed(load(path), self.key, text))
        if self.key == "theme":
            self.home.theme = text
        self.home.leave_aside(self)
        later = " It counts from the next visit on." if self.key.split(".")[0] in BEGINS_ANEW else ""
        self.home.say(f"{self.key.replace('.', ' ')}: {text or 'not set'}.{later}", "kept")


def meaning(key: str) -> str:
    """What a setting is for, in the words of the settings."""
    parts = key.split(".")
    return explanations()[f"instruments.NAME.{parts[2]}" if len(parts) == 3 else key]
