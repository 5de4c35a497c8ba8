"""`map`: which tree, in which form, with a visit's way; and what it says where it can't."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.proof.conftest import ALL_EXAMPLES, WALK_LIBRARY
from tui.desk.clock import SystemClock
from tui.desk.session import Visit
from tui.tree.library import Library
from tui.walk import Walk


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The file of the small tree, in a library of its own with two examples."""
    trees = tmp_path / "trees"
    for file in WALK_LIBRARY.rglob("*.yaml"):
        copy = trees / file.relative_to(WALK_LIBRARY)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    (trees / "examples").mkdir()
    (trees / "examples" / "small.yaml").write_text(ALL_EXAMPLES, "utf-8")
    return trees / "small.yaml"


@pytest.fixture
def visit(small: Path, tmp_path: Path) -> Path:
    """A visit that has found a fan that stands still."""
    walk = Walk.start(Library.load(small.parent), "small", site={"altitude": "0 ft"})
    visit = Visit.begin(walk, SystemClock(), tmp_path / "visit.jsonl")
    for text in ("R-134a", "yes", "14 oz"):
        visit.act(lambda walk, text=text: walk.answer(text))  # type: ignore[misc]
    visit.act(lambda walk: walk.answer({"fan": "stopped", "box-wanted": "35 °F"}))
    visit.leave()
    assert visit.path is not None
    return visit.path


@pytest.mark.slow
def test_a_bundled_tree_by_its_name(lowside: Command) -> None:
    done = lowside("map", "take-the-readings")
    assert (done.code, done.err) == (0, "")
    assert "\nflowchart TD\n" in done.out
    assert '|"hoses crossed"|' in done.out
    assert "(no example)" not in done.out, "every row of the bundled trees has one"


def test_a_tree_by_its_file_with_rows_that_no_example_reaches(lowside: Command, small: Path) -> None:
    done = lowside("map", small)
    assert (done.code, done.err) == (0, "")
    assert '|"on or high<br/>(no example)"|' in done.out
    assert '|"stopped"|' in done.out


def test_into_a_file(lowside: Command, small: Path, tmp_path: Path) -> None:
    """In UTF-8 whatever the terminal has; some shells write what they redirect in another encoding."""
    done = lowside("map", small, "--out", tmp_path / "small.mmd")
    assert (done.code, done.out) == (0, "")
    assert (tmp_path / "small.mmd").read_text("utf-8") == lowside("map", small).out
    assert lowside("map", small, "--out", tmp_path).code == 2


def test_graphviz(lowside: Command, small: Path) -> None:
    done = lowside("map", small, "--format", "dot")
    assert done.code == 0
    assert done.out.startswith('digraph "small" {')


def test_a_tree_that_does_not_hold_is_drawn_all_the_same(lowside: Command, small: Path) -> None:
    text = small.read_text("utf-8")
    small.write_text(text.replace("- caution: gloves, flammable\n", ""), "utf-8")
    done = lowside("map", small)
    assert done.code == 0
    assert "finding: came-up" in done.out
    assert "lowside check" in done.err


def test_a_tree_without_examples_is_drawn_all_the_same(lowside: Command, small: Path) -> None:
    (small.parent / "examples" / "small.yaml").unlink()
    (small.parent / "examples").rmdir()
    done = lowside("map", small)
    assert done.code == 0
    assert "(no example)" not in done.out
    assert "no examples" in done.err


def test_the_tree_that_a_visit_stands_in_and_how_it_went(lowside: Command, visit: Path, small: Path) -> None:
    done = lowside("map", small, "--session", visit)
    assert (done.code, done.err) == (0, "")
    assert '"finding: fan-is-dead<br/>evaporator-fan<br/>HERE: main"' in done.out
    assert '==>|"stopped"|' in done.out
    alone = lowside("map", "--session", visit)
    assert alone.code == 0
    assert "HERE: main" in alone.out
    assert "not among yours" in alone.err


def test_a_tree_that_has_changed_since_is_drawn_as_it_was_walked(lowside: Command, visit: Path, small: Path) -> None:
    small.write_text(small.read_text("utf-8").replace("fan-is-dead", "fan-stands"), "utf-8")
    done = lowside("map", small, "--session", visit)
    assert done.code == 0
    assert "fan-is-dead" in done.out
    assert "has changed since" in done.err


def test_a_visit_that_never_came_into_that_tree(lowside: Command, visit: Path, small: Path) -> None:
    done = lowside("map", small.with_name("readings.yaml"), "--session", visit)
    assert done.code == 0
    assert "HERE" not in done.out
    assert "never came into readings" in done.err


def test_an_altered_visit_is_not_drawn(lowside: Command, visit: Path) -> None:
    visit.write_bytes(visit.read_bytes().replace(b"stopped", b"running", 1))
    done = lowside("map", "--session", visit)
    assert (done.code, done.out) == (2, "")
    assert "lowside verify" in done.err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "which tree?"),
        (("chargetest",), "Did you mean charge-test?"),
        (("call", "--session", "nowhere.jsonl"), "nowhere.jsonl"),
        (("nowhere.yaml",), "nowhere.yaml"),
        (("call", "--format", "svg"), "--format"),
    ],
)
def test_what_can_t_be_is_told(lowside: Command, arguments: tuple[str, ...], words: str) -> None:
    done = lowside("map", *arguments)
    assert (done.code, done.out) == (2, "")
    assert words in done.err
