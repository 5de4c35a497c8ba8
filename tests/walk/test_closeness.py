"""A close call says its figures in the unit they are read in, and where each verdict leads."""

from __future__ import annotations

import pytest

from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Prompt, Walk

SITE = {"altitude": "300 ft", "today": "2026-11-25"}
GIVEN = {
    "circuit-empty": "yes",
    "circuit-pressure-now": "0",
    "micron": "420",
    "micron-held": "510",
    "micron-later": "520",
}


@pytest.fixture
def walk() -> Walk:
    """Just above 500 micron, twenty minutes after the pump was shut off."""
    made = Walk.start(Library.read(bundled_trees()), "evacuation", site=SITE, unit="K-1", units="SI")
    for _ in range(40):
        prompt = made.prompt
        assert prompt is not None
        if prompt.kind == "close-call":
            return made
        _on(made, prompt)
    raise AssertionError("no close call")


def _on(walk: Walk, prompt: Prompt, given: dict[str, str] = GIVEN) -> None:
    if prompt.kind == "ask":
        reading = prompt.readings[0]
        walk.answer({reading.id: given.get(reading.id) or reading.choices[0][0]})
    elif prompt.kind == "wait":
        walk.waited(prompt.seconds or 0.0)
    elif prompt.kind == "caution":
        walk.acknowledge()
    else:
        walk.done()


def asked(walk: Walk) -> Prompt:
    assert walk.prompt is not None
    return walk.prompt


def test_reading_limit_difference_and_error_stand_in_the_question(walk: Walk) -> None:
    words = asked(walk).words
    for figure in ("520 micron", "20 micron above", "500 micron", "can be 60 micron"):
        assert figure in words
    assert "bar" not in words


def test_each_verdict_says_where_it_leads(walk: Walk) -> None:
    how = asked(walk).how
    assert "as wanted: evacuation ends: dry." in how
    assert "high, as it reads: Break the vacuum with dry nitrogen" in how
    assert not walk.verdicts, "whether it is dry is nobody's opinion"


def test_what_is_left_open_says_how_it_ends(walk: Walk) -> None:
    said = dict(asked(walk).choices)["go-on"]
    assert said.startswith("leave it open: ends, not told apart: moisture freezing, short of charge")


def test_the_table_has_microns_of_microns(walk: Walk) -> None:
    assert walk.table()[0].difference == "+20 micron"


def test_a_choice_taken_back_is_named(walk: Walk) -> None:
    walk.answer("again")
    assert walk.undo_shows()[0] == "your choice: take it again"


WARM_BOX = {
    "equipment": "walk-in cooler",
    "metering": "TXV",
    "refrigerant": "R-448A",
    "nameplate-charge": "12 lb",
    "high-side-rating": "450 psig",
    "frost-pattern": "only at the inlet",
    "box-wanted": "36 °F",
    "box-air": "47 °F",
    "return-air": "47 °F",
    "supply-air": "42 °F",
    "evaporator-outlet": "40 °F",
    "condenser-air": "82 °F",
    "condenser-bend": "91 °F",
    "condenser-outlet": "86 °F",
    "hot-air-returns": "no",
}


def test_a_way_that_asks_ends_in_its_question_mark_alone() -> None:
    made = Walk.start(Library.read(bundled_trees()), "look-and-measure", site=SITE, unit="K-1", units="US")
    for _ in range(60):
        if asked(made).kind == "close-call":
            break
        _on(made, asked(made), WARM_BOX)
    assert asked(made).how.endswith("asks Is the box still getting colder?")
