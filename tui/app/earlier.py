"""Earlier visits: of today, or of one unit; each with its sheet, and to go on with where it is open."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import TYPE_CHECKING

from tui.app.forms import Page, Pick
from tui.app.front import PLANNED, New
from tui.app.home import unit_of, when
from tui.app.mode import Mode, choice
from tui.app.sheet import STRONG, Line, Part, item, styled
from tui.app.view import View, told
from tui.desk.line import Choices, chosen_of
from tui.desk.store import named, tag
from tui.quantity import Refused, nearest

if TYPE_CHECKING:
    from tui.app.home import Home
    from tui.review.brief import Brief

OLDER = ("older", "older ones")
#: What can be begun at a unit that was visited before: its tree, and what stands for it.
ANEW = {
    "start": ("", "start a visit to this unit"),
    "check": (PLANNED, "start a planned visit to it: no complaint, a check"),
}


class Listing(Pick):
    """So many at once, the latest first; the last choice turns to older ones. Files are read while it stands."""

    day = unit = True  # whether they are told of each
    gas = False  # whether refrigerant and leaks are
    at_once, longest = 6, 120  # on a small screen, of two rows each; the next number shows older ones

    def __init__(self, home: Home, title: str, found: list[Path], start: int = 0) -> None:
        super().__init__(home, (item("", title, STRONG),), (), self.take)
        self.home, self.found, self.start, self.named = home, found, start, title
        self.here = found[start : start + self.at_once]
        self._known: dict[Path, Brief] = {}
        self._shown = 0
        threading.Thread(target=self._read, name="reading sessions", daemon=True).start()

    def _read(self) -> None:
        from tui.review.brief import brief

        for path in self.here:
            self._known[path] = brief(path)

    @property
    def busy(self) -> bool:  # type: ignore[override]
        return self._shown < len(self.here)

    def view(self, width: int) -> View:
        self._shown = len(self._known)
        return super().view(width)

    @property
    def choices(self) -> Choices:
        """(path, what stands for it)."""
        more = (OLDER,) if len(self.found) > self.start + self.at_once else ()
        return (*((str(path), self.line(path)) for path in self.here), *more)

    def line(self, path: Path) -> str:
        """One visit; only its name while it is not read yet."""
        began, found = when(named(path)[0]), self._known.get(path)
        unit = (found.unit if found is not None else "") or unit_of(path)
        head = "  ".join([began if self.day else began.rpartition(" ")[2], *([unit] if self.unit else [])])
        if found is None:
            return f"{head} ..."
        gas = f"; refrigerant {found.gas}" if self.gas and found.gas else ""
        text = f"{head}: {found.said}" if self.unit else f"{head}  {found.said}"
        room = max(60, self.longest - len(gas))
        return (text if len(text) <= room else text[: room - 3] + "...") + gas

    def enter(self, line: str) -> None:
        self.take(choice(self.choices, line, self.talk.mark))

    def take(self, one: str) -> None:
        """One of them, or the older ones."""
        if one == OLDER[0]:
            self.home.put_aside(self, type(self)(self.home, self.named, self.found, self.start + self.at_once))
        else:
            self.chosen(Path(one))

    def chosen(self, path: Path) -> None:
        """What can be done with that visit."""
        self.home.begin_aside(visit_page(self.home, path))


class Open(Listing):
    """Open ones: the one that is taken goes on."""

    def chosen(self, path: Path) -> None:
        self.home.walk(path)


class Today(Listing):
    """All of one day."""

    day = False


class OfUnit(Listing):
    """Of one unit: what became of its refrigerant matters from visit to visit."""

    unit = False
    gas = True
    at_once, longest = 4, 180


class Units(Listing):
    """Every unit there are sessions of, by the latest; a tag can be typed. No file is read."""

    own_words = True

    def __init__(self, home: Home, title: str, found: list[Path], start: int = 0) -> None:
        self.visits = units(home.store.names())
        super().__init__(home, title, found, start)

    def _read(self) -> None:
        """The names say it all."""

    @property
    def busy(self) -> bool:  # type: ignore[override]
        return False

    def line(self, path: Path) -> str:
        own = self.visits[_key(named(path)[1])]
        count = "1 visit," if len(own) == 1 else f"{len(own)} visits, the last"
        return f"{unit_of(path)}: {count} on {when(named(path)[0]).partition(' ')[0]}"

    def view(self, width: int) -> View:
        view = super().view(width)
        return View(view.parts, view.choices, "unit", "number, or the unit's tag; then Enter")

    def picked(self, line: str) -> str | None:
        """A number of the list; then a whole tag, on this page or not; then the beginning of one."""
        own = self.visits.get(_key(line)) if line else None
        return chosen_of(self.choices, line) or (str(own[0]) if own else super().picked(line))

    def echo(self, line: str) -> tuple[Part, ...]:
        found = self.picked(line)
        if found is None:
            return ()
        return told(OLDER[1] if found == OLDER[0] else self.line(Path(found)), "taken as")

    def enter(self, line: str) -> None:
        found = self.picked(line)
        if line and found is None:
            near = nearest(line, [named(own[0])[1] for own in self.visits.values()])
            cure = f"Did you mean {near}?" if near else "Its tag as it was typed then, or one of those above."
            raise Refused("no-such-unit", f"There is no visit to {line!r}.", cure)
        self.take(found or choice(self.choices, line, self.talk.mark))

    def chosen(self, path: Path) -> None:
        own = self.visits[_key(named(path)[1])]
        self.home.begin_aside(OfUnit(self.home, f"Visits to {unit_of(path)}, the latest first.", own))


def units(names: list[Path]) -> dict[str, list[Path]]:
    """Every unit's files, the latest first, by names alone."""
    found: dict[str, list[Path]] = {}
    for path in names:
        found.setdefault(_key(named(path)[1]), []).append(path)
    return found


