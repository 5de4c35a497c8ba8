"""How a unit is left: what is on, empty or stopped, what still runs, who comes when. Seen before a visit is closed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui.app.forms import Pick
from tui.app.mode import Mode, choice
from tui.app.sheet import STRONG, WARN, Part, item
from tui.app.view import View
from tui.desk.emptied import EMPTY
from tui.desk.line import Choices
from tui.desk.past import past_of
from tui.quantity import clock_span

if TYPE_CHECKING:
    from tui.app.talk import Talk
    from tui.walk.circuit import Circuit

CLOSE, FOLLOW_UP = "yes", "follow-up"
CHOICES: Choices = (
    (CLOSE, "close it: nothing in it can be corrected after that"),
    ("no", "not yet"),
    (FOLLOW_UP, "say who comes back, and when"),
)
_SOME_DAY = "1970-01-01"  # where a visit has none; which day does not matter here
NOBODY = "Nobody has written who comes back, and when."


class Leaving(Pick):
    """Whether the visit is to be closed; a second Enter closes it."""

    def __init__(self, talk: Talk, why: str) -> None:
        super().__init__(talk, (), CHOICES, self.take, marked=0)
        self.visit, self.why = talk, why

    def view(self, width: int) -> View:
        parts = (item("", "Close this visit? This is how the unit is left.", STRONG), *left_so(self.visit))
        return View(parts, CHOICES, "which", "Enter once more: close it; ESC: not yet")

    def take(self, one: str) -> None:
        if one == CLOSE:
            self.visit.act(lambda walk: walk.close(self.why))

    def enter(self, line: str) -> None:
        one = choice(self.choices, line, self.talk.mark or 0)
        if one == FOLLOW_UP:
            from tui.app.ending import more

            self.talk.begin_aside(more(self.visit, FOLLOW_UP))
            return
        self.then(one)
        self.talk.leave_aside(self)


def leaving(talk: Talk, why: str = "") -> Mode:
    return Leaving(talk, why)


def left_so(talk: Talk) -> Iterator[Part]:
    """What the record knows of how the unit is left; a thing it does not know is not said."""
    machine = talk.walk.machine
    several = len(machine.circuits) > 1
    empty = _left_empty(talk)
    for circuit in (machine.unit, *machine.circuits.values()):
        said = "; ".join(_of(talk, circuit, circuit.name in empty))
        if said:
            yield item(circuit.name if several else "left so", said)
    noted = [event for event in talk.walk.events if event["event"] == "noted"]
    for about in (FOLLOW_UP, "parts"):
        for event in noted:
            if event.get("about") == about:
                yield item(about, event["text"])
    if not any(event.get("about") == FOLLOW_UP for event in noted):
        yield item(FOLLOW_UP, NOBODY, label_style=WARN)


def _left_empty(talk: Talk) -> frozenset[str]:
    """The circuits that the next visit will be told are empty: gas out, and no plate charge weighed in since."""
    events = talk.walk.events
    day = str(events[0]["site"].get("today") or _SOME_DAY)
    past = past_of(events, day, talk.walk.library.catalogue)
    return frozenset(name for (name, reading), (value, _) in past.values.items() if reading == EMPTY and value == "yes")


def _of(talk: Talk, circuit: Circuit, empty: bool) -> Iterator[str]:
    facts = circuit.facts
    for thing in facts.left:
        yield f"STILL ON - {thing}. {talk.walk.library.catalogue.left_on[thing].tell}"
    if empty:
        yield "empty of refrigerant: it must not be started"
    if facts.compressor == "stopped":
        yield "compressor stopped: is it locked out, or its plug out, with a tag that says why?"
    for waiting, seconds in talk.walk.waiting().items():
        if waiting.circuit == circuit.name:
            yield f"in a wait of {clock_span(seconds)} that is not over"
