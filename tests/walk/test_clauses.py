"""What nobody knows is no part of what a finding says was seen."""

from __future__ import annotations

import pytest

from tui.walk.clauses import known_clauses
from tui.walk.replaying import _as_said_now

TEXTS = {
    # a clause between others, at the end, at the beginning
    "Fan stopped. Also - fins clean, door closes - unknown, goods as built for.": (
        "Fan stopped. Also - fins clean, goods as built for."
    ),
    "Fan stopped. Also - fins unknown, air's way clear.": "Fan stopped. Air's way clear.",
    "Fan stopped. Also - fins unknown, door closes - unknown.": "Fan stopped.",
    "At least 1.42 oz was missing, 14.2 %. A year - unknown. Head 12 dF.": (
        "At least 1.42 oz was missing, 14.2 %. Head 12 dF."
    ),
    # a bracket alone
    "Leaks at drier joints (unknown). Rate at least - 2 oz/yr.": "Leaks at drier joints. Rate at least - 2 oz/yr.",
    # what a clause was joined by goes with it
    "Unknown. Drier unknown, and 3 °F, 1.5 bar over it.": "Unknown. 3 °F, 1.5 bar over it.",
    # the beginning stands, and what says itself that it is not known
    "Suction unknown, superheat unknown. No head gauge.": "Suction unknown, superheat unknown. No head gauge.",
    "It hums. Amps 46 A, plate unknown locked - missing, or too close.": (
        "It hums. Amps 46 A, plate unknown locked - missing, or too close."
    ),
    "All of it known, 1,600 ft.": "All of it known, 1,600 ft.",
}


@pytest.mark.parametrize("text", TEXTS)
def test_a_clause_that_nobody_knows_is_left_out(text: str) -> None:
    assert known_clauses(text) == TEXTS[text]
    assert known_clauses(TEXTS[text]) == TEXTS[text]


def test_an_older_record_says_the_same() -> None:
    """It told what was not known, too; and something else is not the same."""
    assert _as_said_now("Fan stopped, 32 °F (0 °C). Fins unknown.", "Fan stopped, 0 °C.")
    assert not _as_said_now("Fan stopped. Fins unknown.", "Fan runs.")
