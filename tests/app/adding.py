"""A person at quick sums, without a visit and without a screen."""

from __future__ import annotations

from tests.app.lines import text
from tui.app.mode import Mode
from tui.app.sheet import Part
from tui.app.sums import Surroundings, quick_sums
from tui.app.sums.filled import Filled

GOOD_TO = {
    "low-gauge": "0.5 psi",
    "high-gauge": "2 psi",
    "clamp": "1 dF",
    "air-probe": "1 dF",
    "scale": "2 g",
    "test-gauge": "0.5 psi",
}
WITH_INSTRUMENTS = Surroundings(good_to=GOOD_TO)
# What fills in each form to the end.
FILLED = {
    "saturation": ("r455a", "12"),
    "wanted": ("r455a", "35", "20", "75", "30"),
    "superheat": ("r455a", "12", "35"),
    "subcooling": ("r455a", "180", "85"),
    "hose": ("r455a", "5", "1/4", "3"),
    "leak": ("3 oz", "6", "14 oz"),
    "nitrogen": ("150", "80", "70", "146"),
    "air": ("5000",),
}


class Host:
    """As little of a conversation as sums may need: no visit, no screen."""

    def __init__(self) -> None:
        self.said: tuple[Part, ...] = ()
        self.mark: int | None = None
        self.height = 24
        self.asides: list[Mode] = []

    def say(self, done: str, label: str = "") -> None: ...

    def begin_aside(self, aside: Mode) -> None:
        self.asides.append(aside)

    def leave_aside(self, mode: Mode) -> None:
        self.asides.remove(mode)

    def put_aside(self, mode: Mode, other: Mode) -> None:
        self.asides[self.asides.index(mode)] = other


class Person:
    """Types at sums without a walk."""

    def __init__(self, around: Surroundings | None = None, *, step: bool = True) -> None:
        self.host = Host()
        self.used: list[str] = []
        use = self.used.append if step else None
        self.list = quick_sums(self.host, around or Surroundings(), use)

    @property
    def mode(self) -> Mode:
        return self.host.asides[-1] if self.host.asides else self.list

    @property
    def form(self) -> Filled:
        assert isinstance(self.mode, Filled)
        return self.mode

    def type(self, *lines: str) -> Person:
        for line in lines:
            self.mode.enter(line)
            self.host.mark = self.mode.marked
        return self

    def page(self) -> str:
        return flat(self.mode.view(80).parts)

    def echo(self, line: str) -> str:
        return flat(self.mode.echo(line))

    def said(self, line: str) -> str:
        """What the list says to it at once."""
        self.type(line)
        return flat(self.host.said)


def flat(parts: tuple[Part, ...]) -> str:
    return " ".join(text(parts).split())
