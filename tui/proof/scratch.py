"""Visits made up at random, where no example is there to begin with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random

from tui.proof.examples import UNREVIEWED, Example, Outcome, run_example
from tui.quantity import Kind, Quantity, Refused, show
from tui.tree.library import Library
from tui.tree.model import Reading
from tui.tree.spot import Spot
from tui.walk import Walk
from tui.walk.answers import OFFERS, Answers, Given
from tui.walk.kinds import ASK, CAUTION, DO, OFFER, WAIT

VISITS = 60  # made up for one tree
ANSWERS = 200  # in one visit at most
SEED = 20261125  # the same tree gets the same visits
SITE = {"altitude": "300 ft", "region": "US", "today": "2026-11-25"}
#: What is typed where neither a range nor another example says what is usual; invented.
_USUAL: Mapping[Kind, tuple[str, ...]] = {
    Kind.TEMPERATURE: ("10 °F", "35 °F", "75 °F", "105 °F"),
    Kind.GAUGE_PRESSURE: ("5 psig", "15 psig", "60 psig", "150 psig"),
    Kind.MASS: ("1 oz", "5 oz", "14 oz", "30 oz"),
    Kind.CURRENT: ("1 A", "4 A", "6 A"),
    Kind.VOLTAGE: ("0 V", "110 V", "230 V"),
    Kind.DATE: ("2026-10-01", "2026-11-24"),
    Kind.TEXT: ("invented",),
    Kind.YES_NO: ("yes", "no"),
}

Pool = Mapping[str, Sequence[str]]


def made_up(library: Library, tree: str, pool: Pool) -> list[Outcome]:
    """Visits that begin in this tree, each of which takes a row or a step that none before it did."""
    random = Random(SEED)
    kept: list[Outcome] = []
    seen: set[object] = set()
    for _ in range(VISITS):
        answers = _visit(library, tree, pool, random)
        outcome = run_example(library, Example("", answers.spot, UNREVIEWED, answers, ()))
        if not outcome.refused and not {*outcome.ways, *outcome.reached} <= seen:
            seen |= {*outcome.ways, *outcome.reached}
            kept.append(outcome)
    return kept


def _visit(library: Library, tree: str, pool: Pool, random: Random) -> Answers:
    """What was answered at random until the walk ended, as an answers file."""
    walk = Walk.start(library, tree, site=SITE, embed_texts=False)
    given: dict[str, dict[str, list[str]]] = {"": {}, **{name: {} for name in walk.circuits}}
    for _ in range(ANSWERS):
        prompt = walk.prompt
        if prompt is None:
            break
        if prompt.kind == ASK:
            reading = library.catalogue.readings[prompt.readings[0].id]
            text = random.choice(texts_for(reading, pool))
            try:
                walk.answer({reading.id: text})
            except Refused:
                walk.couldnt("made up", reading.id) if not reading.must else walk.close("made up")
                continue
            at = "" if reading.of == "unit" else prompt.circuit
            given.setdefault(at, {}).setdefault(reading.id, []).append(text)
        elif prompt.kind == CAUTION:
            walk.acknowledge()
        elif prompt.kind == DO:
            walk.done()
        elif prompt.kind == WAIT:
            walk.waited(prompt.seconds or 0.0)
        elif prompt.kind == OFFER:
            walk.accept_offer(False)
            given[prompt.circuit][OFFERS] = ["no"]
        else:
            walk.answer(prompt.choices[0][0])
    return _as_answers(tree, given)


def texts_for(reading: Reading, pool: Pool) -> Sequence[str]:
    """What can be answered to a reading: its words, what examples gave, else something usual within its range."""
    if reading.answers:
        return reading.answers
    if pool.get(reading.id):
        return pool[reading.id]
    if reading.names:
        return ("main",)
    if reading.low is not None and reading.high is not None and reading.kind not in (Kind.TEXT, Kind.DATE):
        low, high = reading.low, reading.high
        return [show(Quantity(reading.kind, low + (high - low) * part)) for part in (0.15, 0.4, 0.6, 0.85)]
    return _USUAL.get(reading.kind, ("1",))


def _as_answers(tree: str, given: Mapping[str, Mapping[str, Sequence[str]]]) -> Answers:
    spot = Spot("made up", 1, 1)
    answers = Answers(spot.path, spot, tree)
    answers.site = {name: Given((text,), (spot,), spot, False) for name, text in SITE.items()}
    parts = {
        where: {name: _given(texts, spot) for name, texts in each.items()} for where, each in given.items()
    }
    answers.visit = parts.pop("")
    answers.circuits = parts or {"main": {}}
    return answers


def _given(texts: Sequence[str], spot: Spot) -> Given:
    once = len(set(texts)) == 1
    found = tuple(texts[:1] if once else texts)
    return Given(found, (spot,) * len(found), spot, len(found) > 1)
