"""The map: the tree that the walk is in, down the page; where it is, how it went, what can still come."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from tui.app.choices import BLANK
from tui.app.forms import Page
from tui.app.look import cut
from tui.app.mode import choice
from tui.app.modes import TalkMode
from tui.app.sheet import FAINT, MARGIN, MARKED, STRONG, WARN, Item, Part, item, margin, shown, styled
from tui.app.view import View
from tui.desk.line import Choices
from tui.desk.saying import cause_words, words
from tui.quantity import Refused
from tui.tree.chart import FOLLOWS, OFFERED, Chart, Place, Way, chart_of
from tui.tree.check.graph import COULDNT, NEXT, SKIP, UNSETTLED
from tui.tree.model import CautionStep, FindingStep, Step
from tui.walk.passages import Passage, standing_of
from tui.walk.rows import row_words, taken
from tui.walk.wording import said

if TYPE_CHECKING:
    from tui.app.talk import Talk
    from tui.proof.apart import Unreached

#: How it stands with a step: sign and word, which say the same.
WALKED, HERE, SKIPPED, EARLIER, LEFT_OUT, AHEAD = (
    "✓ walked",
    "→ HERE",
    "– skipped",
    "✓ earlier",
    "· left out",
    "○ ahead",
)
_SUMS = ("work out", "judge")  # no screens: the tool does them by itself
ROWS = "rows"  # what is typed to look for them
NO_EXAMPLE = "no example"
_INDENT = "  "  # of a step in a round
_WAYS: Mapping[str, str] = {
    NEXT: "then",
    SKIP: "not needed",
    COULDNT: "can't be had",
    UNSETTLED: "can't be told",
    FOLLOWS: "goes on with",
    OFFERED: "offers",
}


class Map(TalkMode):
    """Steps down the page; Enter tells more of the one that is marked, left and right turn to the calling trees."""

    def __init__(self, talk: Talk) -> None:
        super().__init__(talk)
        self.passages = standing_of(talk.walk.machine)
        if not self.passages:
            raise Refused("not-now", "The walk stands in no tree now.", "F5 has the way it went.")
        self._turn_to(0)

    @property
    def busy(self) -> bool:  # type: ignore[override]
        return self._unreached is not None and self._unreached.waiting

    @property
    def _unreached(self) -> Unreached | None:
        return self.talk.unreached.get(self.passage.tree.name)

    def look(self) -> None:
        """Find out what no example reaches in this tree, unless that is under way or known."""
        if self._unreached is None:
            from tui.proof.apart import Unreached

            library, tree = self.talk.walk.library, self.passage.tree.name
            self.talk.unreached[tree] = Unreached(tree, library.folders, library.digest)

    def _turn_to(self, at: int) -> None:
        """The tree at this place, the innermost is 0; marked where the walk stands in it."""
        self.at = at
        self.passage = self.passages[at]
        self.chart = chart_of(self.passage.tree, self.talk.walk.library.trees)
        self.places = [place for place in self.chart.places if place.form not in (*_SUMS, "tree", "end")]
        names = [place.name for place in self.places]
        self.marked = names.index(_seen(self.chart, names, self.passage.here))
        if self.talk.map_looks:
            self.look()

    @property
    def choices(self) -> Choices:
        return tuple((place.name, words(place.name)) for place in self.places)

    def view(self, width: int) -> View:
        inside = [each.tree.name for each in self.passages[self.at + 1 :]]
        parts = [item("map", self.passage.tree.title, STRONG)]
        if inside:
            parts.append(item("called by", ", ".join(map(words, inside)), FAINT))
        more = "; left, right: calling trees" if len(self.passages) > 1 else ""
        parts.append(item("", f"Enter: more of a step{more}; ESC: back", FAINT))
        parts.append(item("examples", self._covered(), FAINT))
        rows = list(self._rows(width))
        return View((*parts, BLANK, *rows), hint="arrows: another step; Enter: more of it", page=True, amid=True)

    def _covered(self) -> str:
        """What is known of steps and rows that no example reaches."""
        found = self._unreached
        if found is None:
            return f"type {ROWS} to look for rows that no example reaches"
        if found.waiting:
            return "looking for rows that no example reaches ..."
        if found.problem:
            return f"it can't be told what they reach: {found.problem}"
        if not found.bare:
            return "every step and row here is reached by one"
        return f"{_counted(len(found.bare), 'row or step', 'rows or steps')} here marked [{NO_EXAMPLE}]"

    def _missing(self) -> frozenset[tuple[str, str]]:
        return frozenset() if self._unreached is None else self._unreached.bare

    def _bare(self, name: str) -> str:
        """The mark of a step with something in it that no example reaches."""
        rows = [row for step, row in self._missing() if step == name]
        if not rows:
            return ""
        return f" [{NO_EXAMPLE}]" if "" in rows else f" [{NO_EXAMPLE}: {_counted(len(rows), 'row', 'rows')}]"

    def enter(self, line: str) -> None:
        if line.strip().lower() == ROWS:
            self.look()
            return
        name = choice(self.choices, line, self.talk.mark)
        self.marked = [each for each, _ in self.choices].index(name)
        lines = list(self._about(next(place for place in self.places if place.name == name)))
        self.talk.begin_aside(Page(self.talk, "map", lambda width: iter(lines)))

    def turn(self, by: int) -> bool:
        if len(self.passages) == 1:
            return False
        self._turn_to((self.at - by) % len(self.passages))
        self.talk.mark = self.marked
        return True

    # ---- one line a step

    def _rows(self, width: int) -> Iterator[Part]:
        states = states_of(self.chart, self.passage)
        depths = _depths(self.chart)
        room = width - (margin(width) or MARGIN) - 2  # a narrow screen has the label before the words
        for number, place in enumerate(self.places):
            state = states[place.name]
            bare = self._bare(place.name)
            line = cut(shown(f"{_INDENT * depths[place.name]}{self._line(place, state, bare)}"), room)
            marked = number == self.talk.mark
            style = MARKED if marked else STRONG if state == HERE else WARN if bare else ""
            style = FAINT if not style and state == LEFT_OUT else style
            label = WARN if state == HERE else FAINT
            yield Item(state, styled(line, style), label, choice=number)

    def _line(self, place: Place, state: str, bare: str) -> str:
        """What the step is, and once it was walked how it went on."""
        step = self.passage.tree.named[place.name]
        way = self.passage.taken.get(place.name)
        gone = ""
        if way is not None and state in (WALKED, EARLIER):
            rows, to = way
            on = f" > {words(to)}" if to not in ("carry on", "") else ""
            gone = f"{on} - {taken(step, rows)}"
        if place.form == "repeat" and place.name in self.passage.rounds:
            gone = f" - round {self.passage.rounds[place.name]}{gone}"
        return f"{self._about_in_short(place, step)}{bare}{gone}"

    def _about_in_short(self, place: Place, step: Step) -> str:
        if isinstance(step, FindingStep):
            causes = self.talk.causes
            found = cause_words(step.cause, causes) if step.cause else f"one of {len(step.could_be)} causes"
            return f"found: {words(place.name)} - {found}"
        if place.form in ("ask", "caution"):
            return f"{place.form}: {said(place.says)}"
        if place.form in ("go", "back"):
            return f"{'tree' if place.form == 'go' else 'back'}: {said(place.says)}"
        return f"{place.form}: {words(place.name)}"

    # ---- all of one step

    def _about(self, place: Place) -> Iterator[Part]:
        step = self.passage.tree.named[place.name]
        yield item(place.form, words(place.name), STRONG)
        yield from _texts(step, place, self.talk)
        yield BLANK
        rows = self.passage.taken.get(place.name, ((), ""))[0]
        for way in self.chart.ways:
            if way.start == place.name:
                gone = bool(way.row) and way.row in rows
                bare = f" [{NO_EXAMPLE}]" if way.row and (way.start, way.row) in self._missing() else ""
                line = f"{_way(step, way)} > {words(way.end)}{bare}"
                yield item("✓ taken" if gone else "way", line, STRONG if gone else WARN if bare else "")


def _counted(many: int, one: str, several: str) -> str:
    return f"{many} {one if many == 1 else several}"


def states_of(chart: Chart, passage: Passage) -> dict[str, str]:
    """How it stands with every step: what was gone by, what can still be come to, and what can't any more."""
    ahead = _reachable(chart, passage.here)
    earlier = _behind(chart, passage.here)
    found: dict[str, str] = {}
    for place in chart.places:
        name = place.name
        if name == passage.here:
            found[name] = HERE
        elif name in passage.passed and name in earlier:
            found[name] = SKIPPED if name in passage.over else WALKED
        elif name in passage.passed:
            found[name] = EARLIER
        else:
            found[name] = AHEAD if name in ahead and not passage.ended else LEFT_OUT
    return found


