"""Mending a slip: which reading, what is right, and what that would change, before it counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.app.choices import choice_hint
from tui.app.forms import Pick
from tui.app.mode import Mode, choice, picked
from tui.app.modes import TalkMode, understood
from tui.app.sheet import FAINT, STRONG, Part, item
from tui.app.view import View, told
from tui.desk.everyday import SEVERAL, reading_called
from tui.desk.line import Choices, chosen_of
from tui.desk.saying import words
from tui.desk.several import Named, looked_at
from tui.desk.typed import begins_with_reading, needed
from tui.quantity import Kind
from tui.walk.correcting import NEVER_HAD
from tui.walk.kinds import SITE, UNIT
from tui.walk.prompt import Change, Given

if TYPE_CHECKING:
    from tui.app.talk import Talk


def correct(talk: Talk) -> Mode:
    given = {str(each.event_no): each for each in reversed(talk.walk.given())}
    tellable = [each for each in talk.walk.from_before() if each.reading in talk.names]
    tellable.sort(key=lambda each: each.reading == UNIT)
    given |= {f"before {number}": each for number, each in enumerate(tellable)}
    given |= {each.reading: each for each in talk.walk.of_site()}
    return Slips(talk, given)


class Slips(TalkMode):
    """Which reading was a slip: by its number in the list, by its name, or by its name with what is right."""

    def __init__(self, talk: Talk, given: Mapping[str, Given]) -> None:
        super().__init__(talk)
        self.given = given
        several = len(talk.walk.circuits) > 1
        seen = Counter((each.circuit, each.reading) for each in given.values())
        self.plain: Choices = tuple(
            (number, _said(each, circuit=several, place=seen[each.circuit, each.reading] > 1))
            for number, each in given.items()
        )

    @property
    def choices(self) -> Choices:
        """Each with its number: among figures it would else be taken for one."""
        wide = len(str(len(self.plain)))
        return tuple((each, f"{at:>{wide}} {say}") for at, (each, say) in enumerate(self.plain, start=1))

    def view(self, width: int) -> View:
        right = SEVERAL[self.talk.walk.units].partition(",")[0]
        parts = (
            item("correct", "Which reading was a slip? The latest stands first.", STRONG),
            item("", f"Its number, or at once what is right: {right}. ESC: leave it", FAINT),
        )
        return View(parts, self.choices, "which", choice_hint(()), numbered=False)

    def picked(self, line: str) -> str | None:
        """A number is one of the list; a name is the latest of that reading."""
        if line.isdecimal():
            return self.plain[int(line) - 1][0] if 1 <= int(line) <= len(self.plain) else None
        reading = reading_called("-".join(line.lower().split()), {each.reading for each in self.given.values()})
        return next((at for at, each in self.given.items() if each.reading == reading), picked(self.plain, line))

    def _right(self, line: str) -> tuple[Given, Named] | None:
        """The reading that a line names with its right value: of the circuit named, else of the one being walked."""
        walk = self.talk.walk
        named = next((name for name in walk.circuits if line.lower().startswith(f"{name.lower()} ")), "")
        found = begins_with_reading(line[len(named) :], {each.reading for each in self.given.values()})
        if found is None or chosen_of(self.plain, line) is not None:
            return None
        own = [each for each in self.given.values() if each.reading == found[0]]
        here = named or (walk.prompt.circuit if walk.prompt is not None else "")
        own = [each for each in own if each.circuit == here] or ([] if named else own)
        return (own[0], looked_at(walk, line, *found, own[0].circuit or None)) if own else None

    def echo(self, line: str) -> tuple[Part, ...]:
        right, number = self._right(line), self.picked(line)
        if right is not None and right[1].echo is not None:
            if right[1].value.lower() == NEVER_HAD:
                return told("struck out: it was never had", "taken as")
            return understood(right[1].echo, right[1].name)
        return told(dict(self.plain)[number], "taken as") if number is not None else ()

    def enter(self, line: str) -> None:
        right = self._right(line)
        if right is not None:
            self.talk.put_aside(self, proposed(self.talk, right[0], right[1].value))
            return
        number = self.picked(line) or choice(self.plain, line, self.talk.mark)
        each = self.given[number]
        self.talk.put_aside(self, NewValue(self.talk, each, from_before=number.startswith("before")))
        found = self.talk.walk.library.catalogue.readings.get(each.reading)
        if found is not None and found.names:
            self.talk.begin_with(each.shown)  # a letter is mended, not every name typed again


def _said(each: Given, *, circuit: bool, place: bool) -> str:
    """``drier joints: bubbles there none``, where several are of one reading."""
    of = f"{each.circuit} " if circuit and each.circuit else ""
    at = f"{words(each.place)}: " if place and each.place else ""
    return f"{of}{at}{words(each.reading)} {each.shown}"


class NewValue(TalkMode):
    """The right value of a reading that was given wrong."""

    def __init__(self, talk: Talk, given: Given, *, from_before: bool = False) -> None:
        """from_before: it was known before this visit."""
        super().__init__(talk)
        self.given, self.from_before = given, from_before

    def view(self, width: int) -> View:
        of_site = self.given.reading in SITE
        plain = of_site or not self.given.had
        was = "" if plain else " was known" if self.from_before else " was given"
        after = "Nothing counts before you have seen what it changes."
        place = f" at {words(self.given.place)}" if self.given.place else ""
        asked = f"{self.talk.name_of(self.given)}{place}: {self.given.shown}{was}. What is right?"
        parts = (
            item("correct", asked, STRONG),
            item("", f"{after} ESC: leave it", FAINT),
        )
        never = f"; {NEVER_HAD}: strike it out" if self.strikable else ""
        return View(parts, self.choices, "right is", f"the right value{never}")

    @property
    def choices(self) -> Choices:
        found = self.talk.walk.library.catalogue.readings.get(self.given.reading)
        if found is None:
            return ()
        answers = ("yes", "no") if found.kind is Kind.YES_NO else found.answers
        never = (NEVER_HAD,) if answers and self.strikable else ()
        return tuple((each, each) for each in (*answers, *never))

    @property
    def strikable(self) -> bool:
        """Whether it can be struck out: what was known before, or is the site's, can only be put right."""
        return not self.from_before and self.given.reading not in SITE and self.given.had

    def picked(self, line: str) -> str | None:
        return chosen_of(self.choices, line)

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line:
            return ()
        if self._never(line):
            return told("struck out: it was never had", "taken as")
        walk, given = self.talk.walk, self.given
        return understood(walk.try_answer(self._text(line), given.reading, given.circuit))

    def _never(self, line: str) -> bool:
        chosen = line or (self.choices[self.talk.mark][0] if self.choices and self.talk.mark is not None else "")
        return self.strikable and (self.picked(chosen) or chosen.lower()) == NEVER_HAD

    def _text(self, line: str) -> str:
        if not self.choices:
            return needed(line)
        return self.picked(line) or line or choice(self.choices, line, self.talk.mark)

    def enter(self, line: str) -> None:
        text = NEVER_HAD if self._never(line) else self._text(line)
        self.talk.put_aside(self, proposed(self.talk, self.given, text))


def proposed(talk: Talk, given: Given, text: str) -> Mode:
    """What it would change if that had been `text`, or never had."""
    walk = talk.walk
    if text.lower() == NEVER_HAD:
        return confirm(talk, walk.strike(given))
    return confirm(talk, walk.correct(given, text, talk.known_of(given.reading, text)))


def confirm(talk: Talk, change: Change) -> Mode:
    """What a correction would change, before it counts."""

    def then(answer: str) -> None:
        if answer == "yes":
            talk.act(lambda walk: walk.accept(change))
            talk.say("Corrected; the old figure stays in the record.")

    title = [item("correct", f"{talk.name_of(change)}: {change.was} becomes {change.now}.", STRONG)]
    title += [item("so" if number == 0 else "", each) for number, each in enumerate(change.differences)]
    if not change.differences:
        title.append(item("so", "Nothing else would change."))
    marked = None if change.differences and change.differences[0].startswith("FIRST") else 0
    return Pick(talk, tuple(title), (("yes", "yes, correct it"), ("no", "leave it as it was")), then, marked=marked)
