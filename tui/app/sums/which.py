"""The list of sums, and what is answered there at once: ``r134a 12 psig``, ``12 bar in psi``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from tui.app.forms import Pick
from tui.app.mode import Host, Mode
from tui.app.sheet import FAINT, STRONG, WARN, Part, item
from tui.app.sums import working
from tui.app.sums.around import Surroundings
from tui.app.sums.converting import Units, converted
from tui.app.sums.filled import Filled
from tui.app.sums.forms import FORMS, SATURATION
from tui.app.sums.using import Use, usable, use_of
from tui.app.view import View
from tui.desk.line import chosen_of
from tui.quantity import Quantity, Refused, Value
from tui.refrigerant import resolve

AT_ONCE = {
    "US": "r134a 12 psig, 40 °F r290, 12 bar in psi",
    "SI": "r134a 0.8 barg, 5 °C r290, 180 psi in bar",
}
UNITS = ("units", "units: any value in others")
_REFRIGERANT = re.compile(r"(?:r|hfc|hcfc|hfo|hc)[- ]?\d", re.IGNORECASE)  # meant for one, whether there is one or not


def quick_sums(talk: Host, around: Surroundings, use: Use | None) -> Mode:
    """The list of sums. use: takes a result as text, for the line of the step; None where there is no step."""
    return Which(talk, around, use)


@dataclass(frozen=True, slots=True)
class Answer:
    """One line said at once; `use` is what a step would be given, empty where it could take nothing."""

    words: str
    use: str = ""


class Which(Pick):
    """Stays when one was taken; a value with its unit, or a refrigerant with one, is answered at once."""

    own_words = True

    def __init__(self, talk: Host, around: Surroundings, use: Use | None) -> None:
        choices = (*((form.name, form.words) for form in FORMS), UNITS)
        super().__init__(talk, (item("sums", "Which sum?", STRONG),), choices, self._begin)
        self.around, self.use = around, use
        self.answers: list[Answer] = []

    def _begin(self, name: str) -> None:
        form = next((each for each in FORMS if each.name == name), None)
        mode = Units(self.talk, self.around, self.use) if form is None else Filled(
            self.talk, form, self.around, self.use
        )
        self.talk.begin_aside(mode)

    def picked(self, line: str) -> str | None:
        """By number or its whole words: a value is none of them."""
        return chosen_of(self.choices, line)

    def view(self, width: int) -> View:
        parts = (*self.title, item("", f"Or at once: {AT_ONCE[self.around.units]}. ESC: leave", FAINT))
        return View(parts, self.choices, "", "number, or a value with its unit")

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or self.picked(line) or use_of(line) is not None:
            return super().echo(line)
        try:
            return self._said(at_once(line, self.around))
        except Refused as problem:
            return (item("not yet", f"{problem.message} {problem.cure}".strip(), label_style=WARN),)

    def _said(self, answers: list[Answer]) -> tuple[Part, ...]:
        place, parts = 0, []
        for each in answers:
            place += bool(each.use)
            parts.append(item(f"use {place}" if each.use and self.use is not None else "=", each.words, STRONG))
        return tuple(parts)

    def enter(self, line: str) -> None:
        wanted = use_of(line)
        if wanted is not None:
            usable([each.use for each in self.answers if each.use], wanted, self.use)
        elif line and self.picked(line) is None:
            self.answers = at_once(line, self.around)
            self.talk.said = self._said(self.answers)
        else:
            found = self.picked(line) if line else None
            if found is None and self.talk.mark is not None:
                found = self.choices[self.talk.mark][0]
            if found is None:
                raise Refused("empty", "Nothing is chosen yet.", "Number or arrows; then Enter.")
            self.then(found)


def at_once(line: str, around: Surroundings) -> list[Answer]:
    """What a line comes to without a form. Raises Refused with what is wrong."""
    asked = _with_refrigerant(line, around)
    if asked is not None:
        return _saturation(*asked, around)
    said = [Answer(str(each), each.use) for each in converted(line, around)]
    try:
        value = working.read(SATURATION.fields[1], line, around)
        return [*_saturation(around.carried, value, around, whose=True), *said] if around.carried else said
    except Refused:
        return said


def _with_refrigerant(line: str, around: Surroundings) -> tuple[str, Value] | None:
    """``r134a 12 psig``, ``40 °F r290``. None where no part of it names a refrigerant; raises Refused for its rest."""
    words = line.split()
    problem: Refused | None = None
    for cut in range(1, len(words)):
        for name, rest in ((words[:cut], words[cut:]), (words[cut:], words[:cut])):
            refrigerant = _resolved(" ".join(name))
            if isinstance(refrigerant, Refused):
                if _REFRIGERANT.match(" ".join(name)):
                    problem = problem or refrigerant
                continue
            try:
                return refrigerant, working.read(SATURATION.fields[1], _with_unit(rest), around)
            except Refused as refused:
                if _letters(name):
                    problem = problem or refused
    alone = _resolved(line)
    if len(words) == 1 and _letters(words) and isinstance(alone, str):
        problem = Refused("no-value", f"{alone} at what?", "A pressure or a temperature with its unit.")
    if problem is not None:
        raise problem
    return None


def _with_unit(words: list[str]) -> str:
    """Raises Refused for a number alone: no box shows here which unit it would have."""
    text = " ".join(words)
    if text.replace(".", "").replace(",", "").replace("-", "").isdigit():
        raise Refused("no-unit", f"{text} of what?", f"Its unit with it, such as {text} psig or {text} °F.")
    return text


def _letters(words: list[str]) -> bool:
    """A number alone is a value before it is a refrigerant."""
    return any(letter.isalpha() for word in words for letter in word)


@lru_cache(maxsize=256)
def _resolved(text: str) -> str | Refused:
    """The refrigerant of that name, or why there is none: near names are slow to find, and each key asks again."""
    try:
        return resolve(text)
    except Refused as problem:
        return problem


def _saturation(refrigerant: str, at: Value, around: Surroundings, *, whose: bool = False) -> list[Answer]:
    """whose: its name stands before it, for nobody named it. Raises Refused where there is none."""
    worked = working.worked(SATURATION, {"refrigerant": refrigerant, "at": at}, around)
    answers: list[Answer] = []
    for each in worked:
        if isinstance(each.value, Refused):
            raise each.value
        use = working.shown(each.value, around) if isinstance(each.value, Quantity) else ""
        name = f"{refrigerant} " if whose or not answers else ""
        answers.append(Answer(f"{name}{working.told(each, around)}", use))
    doubt = working.doubt(refrigerant, around)
    return [*answers, *([Answer(f"{refrigerant} is {doubt}")] if doubt else [])]
