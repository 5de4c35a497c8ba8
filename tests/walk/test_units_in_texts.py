"""Texts that the program makes are in the units of the visit, with no more digits than were measured."""

from __future__ import annotations

import pytest

from tests.walk.test_closeness import SITE
from tui.quantity import Kind, Quantity, parse_literal
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Prompt, Walk
from tui.walk.exactness import as_read, good_to_words


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0.5 psi", "0.03 bar"),
        ("1 dF", "0.6 dC"),
        ("1 % of 250 psi", "1 % of 17.24 bar"),
        ("10 % of reading", "10 % of reading"),
        ("2 g", "2 g"),
        ("0.1 bar", "0.1 bar"),
    ],
)
def test_what_an_instrument_is_good_to(text: str, said: str) -> None:
    assert good_to_words(text, "SI") == said
    assert good_to_words(text, "US") == text


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (Quantity(Kind.RATIO, 0.30769), "%", "30.8 %"),
        (Quantity(Kind.MASS, 0.0272), "g", "27 g"),
        (Quantity(Kind.MASS, 0.0034), "g", "3.4 g"),
        (parse_literal("27.2 g"), "g", "27.2 g"),
    ],
)
def test_no_digits_that_nobody_measured(value: Quantity, unit: str, said: str) -> None:
    assert as_read(value, unit) == said, "what somebody typed stays as it is"


def _on(walk: Walk, prompt: Prompt) -> None:
    if prompt.kind == "ask":
        reading = prompt.readings[0]
        given = {"low-side-rating": "10", "high-side-rating": "30", "test-temperature": "20", "soaped-joints": "none"}
        walk.answer({reading.id: given.get(reading.id) or (reading.choices[0][0] if reading.choices else "5")})
    elif prompt.kind == "caution":
        walk.acknowledge()
    elif prompt.kind == "wait":
        walk.waited(prompt.seconds or 0.0)
    else:
        walk.done()


def test_nitrogen_is_not_said_back_as_saturated() -> None:
    library = Library.read(bundled_trees())
    walk = Walk.start(library, "nitrogen-hold", site=SITE, unit="K-1", units="SI")
    walk.answer({"refrigerant": "R-134a", "nameplate-charge": "650 g"})
    assert any("saturated" in each for each in walk.try_answer("5 barg", "suction").beside)
    for _ in range(40):
        prompt = walk.prompt
        assert prompt is not None
        if prompt.readings and prompt.readings[0].id == "test-pressure":
            break
        _on(walk, prompt)
    echo = walk.try_answer("9.6", "test-pressure")
    assert echo.ok
    assert not any("saturated" in each for each in echo.beside)
