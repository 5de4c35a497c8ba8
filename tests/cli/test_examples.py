"""`examples`: its exit codes, its JSON, what it says of an example that ends otherwise."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Command
from tests.cli.shapes import EXAMPLES, SWAPS, TABLE, shaped
from tests.proof.conftest import ALL_EXAMPLES, WALK_LIBRARY
from tui.proof.forks import Fork, forks
from tui.tree.model import Tree

SEED = 20261201


@pytest.fixture
def examples(tmp_path: Path) -> Path:
    """The small library with its two examples, in a folder of its own."""
    trees = tmp_path / "trees"
    for file in WALK_LIBRARY.rglob("*.yaml"):
        copy = trees / file.relative_to(WALK_LIBRARY)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    file = trees / "examples" / "small.yaml"
    file.parent.mkdir()
    file.write_text(ALL_EXAMPLES, "utf-8")
    return file


def test_examples_that_end_as_they_say_are_well(lowside: Command, examples: Path) -> None:
    done = lowside("examples", examples.parent.parent, "--json")
    assert done.code == 0, done.err
    found = shaped(done.out, EXAMPLES)
    assert [(e["name"], e["ok"]) for e in found["examples"]] == [("fan-stopped", True), ("comes-up", True)]
    assert {"tree": "small", "step": "is-it-low", "row": "on or high", "example": "comes-up"} in found["uncovered"]


def test_the_table_says_the_same_as_text_and_as_json(lowside: Command) -> None:
    found = shaped(lowside("examples", "--table", "--json").out, TABLE)
    places = [(cause, name) for cause in found["causes"] for name in found["classes"]]
    assert [(cell["cause"], cell["class"]) for cell in found["cells"]] == places
    lines = lowside("examples", "--table").out.splitlines()
    assert max(map(len, lines)) <= 80
    rows = {line.split()[0]: line.split()[1:] for line in lines[2 : lines.index("")]}
    assert list(rows) == found["causes"]
    for cause, row in rows.items():
        cells = [cell for cell in found["cells"] if cell["cause"] == cause]
        assert row == [_as_text(cell["alone"], cell["cannot"]) for cell in cells]


def _as_text(count: dict[str, int], cannot: str | None) -> str:
    if not count["examples"]:
        return "." if cannot is None else "x"
    return f"{count['examples']}{'' if count['from_call'] else '*'}"


def test_unreviewed_examples_have_a_table_of_their_own(lowside: Command, examples: Path) -> None:
    assert "Unreviewed" not in lowside("examples", examples, "--table").out
    why = "Invented; a fan that stands still ends it at once."
    assert why in ALL_EXAMPLES
    examples.write_text(ALL_EXAMPLES.replace(why, "unreviewed"), "utf-8")
    hand_written, unreviewed = lowside("examples", examples, "--table").out.split("Unreviewed")
    assert re.search(r"^evaporator-fan +\. +\.$", hand_written, re.MULTILINE)
    assert re.search(r"^evaporator-fan +\. +1\*$", unreviewed, re.MULTILINE)


def test_rows_not_reached_are_named(lowside: Command, examples: Path) -> None:
    done = lowside("examples", examples)
    assert done.code == 0
    assert "no example reaches small/is-it-low: on or high (start from comes-up)" in done.out
    assert "2 of 2 examples end as they should" in done.out


def test_an_example_that_ends_otherwise_shows_both_findings(lowside: Command, examples: Path) -> None:
    examples.write_text(ALL_EXAMPLES.replace("cause: evaporator-fan", "cause: drier-blocked"), "utf-8")
    done = lowside("examples", examples)
    assert done.code == 1
    assert f"{examples}:2:1: fan-stopped ends otherwise" in done.out
    assert "expected main: drier-blocked at small/fan-is-dead" in done.out
    assert "got      main: evaporator-fan at small/fan-is-dead" in done.out


def test_an_unnoticed_swap_is_listed(lowside: Command, examples: Path) -> None:
    """A line that ends in a finding which others end in too, and no example comes by."""
    tree = examples.parent.parent / "small.yaml"
    text = tree.read_text("utf-8")
    row = "      on or high: came-up\n"
    assert row in text
    tree.write_text(text.replace(row, "      on: came-up\n      high: over-the-plate\n"), "utf-8")
    done = lowside("examples", examples, "--swap", "--json")
    assert done.code == 1
    found = shaped(done.out, {**EXAMPLES, "properties": {**EXAMPLES["properties"], "unnoticed": SWAPS}})
    gone = {"tree": "small", "step": "what-now", "row": "high", "to": "over-the-plate", "instead": "came-up"}
    assert gone in found["unnoticed"]
    told = lowside("examples", examples, "--swap")
    assert "small/what-now: high: sent to came-up, no example notices" in told.out


def test_a_sample_of_the_swaps_in_the_bundled_trees_is_noticed(
    lowside: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One row in twenty; `.ci/run` swaps them all."""
    drawn = random.Random(SEED)

    def some(tree: Tree) -> Iterator[Fork]:
        return (fork for fork in forks(tree) if drawn.random() < 1 / 20)

    monkeypatch.setattr("tui.proof.swap.forks", some)
    done = lowside("examples", "--swap")
    assert done.code == 0, done.out
    assert re.search(r"^all +\d+ +\d+ +\d+ +0$", done.out, re.MULTILINE)


