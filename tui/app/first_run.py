"""The first start: only what must be known, each with its reason; the rest can be skipped at any time and set later."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tui.app.mode import Mode, choice
from tui.app.sheet import FAINT, STRONG, Part, item
from tui.app.view import View, refused, told
from tui.desk.line import Choices
from tui.desk.settings import Settings, changed, flattened, save
from tui.quantity import Refused
from tui.walk.exactness import good_to_words

if TYPE_CHECKING:
    from tui.app.home import Home

LATER = "later"
#: (key, question, why, choices (what is kept, words))
ASKED: tuple[tuple[str, str, str, Choices], ...] = (
    (
        "units",
        "Which units do you read?",
        "A number typed alone is taken in them.",
        (("US", "US: °F, psig, oz"), ("SI", "SI: °C, barg, g")),
    ),
    (
        "altitude",
        "How high above sea level do you work most of the time?",
        "A gauge reads against the air around it. Each visit can have another.",
        (),
    ),
    (
        "region",
        "Whose rules apply?",
        "They say when a leak must be searched, and what may go into a circuit.",
        (("US", "United States"), ("EU", "European Union"), ("UK", "United Kingdom"), ("other", "another country")),
    ),
    (
        "instruments",
        "Your instruments: good digital ones?",
        "Gauges to 0.5 psi and 2 psi, clamps to 1 dF, scale to 2 g - common practice. A verdict within their error is "
        "marked close.",
        (("usual", "yes, about like that"), ("own", "no: I set them one by one in the settings")),
    ),
)


class FirstRun(Mode):
    """One question after the other; written once, at the end or where the rest is skipped."""

    own_words = True

    def __init__(self, home: Home) -> None:
        super().__init__(home)
        self.home = home
        self.at = 0
        self.settings = Settings()

    @property
    def key(self) -> str:
        return ASKED[self.at][0]

    @property
    def choices(self) -> Choices:
        return ASKED[self.at][3]

    @property
    def marked(self) -> int | None:  # type: ignore[override]
        """What Enter alone takes; nobody's rules are guessed from metric units."""
        return 0 if self.choices and (self.key != "region" or self._us) else None

    def view(self, width: int) -> View:
        _, question, why, choices = ASKED[self.at]
        why = good_to_words(why, self.settings.units)
        parts: tuple[Part, ...] = (
            item("first", f"{self.at + 1} of {len(ASKED)}", FAINT),
            item("", question, STRONG),
            item("why", why),
            item("", self._ways_out(), FAINT),
        )
        hint = "number or arrows; Enter alone: what is marked"
        if not choices:
            hint = f"such as {'300 ft' if self._us else '90 m'}; Enter alone: asked each time"
        elif self.marked is None:
            hint = "number or arrows; Enter alone: none for now"
        return View(parts, choices, "", hint, units=() if choices else ("ft", "m"))

    def _ways_out(self) -> str:
        if not self.at:
            return "ESC, or type later: skip all of this; the settings have it."
        return "ESC, or type later: skip the rest; what you answered is kept. F3: one back."

    def back(self) -> bool:
        """One question back; what was answered is kept until it is answered anew."""
        self.at = max(0, self.at - 1)
        self.talk.mark = self.marked
        return True

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or line.lower() == LATER:
            return ()
        if self.choices:
            found = self.picked(line)
            return told(dict(self.choices)[found], "taken as") if found else ()
        try:
            return told(flattened(self._with(line))[self.key], "taken as")
        except Refused as problem:
            return refused(problem)

    def _with(self, text: str) -> Settings:
        """A number alone is in the units just chosen."""
        try:
            return changed(self.settings, self.key, text)
        except Refused:
            unit = "ft" if self._us else "m"
            if not any(letter.isalpha() for letter in text):
                return changed(self.settings, self.key, f"{text} {unit}")
            raise

    @property
    def _us(self) -> bool:
        return self.settings.units == "US"

    def enter(self, line: str) -> None:
        if line.lower() == LATER:
            self.home.escape()
            return
        mark = self.marked if self.talk.mark is None else self.talk.mark
        if self.choices and (line or mark is not None):
            text = choice(self.choices, line, mark)
            if self.key != "instruments":
                self.settings = changed(self.settings, self.key, text)
            elif text == "own":
                self._end(then_instruments=True)
                return
        elif not self.choices:
            self.settings = self._with(line) if line else replace(self.settings, altitude=None)
        self.at += 1
        if self.at == len(ASKED):
            self._end(then_instruments=False)

    def left(self) -> None:
        """The rest is skipped, and not asked again; what was answered counts."""
        save(self.home.front.settings, self.settings)
        if self.at:
            self.home.say("What you answered is kept in your settings; the rest is as usual.", "kept")

    def _end(self, *, then_instruments: bool) -> None:
        self.at = len(ASKED) - 1
        save(self.home.front.settings, self.settings)
        self.home.leave_aside(self)
        self.home.say("Kept in your settings.", "kept")
        if then_instruments:
            from tui.app.setting import instruments_page

            self.home.begin_aside(instruments_page(self.home))
