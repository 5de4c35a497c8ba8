"""What no example reaches, asked of a process of its own: the same as `examples` says, and never waited for."""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tui.proof.apart import Unreached
from tui.proof.unreached import answer, leading_to
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library

SAYS = [sys.executable, "-c", "import sys; print(sys.argv[1])"]


@pytest.fixture
def mine(lowside: Command, tmp_path: Path) -> Path:
    """A new tree with an end that none of its examples reaches."""
    folder = tmp_path / "my-trees"
    assert lowside("new", "door-check", "--in", folder).code == 0
    examples = folder / "examples" / "door-check.yaml"
    text = examples.read_text("utf-8")
    at = text.index("door-check-cold:")
    examples.write_text(text[:at] + text[text.index("door-check-warm:") :], "utf-8")
    return folder


def known(unreached: Unreached) -> Unreached:
    until = time.monotonic() + 120
    while unreached.waiting:
        assert time.monotonic() < until
        time.sleep(0.02)
    return unreached


def test_rows_and_steps_of_the_tree_alone(mine: Path) -> None:
    folders = [bundled_trees(), mine]
    library = Library.load(*folders)
    assert library.folders == tuple(map(str, folders))
    assert leading_to(library, "door-check") == {"door-check"}
    assert answer("door-check", folders) == {"digest": library.digest, "bare": [["box-is-cold", ""]]}


def test_a_walk_comes_into_a_tree_from_all_that_lead_there() -> None:
    found = leading_to(Library.load(bundled_trees()), "charge-test")
    assert {"charge-test", "both-low", "circuit-call", "call"} <= found
    assert "evacuation" not in found


def test_a_process_of_its_own(mine: Path) -> None:
    folders = (str(bundled_trees()), str(mine))
    found = known(Unreached("door-check", folders, Library.load(*folders).digest))
    assert found.problem == ""
    assert found.bare == {("box-is-cold", "")}


def test_trees_that_do_not_hold(mine: Path) -> None:
    tree = mine / "door-check.yaml"
    tree.write_text(tree.read_text("utf-8").replace("box-air", "box-ayr", 1), "utf-8")
    assert answer("door-check", [bundled_trees(), mine]) == {"problem": "the trees do not hold"}


@pytest.mark.parametrize(
    ("said", "problem"),
    [
        (json.dumps({"digest": "of others", "bare": []}), "the trees have changed since they were read"),
        (json.dumps({"problem": "there is none"}), "there is none"),
        ("no JSON", "the examples could not be walked"),
        ("", "the examples could not be walked"),
        ("[]", "the examples could not be walked"),
    ],
)
def test_what_can_not_be_told_is_said(said: str, problem: str) -> None:
    found = known(Unreached("a", ["trees"], "mine", [*SAYS[:2], f"print({said!r})"]))
    assert (found.problem, found.bare) == (problem, frozenset())


def test_without_a_folder_or_a_program() -> None:
    assert Unreached("a", [], "mine").problem == "these trees lie in no folder"
    assert Unreached("a", ["trees"], "mine", ["no-such-program-here"]).problem.startswith("it can't be started")


def test_it_ends_when_nobody_wants_to_know() -> None:
    found = Unreached("a", ["trees"], "mine", [sys.executable, "-c", "import time; time.sleep(600)"])
    assert found.waiting
    found.close()
    known(found)
