"""What the proofs, not the examples, keep out: each guard of the bundled trees taken away is refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tui.tree.library import BrokenLibrary, Library

TREES = Path(__file__).parents[2] / "trees"
RATING = " and hold-pressure is at most low-side-rating: carry on"
AIR_AND_ICE = (
    "evaporator-fan is running or none fitted and frost-pattern is not block of ice or back to the compressor "
    "and evaporator-coil is clean and air-path is clear: carry on"
)


@pytest.mark.parametrize(
    ("tree", "guard", "instead"),
    [
        ("nitrogen-hold", RATING, ": carry on"),
        ("leak-search", RATING, ": carry on"),
        ("nitrogen-hold", "circuit-empty is yes and hold-pressure", "hold-pressure"),
        ("repair-and-prove", "circuit-empty is yes and purged is yes: carry on", "circuit-empty is yes: carry on"),
        ("weigh-in", "    no: wrong-cylinder\n", "    no: carry on\n"),
        ("evacuation", "circuit-empty is yes and circuit-pressure-now", "circuit-pressure-now"),
        ("evacuation", "high, on, on: break-it", "high, on, on: is-dry"),
        ("evacuation", "high, high, any: is-leaking", "high, high, any: is-dry"),
        ("charge-test", AIR_AND_ICE, AIR_AND_ICE.replace("evaporator-fan is running or none fitted and ", "")),
        ("charge-test", AIR_AND_ICE, AIR_AND_ICE.replace("block of ice or ", "")),
        ("charge-test", AIR_AND_ICE, AIR_AND_ICE.replace("evaporator-coil is clean and ", "")),
        ("charge-test", AIR_AND_ICE, AIR_AND_ICE.replace(" and air-path is clear", "")),
        ("charge-test", "    adding-allowed is yes: carry on\n", "    adding-allowed is yes or no: carry on\n"),
        ("charge-test", "    receiver is yes or unknown: weigh-instead\n", ""),
        ("charge-test", "    suction is below 0 psig: weigh-instead\n", ""),
        ("motor-tests", "    no: carry on\n    yes or unknown: not-", "    no or unknown: carry on\n    yes: not-"),
        ("motor-tests", "    on, low: ground-is-weak\n    on, on: carry on", "    on, low or on: carry on"),
        ("trial-start", "otherwise: carry on\n- go: gas-check", "otherwise: measured-first\n- go: gas-check"),
    ],
)
def test_a_guard_taken_away_is_refused(tmp_path: Path, tree: str, guard: str, instead: str) -> None:
    folder = shutil.copytree(TREES, tmp_path / "trees")
    file = folder / f"{tree}.yaml"
    text = file.read_text("utf-8")
    assert guard in text
    file.write_text(text.replace(guard, instead), "utf-8")
    with pytest.raises(BrokenLibrary) as broken:
        Library.load(folder)
    assert "only-if-missing" in {problem.code for problem in broken.value.problems}
