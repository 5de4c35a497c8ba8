"""Examples: read with their places, walked, all four parts of a finding compared."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tui.proof.examples import Found, run_example, run_examples
from tui.proof.reading import example_files, read_examples
from tui.quantity import Refused
from tui.tree.library import Library


def test_examples_end_as_they_say(library: Library, examples: Path) -> None:
    outcomes = run_examples(library, read_examples(library, [examples]))
    assert [outcome.example.name for outcome in outcomes] == ["fan-stopped", "comes-up"]
    assert [outcome.got for outcome in outcomes] == [
        (Found("main", "evaporator-fan", "small/fan-is-dead"),),
        (Found("main", "short-of-charge", "small/came-up"),),
    ]
    assert all(outcome.ok for outcome in outcomes)


@pytest.mark.parametrize(
    "change",
    [
        {"cause": "drier-blocked"},
        {"circuit": "other"},
        {"at": "small/never-came-up"},
        {"could_be": ("short-of-charge",)},
    ],
)
def test_each_of_the_four_parts_counts(library: Library, examples: Path, change: dict[str, object]) -> None:
    example = read_examples(library, [examples])[0]
    (found,) = example.expected
    other = replace(example, expected=(replace(found, **change),))  # type: ignore[arg-type]
    assert run_example(library, example).ok
    assert not run_example(library, other).ok


def test_one_finding_more_or_less_counts(library: Library, examples: Path) -> None:
    example = read_examples(library, [examples])[0]
    assert not run_example(library, replace(example, expected=())).ok
    assert not run_example(library, replace(example, expected=example.expected * 2)).ok


def test_a_walk_that_cannot_end_is_not_well_and_says_where(library: Library, examples: Path) -> None:
    examples.write_text(examples.read_text("utf-8").replace("[200 oz, 199 oz, 198 oz]", "[200 oz]"), "utf-8")
    outcome = run_example(library, read_examples(library, [examples])[1])
    assert not outcome.ok
    assert "scale" in outcome.refused
    assert f"{examples}:" in outcome.refused


def test_what_was_taken_is_told(library: Library, examples: Path) -> None:
    outcome = run_example(library, read_examples(library, [examples])[1])
    assert {
        ("small", "fan-first", "running"),
        ("small", "is-it-low", "low"),
        ("small", "what-now", "low"),
        ("small", "what-now", "on or high"),
        ("small", "go-readings", "taken"),
    } <= outcome.ways
    assert {("small", "came-up"), ("small", "add-some"), ("readings", "suction-level")} <= outcome.reached
    assert ("small", "fan-is-dead") not in outcome.reached


def test_screens_are_counted_not_readings(library: Library, examples: Path) -> None:
    """Refrigerant, door, charge; fan and box wanted are asked in one go."""
    assert run_example(library, read_examples(library, [examples])[0]).steps == 4


WELL = """
well:
  why: Invented; saturation of R-134a at the coil temperature, sea level.
  tree: small
  site: {altitude: 0 ft}
  circuits:
    main:
      refrigerant: R-134a
      door: yes
      nameplate-charge: 14 oz
      fan: [running, stopped]
      box-wanted: 35 °F
      suction: 15 psig
  expect:
  - {cause: refrigeration-is-well, at: small/it-is-well}
"""
AGAIN = "  - {cause: evaporator-fan, at: small/fan-is-dead}\n"


@pytest.mark.parametrize(("offer", "more"), [("", ""), ("no", ""), ("yes", AGAIN), ("[yes, no]", AGAIN)])
def test_an_offer_is_accepted_only_where_the_file_says_so(
    library: Library, examples: Path, offer: str, more: str
) -> None:
    said = f"      offer: {offer}\n" if offer else ""
    examples.write_text(WELL.replace("      suction", f"{said}      suction") + more, encoding="utf-8")
    outcome = run_example(library, read_examples(library, [examples])[0])
    assert outcome.ok, (outcome.got, outcome.refused)


def test_an_offer_is_yes_or_no(library: Library, examples: Path) -> None:
    examples.write_text(WELL.replace("      suction", "      offer: perhaps\n      suction"), encoding="utf-8")
    outcome = run_example(library, read_examples(library, [examples])[0])
    assert "neither yes nor no" in outcome.refused


def test_offers_accepted_without_end_are_refused(library: Library, examples: Path) -> None:
    """The same answers come to the same finding, and its offer, again and again."""
    always = WELL.replace("[running, stopped]", "running").replace("      suction", "      offer: yes\n      suction")
    examples.write_text(always, encoding="utf-8")
    outcome = run_example(library, read_examples(library, [examples])[0])
    assert "accepted 12 times" in outcome.refused
    assert "[yes, no]" in outcome.refused


def test_work_that_could_not_be_done_is_named_by_its_step(library: Library, examples: Path) -> None:
    examples.write_text(WELL.replace("      suction", "      couldn't: small/nowhere\n      suction"), encoding="utf-8")
    outcome = run_example(library, read_examples(library, [examples])[0])
    assert "nothing called 'small/nowhere'" in outcome.refused
    assert f"{examples}:" in outcome.refused


def everything_told(library: Library, examples: Path) -> str:
    """What reading the file, and then walking it, refuses."""
    try:
        outcomes = run_examples(library, read_examples(library, [examples]))
    except Refused as refused:
        return str(refused)
    return "\n".join(outcome.refused for outcome in outcomes)


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ("cause: evaporator-fan", "cause: evaporator-fen", "evaporator-fan"),
        ("at: small/fan-is-dead", "at: small/fan-is-deaf", "small/fan-is-dead"),
        ("at: small/fan-is-dead", "at: smal/fan-is-dead", "small"),
        ("at: small/fan-is-dead", "at: small/fan-first", "nothing called"),
        ("cause: evaporator-fan, ", "", "without `cause`"),
        ("circuit: main, cause", "circuit: mane, cause", "main"),
        ("circuit: main, cause", "circle: main, cause", "circuit"),
        ("  why: Invented; a fan that stands still ends it at once.\n", "", "no `why`"),
        ("comes-up:", "fan-stopped:", "fan-stopped"),
        ("fan: stopped, box", "fen: stopped, box", "fan"),
    ],
)
def test_mistakes_in_a_file_have_their_place_and_cure(
    library: Library, examples: Path, good: str, bad: str, says: str
) -> None:
    text = examples.read_text("utf-8")
    assert good in text
    examples.write_text(text.replace(good, bad, 1), "utf-8")
    told = everything_told(library, examples)
    assert f"{examples}:" in told
    assert says in told


def test_all_mistakes_are_told_at_once(library: Library, examples: Path) -> None:
    text = examples.read_text("utf-8").replace("small/fan-is-dead", "small/x").replace("small/came-up", "small/y")
    examples.write_text(text, "utf-8")
    with pytest.raises(Refused) as refused:
        read_examples(library, [examples])
    assert "small/x" in str(refused.value)
    assert "small/y" in str(refused.value)


def test_files_are_found_in_folders(examples: Path) -> None:
    trees = examples.parent.parent
    assert example_files([trees]) == [examples]
    assert example_files([examples.parent, examples]) == [examples]
    with pytest.raises(Refused, match="no such file"):
        example_files([trees / "nowhere"])
