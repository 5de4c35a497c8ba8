"""The answers-file driver: a whole visit given beforehand, nothing asked of a screen.

A single answer serves every time it is asked; a list is used one a time. What is absent could not
be measured. Cautions, work and waits pass, marked ``by: answers file``, waits as full ones, but for those that a
circuit names under ``couldn't`` or ``cut short``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.quantity import Refused, nearest
from tui.tree import source
from tui.tree.model import Do, Step, Wait
from tui.tree.spot import Spot
from tui.walk.core import Walk
from tui.walk.kinds import ALTITUDE, ASK, CAUTION, CLOSE_CALL, DO, GO_ON, GOOD_TO, OFFER, WAIT
from tui.walk.prompt import Prompt

if TYPE_CHECKING:
    from tui.tree.library import Library

BY = "answers file"
OFFERS = "offer"  # in a circuit: are offers accepted? Absent: no
OFFERS_MOST = 12  # accepted in one circuit; the same answers again would go round for ever
NOT_GIVEN = "not in the answers file"
NOT_DONE = "as the answers file says"
CUT_AS_SAID = NOT_DONE
KEYS = ("tree", "units", "site", "visit", "circuits")
SITE_KEYS = ("altitude", "barometer", "region", "today")
COULDNT = "couldn't"  # in a circuit, or of the unit in the visit: work and waits, as TREE/STEP, that could not be done
CUT_SHORT = "cut short"  # likewise: waits that are ended at once where the tree says what that leads to
Act = Callable[[Callable[[Walk], object]], object]


@dataclass(slots=True)
class Given:
    """The answers to one reading; `listed` ones are used up one a time."""

    texts: tuple[str, ...]
    spots: tuple[Spot, ...]
    spot: Spot
    listed: bool


@dataclass(slots=True)
class Answers:
    """What an answers file says. Nothing of it is changed by a walk."""

    path: str
    spot: Spot
    tree: str = "call"
    units: str = "US"
    site: dict[str, Given] = field(default_factory=dict)
    visit: dict[str, Given] = field(default_factory=dict)
    circuits: dict[str, dict[str, Given]] = field(default_factory=dict)

    @classmethod
    def read(cls, path: Path) -> Answers:
        """Read a file. Raises Refused with place and cure."""
        text = source.read_bytes(path)
        return cls.from_node(source.read_text(str(path), text, flow=True), str(path))

    @classmethod
    def from_node(cls, node: source.Mapping, path: str, besides: Iterable[str] = ()) -> Answers:
        """From a mapping that may also hold the keys `besides`. Raises Refused."""
        answers = cls(path, node.spot)
        for key, value in node.entries:
            if key.text in ("tree", "units"):
                setattr(answers, key.text, _scalar(value).text)
            elif key.text == "site":
                answers.site = {name: _one(name, given) for name, given in _givens(value, SITE_KEYS).items()}
            elif key.text == "visit":
                answers.visit = _givens(value)
            elif key.text == "circuits":
                answers.circuits = {name.text: _givens(found) for name, found in _entries(value)}
            elif key.text not in besides:
                raise _unknown(key.spot, key.text, (*KEYS, *besides))
        if not answers.circuits:
            raise Refused("no-circuits", f"{_at(node.spot)}: there are no circuits in it.", _FORM)
        return answers


_FORM = "For example: circuits: {main: {refrigerant: R-134a}}"


def _entries(node: source.Node) -> list[tuple[source.Scalar, source.Node]]:
    if not isinstance(node, source.Mapping):
        raise Refused("bad-answers", f"{_at(node.spot)}: names with answers were expected here.", _FORM)
    return node.entries


def _scalar(node: source.Node) -> source.Scalar:
    if not isinstance(node, source.Scalar):
        raise Refused("bad-answers", f"{_at(node.spot)}: one word was expected here.", _FORM)
    return node


def _givens(node: source.Node, keys: tuple[str, ...] = ()) -> dict[str, Given]:
    found: dict[str, Given] = {}
    for key, value in _entries(node):
        if keys and key.text not in keys:
            raise _unknown(key.spot, key.text, keys)
        listed = isinstance(value, source.Sequence)
        items = [_scalar(item) for item in value.items] if isinstance(value, source.Sequence) else [_scalar(value)]
        if not items:
            say = f"{_at(key.spot)}: the list of {key.text} is empty."
            raise Refused("bad-answers", say, "Leave it out if it could not be had, else give its answers.")
        found[key.text] = Given(
            tuple(item.text for item in items), tuple(item.spot for item in items), key.spot, listed
        )
    return found


def _one(name: str, given: Given) -> Given:
    """What is not asked has one answer. Raises Refused for more."""
    if len(given.texts) > 1:
        raise Refused("bad-answers", f"{_at(given.spot)}: {name} is not asked, so it has one answer.", "Give that one.")
    return given


def _at(spot: Spot) -> str:
    return f"{spot.path}:{spot.line}:{spot.column}"


def _unknown(spot: Spot, name: str, names: Iterable[str]) -> Refused:
    close = nearest(name, names)
    cure = f"Did you mean {close}?" if close else "There are: " + ", ".join(sorted(names)[:12])
    return Refused("unknown-name", f"{_at(spot)}: there is nothing called {name!r}.", cure)


# ---- driving

_PLACES: Mapping[str, Callable[[Step], bool]] = {
    COULDNT: lambda step: isinstance(step, Do | Wait) and step.couldnt is not None,
    CUT_SHORT: lambda step: isinstance(step, Wait) and step.cut_short is not None,
}


def begin(
    library: Library,
    answers: Answers,
    *,
    embed_texts: bool = True,
    unit: str = "",
    laid_over: Sequence[Mapping[str, Any]] = (),
) -> Walk:
    """A walk opened as the file says, with its names checked. Raises Refused."""
    for given in (answers.visit, *answers.circuits.values()):
        for name, found in given.items():
            if name in _PLACES:
                _check_places(library, found, _PLACES[name])
                continue
            reading = library.catalogue.readings.get(name)
            if name != OFFERS and (reading is None or not (reading.ask or reading.beforehand)):
                asked = [r.id for r in library.catalogue.readings.values() if r.ask]
                raise _unknown(found.spot, name, asked)
    try:
        walk = Walk.start(
            library,
            answers.tree,
            known={
                **_known(library, answers.visit),
                "circuits": {name: _known(library, given) for name, given in answers.circuits.items()},
            },
            site={key: given.texts[0] for key, given in answers.site.items()},
            units=answers.units,
            unit=unit or _first(answers.visit.get("unit")),
            laid_over=laid_over,
            embed_texts=embed_texts,
        )
    except Refused as refused:
        raise Refused(refused.code, f"{_at(answers.spot)}: {refused.message}", refused.cure) from None
    walk.by = BY
    walk.units_needed = True
    return walk


def _check_places(library: Library, given: Given, has_the_way: Callable[[Step], bool]) -> None:
    """Each names a step that has this other way. Raises Refused."""
    named = ((f"{name}/{step.name}", step) for name, tree in library.trees.items() for step in tree.named.values())
    places = [place for place, step in named if has_the_way(step)]
    for text, spot in zip(given.texts, given.spots, strict=True):
        if text not in places:
            raise _unknown(spot, text, places)


def _known(library: Library, given: Mapping[str, Given]) -> dict[str, str]:
    readings = library.catalogue.readings
    beforehand = {name: found for name, found in given.items() if name in readings and readings[name].beforehand}
    return {name: _one(name, found).texts[0] for name, found in beforehand.items()}


def _first(given: Given | None) -> str:
    return given.texts[0] if given is not None else ""


def drive(walk: Walk, answers: Answers, act: Act | None = None) -> list[str]:
    """Answer until the walk ends; gives the readings that were asked and not in the file.

    `act` carries out one intent (a driver that records it); by default it is simply done.
    Raises Refused with the place of the answer that is not accepted, or of a list used up.
    """
    driver = Driver(walk, answers, act or (lambda intent: intent(walk)))
    while (prompt := walk.prompt) is not None:
        driver.step(prompt)
    driver.act(lambda walk: walk.close())
    return driver.not_given


def run_answers(library: Library, answers: Answers, *, embed_texts: bool = True) -> Walk:
    """The whole walk, in memory."""
    walk = begin(library, answers, embed_texts=embed_texts)
    drive(walk, answers)
    return walk


class Driver:
    """Answers one prompt after the other; `not_given`: readings asked for that the file lacks."""

    def __init__(self, walk: Walk, answers: Answers, act: Act) -> None:
        self.walk = walk
        self.answers = answers
        self.act = act
        self.used: dict[tuple[str, str], int] = {}
        self.not_given: list[str] = []

    def step(self, prompt: Prompt) -> None:
        """Answer one prompt."""
        if self._was_not_done(prompt):
            self.act(lambda walk: walk.couldnt(NOT_DONE))
        elif prompt.kind == ASK:
            self._ask(prompt)
        elif prompt.kind == WAIT:
            self._wait(prompt)
        elif prompt.kind == OFFER:
            self._offer(prompt)
        else:
            self.act(_PASS.get(prompt.kind, lambda walk: walk.answer(prompt.choices[0][0])))

    def _wait(self, prompt: Prompt) -> None:
        """A program waits for nothing: its waits count as full, but for those that are to be cut short."""
        if self._names(CUT_SHORT, prompt):
            self.act(lambda walk: walk.waited(0.0, CUT_AS_SAID))
        else:
            self.act(lambda walk: walk.waited(prompt.seconds or 0.0))

    def _names(self, key: str, prompt: Prompt) -> bool:
        given = self.answers.circuits.get(prompt.circuit, self.answers.visit).get(key)
        return given is not None and f"{prompt.tree}/{prompt.step}" in given.texts

    def _was_not_done(self, prompt: Prompt) -> bool:
        return prompt.kind in (DO, WAIT) and self._names(COULDNT, prompt)

    def _offer(self, prompt: Prompt) -> None:
        text, spot = self._next(prompt.circuit, OFFERS) or ("no", self.answers.spot)
        if text not in ("yes", "no"):
            raise Refused("not-a-choice", f"{_at(spot)}: {OFFERS}: {text!r} is neither yes nor no.", "Write yes or no.")
        if text == "yes" and self.used[prompt.circuit, OFFERS] > OFFERS_MOST:
            say = f"{_at(spot)}: {OFFERS}: accepted {OFFERS_MOST} times, and the visit still comes to no end."
            raise Refused("no-end", say, "Give them one by one, as in [yes, no].")
        self.act(lambda walk: walk.accept_offer(text == "yes"))

    def _ask(self, prompt: Prompt) -> None:
        reading = prompt.readings[0].id
        if reading in (ALTITUDE, GOOD_TO):
            self.not_given.append(reading)
            self.act(lambda walk: walk.couldnt(NOT_GIVEN))
            return
        found = self._next(prompt.circuit, reading)
        if found is None:
            self.not_given.append(reading)
            self._placed(prompt, self.answers.spot, reading, lambda walk: walk.couldnt(NOT_GIVEN, reading))
        else:
            text, spot = found
            self._placed(prompt, spot, reading, lambda walk: walk.answer({reading: text}))

    def _placed(self, prompt: Prompt, spot: Spot, reading: str, intent: Callable[[Walk], object]) -> None:
        """Do it; a refusal of the answer (not of the disk) names its place in the file."""

        def placed(walk: Walk) -> object:
            try:
                return intent(walk)
            except Refused as refused:
                say, cure = f"{_at(spot)}: {reading}: {refused.message}", refused.cure
                if refused.code == "must":
                    at = f"{prompt.tree}/{prompt.step}"
                    say = f"{_at(spot)}: {at} asks for {reading}, and can't go on without it."
                    cure = f"Write `{reading}: ...` among the answers, or name another tree than `{self.answers.tree}`."
                raise Refused(refused.code, say, cure) from None

        self.act(placed)

    def _next(self, circuit: str, reading: str) -> tuple[str, Spot] | None:
        given = self.answers.circuits.get(circuit, {}).get(reading) or self.answers.visit.get(reading)
        if given is None:
            return None
        place = (circuit, reading)
        number = self.used.get(place, 0)
        self.used[place] = number + 1
        if not given.listed:
            return given.texts[0], given.spots[0]
        if number >= len(given.texts):
            say = f"{_at(given.spot)}: {reading} asked {number + 1} times, {len(given.texts)} in its list."
            raise Refused("used-up", say, "Add an answer, or give one answer without a list for every time.")
        return given.texts[number], given.spots[number]


_PASS: Mapping[str, Callable[[Walk], object]] = {
    CAUTION: lambda walk: walk.acknowledge(),
    DO: lambda walk: walk.done(),
    CLOSE_CALL: lambda walk: walk.answer(GO_ON),
}
