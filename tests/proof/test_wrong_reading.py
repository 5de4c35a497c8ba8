"""One reading wrong by twice what its instrument is good to: rarely another finding, and then one that names both."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof import shifting
from tests.proof.shifting import BOTH, NOTHING, OTHER, POSSIBLE, SAME, STOP, End, Shift, compared, outcomes, sample
from tests.proof.shifts_told import report
from tui.proof.reading import example_files, read_examples
from tui.tree.library import Library

TREES = Path(__file__).resolve().parents[2] / "trees"
DRIER, SHORT, FAN = frozenset({"drier-blocked"}), frozenset({"short-of-charge"}), frozenset({"evaporator-fan"})
NONE: frozenset[str] = frozenset()


def shifted(library: Library, file: Path) -> dict[tuple[str, int, str], str]:
    """(reading, which, as it is now read) to what it came to, of the examples in a file."""
    return {
        (each.shift.reading, each.shift.number, each.shift.now): each.came_to
        for each in outcomes(library, read_examples(library, [file]))
    }


def test_each_number_that_was_asked_for_is_read_too_high_and_too_low(library: Library, examples: Path) -> None:
    """Gauge good to 0.5 psi, scale to 2 g; the plate has no instrument, and nothing is asked of a fan that stands."""
    found = shifted(library, examples)
    gauge = [(number, now) for reading, number, now in found if reading == "suction"]
    assert gauge == [(n, f"{psi + by:.6f} psig") for n, psi in enumerate((8, 9, 15)) for by in (1, -1)]
    assert {reading for reading, _, _ in found} == {"suction", "scale"}


def test_a_reading_by_the_limit_changes_the_finding(library: Library, examples: Path) -> None:
    """Three rounds at most; in the last it comes up just so far (11.9 psig)."""
    text = examples.read_text("utf-8")
    text = text.replace("[8 psig, 9 psig, 15 psig]", "[8 psig, 9 psig, 9 psig, 12.5 psig]")
    text = text.replace("[200 oz, 199 oz, 198 oz]", "[200 oz, 199 oz, 198 oz, 197 oz]")
    examples.write_text(text, "utf-8")
    changed = {key: came_to for key, came_to in shifted(library, examples).items() if came_to != SAME}
    assert changed == {("suction", 3, "11.500000 psig"): BOTH}, "the finding says what was near its limit"


def test_a_close_call_is_left_open(library: Library, examples: Path) -> None:
    """The limit is 11.9 psig; with a gauge good to 0.5 psi, 0.4 psi under it settle nothing."""
    text = examples.read_text("utf-8")
    examples.write_text(text.replace("[8 psig, 9 psig, 15 psig]", "[10.5 psig, 9 psig, 15 psig]"), "utf-8")
    (one,) = [each for each in outcomes(library, read_examples(library, [examples])) if each.close]
    assert (one.came_to, one.shift.now) == (BOTH, "11.500000 psig")
    assert one.new is not None
    assert one.new.at == "small/cannot-say"


@pytest.mark.parametrize(
    ("old", "new", "came_to"),
    [
        ((DRIER, NONE), (DRIER, SHORT), SAME),
        ((DRIER, NONE), (DRIER | SHORT, NONE), BOTH),
        ((DRIER | SHORT, NONE), (DRIER, NONE), BOTH),
        ((DRIER, NONE), (SHORT, DRIER), POSSIBLE),
        ((DRIER, SHORT), (SHORT, NONE), OTHER),
        ((DRIER, NONE), (SHORT | FAN, NONE), OTHER),
        ((DRIER, NONE), (NONE, DRIER), POSSIBLE),
        ((NONE, DRIER), (DRIER, NONE), STOP),
        ((DRIER, NONE), (NONE, SHORT), NOTHING),
    ],
)
def test_what_a_change_is_called(
    old: tuple[frozenset[str], frozenset[str]], new: tuple[frozenset[str], frozenset[str]], came_to: str
) -> None:
    """Each finding: what it names, and what it shows as still possible beside it."""
    shift = Shift(None, "main", "suction", 0, "", "")  # type: ignore[arg-type]
    found = compared(shift, "t", [End("main", "t/a", *old)], [End("main", "t/b", *new)])
    assert found.came_to == came_to


@pytest.mark.parametrize(("old_near", "new_near", "came_to"), [(NONE, DRIER, BOTH), (SHORT, NONE, OTHER)])
def test_what_the_new_finding_says_of_a_near_limit_counts(
    old_near: frozenset[str], new_near: frozenset[str], came_to: str
) -> None:
    """Not what the old one says: nobody sees that, with the wrong reading."""
    shift = Shift(None, "main", "suction", 0, "", "")  # type: ignore[arg-type]
    old, new = End("main", "t/a", DRIER, NONE, old_near), End("main", "t/b", SHORT, NONE, new_near)
    assert compared(shift, "t", [old], [new]).came_to == came_to


def test_where_one_ends_earlier_the_last_of_each_are_compared() -> None:
    shift = Shift(None, "main", "suction", 0, "", "")  # type: ignore[arg-type]
    first, then = End("main", "t/a", DRIER | SHORT, NONE), End("main", "t/b", DRIER, NONE)
    assert compared(shift, "t", [first, then], [first]).came_to == BOTH


def test_the_same_seed_gives_the_same_sample() -> None:
    everything = read_examples(Library.read(TREES), example_files([TREES]))
    some = sample(everything, 20, 1)
    assert [each.name for each in some] == [each.name for each in sample(everything, 20, 1)]
    assert [each.name for each in some] != [each.name for each in sample(everything, 20, 2)]


def test_fewer_than_one_in_ten_changes_and_of_these_nearly_all_to_one_that_names_both() -> None:
    """A sample, in which one example can weigh much; the whole by tests/proof/wrong_reading.py."""
    library = Library.read(TREES)
    examples = sample(read_examples(library, example_files([TREES])), 120, 1)
    found = [each for each in outcomes(library, examples, one_in=4) if each.came_to != shifting.NO_END]
    changed = [each for each in found if each.came_to != SAME]
    assert len(found) > 200
    assert 0 < len(changed) < len(found) / 10, "\n".join(report(found))
    two = [each for each in changed if each.came_to != STOP]
    assert sum(each.came_to == BOTH for each in two) > 0.8 * len(two), "\n".join(report(found))
    assert sum(each.came_to == OTHER for each in changed) < len(found) / 50, "\n".join(report(found))
