"""What a unit has no question for leaves no decision open: a first visit, a sliding blend, one control for all."""

from __future__ import annotations

from tests.review.test_no_line_struck_out import of_example
from tests.review.visits import flat, section


def test_a_valve_proven_on_a_blend_leaves_no_list_of_all_causes() -> None:
    why = flat(section(of_example("walk-in-freezer-power-head-lost-si"), "MAIN: WHY, 09:30"))
    assert "stayed open" not in why
    assert "evaporator bend (not asked)" not in why