def _key(unit: str) -> str:
    return tag(unit).casefold() if unit else ""


def earlier(home: Home, which: str) -> Mode:
    """Today's visits (`today`), or the units (`unit`). Raises Refused where there are none."""
    names = home.store.names()
    if which == "today":
        today = [path for path in names if path.name.startswith(home.front.today())]
        if not today:
            raise Refused("nothing-there", "There is no visit of today yet.", "Start one, or look at a unit's.")
        return Today(home, "Today's visits, the latest first.", today)
    if not names:
        raise Refused("nothing-there", f"There is no session in {home.front.sessions} yet.", "Start a visit.")
    return Units(home, "Which unit?", [own[0] for own in units(names).values()])


def visit_page(home: Home, path: Path) -> Mode:
    """What can be done with one visit."""
    from tui.review.brief import brief

    found = brief(path)

    def then(one: str) -> None:
        if one == "resume":
            home.walk(path)
        elif one in ANEW:
            home.walk(New(found.unit, ANEW[one][0]))
        else:
            lines = sheet_lines(path)
            home.begin_aside(Page(home, "sheet", lambda width: iter(lines)))

    resume: Choices = (("resume", "go on with it"),) if found.open else ()
    anew: Choices = tuple((one, say) for one, (_, say) in ANEW.items()) if found.unit else ()
    choices: Choices = (("sheet", "read its sheet"), *resume, *anew)
    title = [item("visit", f"{when(named(path)[0])}  {found.unit or unit_of(path)}", STRONG), item("", found.said)]
    title += [item("gas", found.gas)] if found.gas else []
    title += [item("follow-up", each, STRONG) for each in found.follow_ups]
    return _Stay(home, (*title, item("file", path.name)), choices, then)


class _Stay(Pick):
    """Stays after one was taken."""

    def enter(self, line: str) -> None:
        self.then(choice(self.choices, line, self.talk.mark))


def sheet_lines(path: Path) -> list[Part]:
    """The sheet as the command prints it. Raises Refused for a file that can't be told."""
    from tui.record import read
    from tui.review import sheet_of

    return [Line(styled(line)) for line in sheet_of(read(path)).splitlines()]