def test_what_none_reaches_is_written_and_marked_unreviewed(lowside: Command, examples: Path) -> None:
    trees = examples.parent.parent
    done = lowside("examples", trees, "--write")
    made = examples.parent / "unreviewed.yaml"
    assert "small/is-it-low: on or high: small-is-it-low-1 written to" in done.out
    assert made.read_text("utf-8").startswith("# Made by lowside examples.")
    after = lowside("examples", trees)
    assert after.code == 0, after.err
    assert "small-is-it-low-1 is unreviewed: nobody has written its why" in after.out
    assert "no example reaches small/is-it-low: on or high" not in after.out


def test_an_example_comes_out_of_a_session(lowside: Command, tmp_path: Path) -> None:
    log, own = tmp_path / "visit.jsonl", tmp_path / "own"
    own.mkdir()
    assert lowside("walk", "--answers", ROOT / "tests" / "answers" / "ice.yaml", "--log", log).code == 0
    printed = lowside("examples", own, "--from", log)
    assert (printed.code, printed.err) == (0, "")
    assert re.match(r"[a-z-]+-1:\n  why: unreviewed\n  tree: both-low\n", printed.out)
    assert lowside("examples", own, "--from", log, "--write").code == 0
    assert (own / "examples" / "unreviewed.yaml").read_text("utf-8").endswith(printed.out)


def test_a_folder_of_trees_without_examples_is_told_so(lowside: Command, examples: Path) -> None:
    examples.unlink()
    done = lowside("examples", examples.parent.parent)
    assert done.code == 2
    assert "there is no file of examples" in done.err
    assert "--write" in done.err


def test_a_broken_example_is_refused_with_its_place(lowside: Command, examples: Path) -> None:
    examples.write_text(ALL_EXAMPLES.replace("at: small/came-up", "at: small/came-down"), "utf-8")
    done = lowside("examples", examples)
    assert done.code == 2
    assert f"{examples}:" in done.err
    assert "small/came-up" in done.err


def test_examples_alone_are_walked_through_the_bundled_trees(lowside: Command, tmp_path: Path) -> None:
    file = tmp_path / "one.yaml"
    file.write_text("a:\n  why: Invented.\n  tree: nowhere\n  circuits: {main: {}}\n  expect: []\n", "utf-8")
    done = lowside("examples", file)
    assert done.code == 2
    assert f"{file}:" in done.err


def test_with_write_one_that_ends_otherwise_is_told_too(lowside: Command, examples: Path) -> None:
    examples.write_text(ALL_EXAMPLES.replace("cause: evaporator-fan", "cause: drier-blocked"), "utf-8")
    done = lowside("examples", examples.parent.parent, "--write")
    assert done.code == 1
    assert "fan-stopped ends otherwise" in done.out


def test_an_example_of_the_same_name_stands_for_the_one_beneath(lowside: Command, tmp_path: Path) -> None:
    """One's own over lowside's: that one alone is taken out."""
    own = tmp_path / "own"
    (own / "examples").mkdir(parents=True)
    theirs = (ROOT / "trees" / "examples" / "air-and-ice.yaml").read_text("utf-8")
    mine = theirs[theirs.index("fan-stopped:") : theirs.index("fan-backwards:")]
    (own / "examples" / "air-and-ice.yaml").write_text(mine.replace("Invented.", "Invented, mine.", 1), "utf-8")
    (own / "gas-check.yaml").write_text((ROOT / "trees" / "gas-check.yaml").read_text("utf-8"), "utf-8")
    before = len(shaped(lowside("examples", "--json").out, EXAMPLES)["examples"])
    found = shaped(lowside("examples", own, "--json").out, EXAMPLES)["examples"]
    assert len(found) == before
    assert [e["file"] for e in found if e["name"] == "fan-stopped"] == [str(own / "examples" / "air-and-ice.yaml")]
