"""The leak search: what a random person answers never puts nitrogen where it must not be; places; figures."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tui.quantity import Kind, parse
from tui.tree.library import Library
from tui.tree.model import Table
from tui.walk.core import Walk
from tui.walk.prompt import AskFor, Prompt

TREES = Path(__file__).parents[2] / "trees"
NITROGEN_IN = ("lets the first nitrogen in", "raises pressure with nitrogen")
OFTEN = {
    "search-now": "yes",
    "refrigerant": "R-134a",
    "plates-agree": "yes",
    "gas-inside": "all recovered",
    "circuit-empty": "yes",
    "customer-decides": "mend it",
    "soaped-joints": "none",
    "held-pressure": "55 psig",
}
NUMBERS = {
    "nameplate-charge": ("g", 90, 700),
    "low-side-rating": ("psig", 20, 300),
    "high-side-rating": ("psig", 150, 500),
    "charge-missing": ("g", 10, 90),
    "test-pressure": ("psig", 20, 160),
    "test-temperature": ("°F", 60, 80),
    "held-temperature": ("°F", 60, 80),
    "standing-pressure": ("psig", 0, 80),
    "standing-temperature": ("°F", 60, 80),
}


@cache
def library() -> Library:
    return Library.load(TREES)


@pytest.mark.parametrize("tree", ["leak-search", "nitrogen-hold"])
def test_nitrogen_never_goes_over_the_plate_or_over_refrigerant(tree: str) -> None:
    raised = 0
    for seed in range(40):
        for told, words in _raised(tree, random.Random(seed)):
            raised += 1
            assert told["circuit-empty"] == "yes"
            rating = _psig(told["low-side-rating"])
            if "high-side-rating" in told:  # else it could not be read
                assert rating <= _psig(told["high-side-rating"])
            if "In steps to " in words:
                assert _psig(words.split("In steps to ")[1].split(",")[0]) <= min(rating, 150.01)
    assert raised > 20  # else nothing was tried


def test_no_circuit_is_opened_with_nitrogen_inside() -> None:
    opened = 0
    for seed in range(80):
        walk = Walk.start(library(), "leak-search", site={"altitude": "300 ft"}, units="US")
        told: dict[str, str] = {}
        chance = random.Random(seed)
        while (prompt := walk.prompt) is not None:
            if prompt.work == "opens the circuit":
                opened += 1
                assert "nitrogen inside" not in [thing for _, thing in walk.left_on]
            _answer(walk, prompt, told, chance)
            if len(walk.events) > 600:
                break
    assert opened > 5  # else nothing was tried


def _raised(tree: str, chance: random.Random) -> Iterator[tuple[dict[str, str], str]]:
    """What was told so far and what the screen says, at each step that lets nitrogen in."""
    walk = Walk.start(library(), tree, site={"altitude": "300 ft"}, units="US")
    told: dict[str, str] = {}
    while (prompt := walk.prompt) is not None and len(walk.events) < 400:
        if prompt.work in NITROGEN_IN:
            yield dict(told), prompt.words
        _answer(walk, prompt, told, chance)


def _answer(walk: Walk, prompt: Prompt, told: dict[str, str], chance: random.Random) -> None:
    if prompt.kind == "ask":
        asked = prompt.readings[0]
        if not asked.must and chance.random() < 0.05:
            told.pop(asked.id, None)
            walk.couldnt("not to be had", asked.id)
            return
        told[asked.id] = _said(asked, chance)
        walk.answer({asked.id: told[asked.id]})
    elif prompt.kind == "caution":
        walk.acknowledge()
    elif prompt.kind == "wait":
        walk.waited(0.0, "test")
    elif prompt.kind == "offer":
        walk.accept_offer(False)
    elif prompt.kind == "close-call":
        walk.answer("go-on")
    else:
        walk.done()


def _said(asked: AskFor, chance: random.Random) -> str:
    if asked.id in OFTEN and chance.random() < 0.93:
        return OFTEN[asked.id]
    if asked.choices:
        return chance.choice(asked.choices)[0]
    if asked.kind is Kind.DATE:
        return "2025-01-01"
    if asked.kind is Kind.TEXT:
        return "by the door"
    unit, low, high = NUMBERS.get(asked.id, (asked.unit, 20, 22))
    return f"{chance.uniform(low, high):.2f} {unit}"


def _psig(text: str) -> float:
    found = parse(text, Kind.GAUGE_PRESSURE, shown="psig")
    assert not isinstance(found, str)
    return found.si / 6894.757293168


def _lists(name: str) -> dict[str, list[str]]:
    table = library().catalogue.places.lists[name]
    assert isinstance(table, Table)
    return {row.source: row.to.split(", ") for row in table.rows}


def test_soap_goes_where_the_detector_goes_but_for_what_it_cannot_show() -> None:
    """Fin packs seldom show bubbles, and what lies in foam shows none."""
    kinds = library().catalogue.places.things
    for equipment, places in _lists("leak-places").items():
        hidden = [place for place in places if kinds[place]["place-kind"] in ("fin pack", "in foam")]
        assert hidden
        assert _lists("soap-places")[equipment] == [place for place in places if place not in hidden]


def test_after_a_run_only_the_high_side_is_gone_over() -> None:
    kinds = library().catalogue.places.things
    for equipment in ("household fridge", "walk-in cooler", "reach-in cooler"):
        for receiver in ("yes", "no"):
            high = _places("high-places", equipment, receiver)
            assert {kinds[place]["place-side"] for place in high} == {"high side"}
            assert set(high) <= set(_places("leak-places", equipment, "TXV", receiver))


def test_only_places_that_the_circuit_has() -> None:
    """A TXV circuit has no cap tube, one without a receiver no receiver valve."""
    for name in ("leak-places", "soap-places"):
        assert "cap tube where it rubs" in _places(name, "reach-in cooler", "cap tube", "no")
        for receiver in ("yes", "no"):
            places = _places(name, "reach-in cooler", "TXV", receiver)
            assert "valve flares" in places
            assert "cap tube where it rubs" not in places
            assert ("receiver valves" in places) == (receiver == "yes")


def test_each_place_seen_is_one_of_the_list() -> None:
    """What a person says of a leak in sight leads to one place each, with what it is made of."""
    catalogue = library().catalogue
    answers = catalogue.readings["where-it-shows"].answers
    assert {"flare nut", "valve stem", "metering valve", "sight glass", "another place"} <= set(answers)
    assert all(len(_places("the-place-seen", answer)) == 1 for answer in (*answers, "unknown"))


def _places(name: str, *words: str) -> list[str]:
    row = library().catalogue.places.lists[name].row_for(words)
    assert row is not None
    return row.to.split(", ")


def test_the_detector_limit_is_the_published_one() -> None:
    """L23: SAE J2791 scales 4, 7 and 14 g a year."""
    figure = library().catalogue.figures["detector-limit"]
    assert "J2791" in figure.source
    assert figure.value is not None
    assert figure.value.si == pytest.approx(4e-3 / (365.25 * 86400), rel=1e-6)