def _behind(chart: Chart, here: str) -> set[str]:
    """The steps above `here` on the page; those below it were walked in an earlier round."""
    names = [place.name for place in chart.places]
    return set(names[: names.index(here)])


def _reachable(chart: Chart, here: str) -> set[str]:
    ways: dict[str, list[str]] = {}
    for way in chart.ways:
        ways.setdefault(way.start, []).append(way.end)
    seen: set[str] = set()
    todo = [here]
    while todo:
        name = todo.pop()
        if name not in seen:
            seen.add(name)
            todo += ways.get(name, ())
    return seen


def _depths(chart: Chart) -> dict[str, int]:
    """In how many repeats each step stands."""
    inside = {place.name: place.inside for place in chart.places}
    depths: dict[str, int] = {}
    for name, repeat in inside.items():
        depths[name] = depths[repeat] + 1 if repeat else 0
    return depths


def _seen(chart: Chart, names: list[str], here: str) -> str:
    """The step itself, or where it is none of those shown the nearest one above."""
    shown_ones, last = set(names), names[0]
    for place in chart.places:
        last = place.name if place.name in shown_ones else last
        if place.name == here:
            break
    return last


def _texts(step: Step, place: Place, talk: Talk) -> Iterator[Part]:
    """What the step says, in the words of the catalogue where it has any."""
    catalogue = talk.walk.library.catalogue
    if place.form == "ask":
        for number, name in enumerate(place.says.split(", ")):
            asked = catalogue.readings[name].ask
            yield item("asks" if number == 0 else "", asked or words(name))
    elif isinstance(step, CautionStep):
        for name in step.cautions:
            yield item("caution", catalogue.cautions[name].say)
    elif isinstance(step, FindingStep):
        causes = (step.cause,) if step.cause else step.could_be
        for number, cause in enumerate(causes):
            yield item(("found" if step.cause else "could be") if number == 0 else "", cause_words(cause, talk.causes))
    else:
        yield item("", said(place.says))
    if step.why is not None:
        yield item("why", said(step.why.source), FAINT)


def _way(step: Step, way: Way) -> str:
    return _WAYS[way.kind] if way.kind in _WAYS else row_words(step, way.row)
