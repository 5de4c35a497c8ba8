"""Earlier visits: of today, or of one unit; each with its sheet, and to go on with where it is open."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tui.app.forms import Page, Pick
from tui.app.home import when
from tui.app.mode import Mode, choice
from tui.app.sheet import STRONG, Line, Part, item, styled
from tui.desk.line import Choices
from tui.desk.store import listed
from tui.quantity import Refused

if TYPE_CHECKING:
    from tui.app.home import Home

AT_ONCE = 7  # in one list; the next number shows older ones
OLDER = ("older", "older ones")
LONGEST = 100  # letters of one line in a list


class Listing(Pick):
    """So many at once, the latest first; the last choice turns to older ones."""

    def __init__(self, home: Home, title: str, found: list[Path], start: int = 0) -> None:
        self.home, self.found, self.start, self.named = home, found, start, title
        here = found[start : start + AT_ONCE]
        more = (OLDER,) if len(found) > start + AT_ONCE else ()
        choices = (*self.lines(here), *more)
        super().__init__(home, (item("", title, STRONG),), choices, self.take)

    def lines(self, paths: list[Path]) -> Choices:
        """(path, what stands for it)."""
        from tui.review.brief import brief

        return tuple((str(path), _line(path, brief(path))) for path in paths)

    def enter(self, line: str) -> None:
        self.take(choice(self.choices, line, self.talk.mark))

    def take(self, one: str) -> None:
        """A visit: what can be done with it; or the older ones."""
        if one == OLDER[0]:
            self.home.put_aside(self, type(self)(self.home, self.named, self.found, self.start + AT_ONCE))
        else:
            self.home.begin_aside(visit_page(self.home, Path(one)))


class Units(Listing):
    """Every unit there are sessions of."""

    def lines(self, paths: list[Path]) -> Choices:
        counts = [sum(listed_unit(each) == listed_unit(path) for each in self.home.store.names()) for path in paths]
        return tuple(
            (str(path), f"{listed_unit(path)}, {count} {'visit' if count == 1 else 'visits'}, the last {_day(path)}")
            for path, count in zip(paths, counts, strict=True)
        )

    def take(self, one: str) -> None:
        if one == OLDER[0]:
            super().take(one)
            return
        unit = listed_unit(Path(one))
        own = [path for path in self.home.store.names() if listed_unit(path) == unit]
        self.home.begin_aside(Listing(self.home, f"Visits to {unit}, the latest first.", own))


def earlier(home: Home, which: str) -> Mode:
    """Today's visits (`today`), or the units (`unit`). Raises Refused where there are none."""
    names = home.store.names()
    if which == "today":
        today = [path for path in names if path.name.startswith(home.front.today)]
        if not today:
            raise Refused("nothing-there", "There is no visit of today yet.", "Start one, or look at a unit's.")
        return Listing(home, "Today's visits, the latest first.", today)
    units: dict[str, Path] = {}
    for path in names:
        units.setdefault(listed_unit(path), path)
    if not units:
        raise Refused("nothing-there", f"There is no session in {home.front.sessions} yet.", "Start a visit.")
    return Units(home, "Which unit?", list(units.values()))


def visit_page(home: Home, path: Path) -> Mode:
    """What can be done with one visit."""
    from tui.review.brief import brief

    is_open = not listed(path).closed

    def then(one: str) -> None:
        if one == "resume":
            home.walk(path)
        else:
            lines = sheet_lines(path)
            home.begin_aside(Page(home, "sheet", lambda width: iter(lines)))

    choices: Choices = (("sheet", "read its sheet"), *((("resume", "go on with it"),) if is_open else ()))
    title = (item("visit", _line(path, brief(path)), STRONG), item("file", path.name))
    return _Stay(home, title, choices, then)


class _Stay(Pick):
    """Stays after one was taken."""

    def enter(self, line: str) -> None:
        self.then(choice(self.choices, line, self.talk.mark))


def sheet_lines(path: Path) -> list[Part]:
    """The sheet as the command prints it. Raises Refused for a file that can't be told."""
    from tui.record import read
    from tui.review import sheet_of

    return [Line(styled(line)) for line in sheet_of(read(path)).splitlines()]


def listed_unit(path: Path) -> str:
    """The unit as the file's name has it."""
    return listed(path).unit


def _day(path: Path) -> str:
    return when(listed(path).began).partition(" ")[0]


def _line(path: Path, said: str) -> str:
    each = listed(path)
    state = "" if each.closed else "open, "
    text = f"{when(each.began)}  {each.unit}: {state}{said}"
    return text if len(text) <= LONGEST else text[: LONGEST - 3] + "..."
