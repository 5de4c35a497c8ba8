"""`check` prints every problem with its place, in three forms; `why` explains each code."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.cli.shapes import CHECK, shaped
from tui.tree.bundled import bundled_trees
from tui.tree.check.codes import PAGES


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """The bundled trees with a name mistyped in one of them."""
    folder = tmp_path / "trees"
    shutil.copytree(bundled_trees(), folder)
    tree = folder / "both-low.yaml"
    text = tree.read_text("utf-8")
    assert "evaporator-fan" in text
    tree.write_text(text.replace("evaporator-fan", "evaporator-fen", 1), "utf-8")
    return folder


def test_the_bundled_trees_are_proven(lowside: Command) -> None:
    done = lowside("check")
    assert done.code == 0, done.out
    assert shaped(lowside("check", "--format", "json").out, CHECK) == {"problems": []}


def test_a_problem_has_place_code_message_and_cure(lowside: Command, broken: Path) -> None:
    tree = broken / "both-low.yaml"
    line = next(n for n, text in enumerate(tree.read_text("utf-8").splitlines(), 1) if "evaporator-fen" in text)
    done = lowside("check", broken, "--format", "json")
    assert done.code == 1
    first = shaped(done.out, CHECK)["problems"][0]
    assert (first["path"], first["line"], first["severity"]) == (str(tree), line, "error")
    assert "evaporator-fen" in first["message"]
    assert "evaporator-fan" in first["cure"]
    assert f"{tree}:{line}:{first['column']}: {first['code']}: " in lowside("check", broken).out


def test_a_file_in_the_folder_will_do(lowside: Command, broken: Path) -> None:
    assert lowside("check", broken / "both-low.yaml").code == 1
    assert lowside("check", broken / "catalogue" / "readings.yaml").code == 1


def test_annotations_are_escaped(lowside: Command, broken: Path) -> None:
    done = lowside("check", broken, "--format", "github")
    assert done.code == 1
    for line in done.out.splitlines():
        assert line.startswith("::error file=")
        assert line.count("::") == 2


def test_own_trees_are_laid_over_the_bundled_ones(lowside: Command, home: Path) -> None:
    own = home / "trees"
    own.mkdir(parents=True)
    (own / "mine.yaml").write_text("tree: mine\ntitle: Mine\nedition: 1\nof: circuit\nsteps: []\n", "utf-8")
    done = lowside("check")
    assert done.code == 1
    assert str(own / "mine.yaml") in done.out


def test_a_broken_library_never_starts_a_walk(lowside: Command, broken: Path, home: Path) -> None:
    shutil.copytree(broken, home / "trees")
    done = lowside("walk", "--plain")
    assert done.code == 2
    assert "evaporator-fen" in done.err
    assert "lowside check" in done.err
    assert not list(home.glob("sessions/*"))


def test_a_folder_that_is_not_there_is_not_looked_at(lowside: Command, tmp_path: Path) -> None:
    done = lowside("check", tmp_path / "nowhere")
    assert done.code == 2
    assert "nowhere" in done.err


@pytest.mark.parametrize("code", sorted(PAGES))
def test_every_code_is_explained(lowside: Command, code: str) -> None:
    done = lowside("why", code)
    assert done.code == 0
    assert done.out.startswith(code)
    assert PAGES[code].means.split()[0] in done.out


def test_a_mistyped_code_is_refused_with_the_nearest(lowside: Command) -> None:
    done = lowside("why", "gab")
    assert done.code == 2
    assert "Did you mean gap?" in done.err
