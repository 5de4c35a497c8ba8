"""Names a trainer gets wrong: paths, endings, folders, numbers. What is not read is said, what was meant is named."""

from __future__ import annotations

import io
import os
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tui.cli import output


@pytest.fixture
def mine(lowside: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a new tree and its examples, in the current folder."""
    monkeypatch.chdir(tmp_path)
    assert lowside("new", "door-check", "--in", "my-trees").code == 0
    return tmp_path / "my-trees"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (("check", "mytrees"), "my-trees"),
        (("check", "my-trees/door-chek.yaml"), "my-trees/door-check.yaml"),
        (("examples", "my-tres/examples"), "my-trees/examples"),
        (("examples", "my-trees/examples/door-check.yml"), "my-trees/examples/door-check.yaml"),
        (("pack", "my-treees"), "my-trees"),
    ],
)
def test_a_path_that_differs_by_a_letter(lowside: Command, mine: Path, typed: tuple[str, ...], meant: str) -> None:
    done = lowside(*typed)
    assert (done.code, done.out) == (2, "")
    assert done.err == f"{typed[1]}: there is no such file or folder.\n  Did you mean {Path(meant)}?\n"


def test_a_path_like_nothing_there(lowside: Command, mine: Path) -> None:
    assert lowside("check", "quite/elsewhere").err.endswith("\n  Name a folder of trees.\n")
    assert lowside("check", mine.parent / "mytrees").err.endswith(f"\n  Did you mean {mine}?\n")


def warned(lowside: Command, path: str, message: str) -> None:
    done = lowside("check", "my-trees")
    assert done.code == 0
    assert f"{Path('my-trees') / path}:1:1: warning: not-a-file: {message} Rename it.\n" in done.out


def test_files_that_are_not_read_for_their_name(lowside: Command, mine: Path) -> None:
    tree, example = mine / "door-check.yaml", mine / "examples" / "door-check.yaml"
    for name in ("one.yml", "two.yaml.txt", "three.txt", "four"):
        shutil.copy(tree, mine / name)
        warned(lowside, name, "This file is not read: a tree's name ends in `.yaml`.")
    for name in ("notes.txt", "LICENSE", "picture.png"):
        (mine / name).write_text("Not a tree: at all.\n", "utf-8")
        assert name not in lowside("check", "my-trees").out
    example.rename(mine / "examples" / "more.yml")
    warned(lowside, "examples/more.yml", "This file is not read: an example file's name ends in `.yaml`.")


def test_folders_that_are_not_read_for_their_name(lowside: Command, mine: Path) -> None:
    (mine / "examples").rename(mine / "example")
    warned(lowside, "example", "This folder is not read: its name would have to be `examples`.")


def test_examples_say_which_file_they_leave_out(lowside: Command, mine: Path) -> None:
    shutil.copy(mine / "examples" / "door-check.yaml", mine / "examples" / "more.yml")
    done = lowside("examples", "my-trees/examples/door-check.yaml")
    assert done.code == 0
    assert "more.yml:1:1: warning: not-a-file: This file is not read" in done.err


def test_a_folder_with_one_file_of_another_ending(lowside: Command, mine: Path) -> None:
    shutil.rmtree(mine / "examples")
    tree = (mine / "door-check.yaml").rename(mine / "door-check.yml")
    assert "door-check.yml: This file is not read: a tree's name ends in `.yaml`" in lowside("check", "my-trees").err
    assert lowside("check", tree).err.endswith("  Rename it: door-check.yaml.\n")


def test_a_copied_cause_does_not_cut_a_folder_off_from_the_trees_that_came_with_lowside(
    lowside: Command, mine: Path
) -> None:
    assert lowside("new", "causes/door-or-gasket", "--copy", "--in", "my-trees").code == 0
    assert lowside("check", "my-trees").out == "no problems, no warnings.\n"


@pytest.mark.parametrize(
    ("command", "shut", "named"),
    [
        (("check", "my-trees"), "my-trees", "my-trees: no right"),
        (("check", "my-trees"), "my-trees/catalogue", "my-trees/catalogue:1:1: no-right: You have no right to look"),
        (("examples", "my-trees/examples"), "my-trees/examples", "my-trees/examples: no right"),
    ],
)
def test_a_folder_without_the_right_to_look(
    lowside: Command, mine: Path, command: tuple[str, ...], shut: str, named: str
) -> None:
    (mine / "catalogue").mkdir()
    Path(shut).chmod(0)
    try:
        if os.access(shut, os.R_OK):
            pytest.skip("here this user may look anywhere")
        done = lowside(*command)
    finally:
        Path(shut).chmod(0o755)
    assert done.code in (1, 2)
    assert named in done.out + done.err


def test_a_pack_is_not_written_over(lowside: Command, mine: Path) -> None:
    (mine.parent / "trees-edition-1.zip").write_bytes(b"handed out")
    done = lowside("pack", "my-trees", "--edition", 1)
    assert (done.code, done.out) == (2, "")
    assert done.err == (
        "trees-edition-1.zip: this file is there already, and an edition names one text.\n"
        "  Raise the number: --edition 2. Or write it elsewhere: --out FILE.\n"
    )


EXAMPLE = """\
a:
  why: Invented.
  tree: door-check
  site: {altitude: 300 ft}
  circuits: {main: {door-closes: no}}
  expect:
  - {cause: door-or-gasket, at: door-check/door-stays-open}
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("  - {", "    {", "7:5: a: below `expect` stands a list, each finding with a dash. Write `- {cause:"),
        (
            "at: door-check/door",
            "at: door",
            "7:33: `at` is TREE/STEP, and 'door-stays-open' has no `/`. Did you mean door-check/door-stays-open?",
        ),
        ("cause: door-or-gasket", "cause: door-or-gasket heavy-load", "Put commas between names:"),
        ("altitude: 300 ft", "altitude: 300", "refused  FILE:2:3: altitude: “300” has no unit."),
        ("  tree: door-check\n", "", "asks for equipment, and can't go on without it. Write `equipment: ...` among"),
        ("door-closes: no", "door-closes:no", "5:21: A blank is missing behind the colon in `door-closes:no`."),
    ],
)
def test_what_is_wrong_with_an_example(lowside: Command, mine: Path, old: str, new: str, said: str) -> None:
    file = Path("my-trees/examples/door-check.yaml")
    assert old in EXAMPLE
    file.write_text(EXAMPLE.replace(old, new), "utf-8")
    done = lowside("examples", file)
    assert done.code in (1, 2)
    assert said.replace("FILE", str(file)) in done.out + " ".join(done.err.split())


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


LONG = "my-trees/a.yaml:9:3: gap: " + "No row holds for this. " * 6 + "https://example.org/" + "x" * 90


def test_on_a_terminal_lines_are_broken_at_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    terminal = Terminal()
    output.say(f"{LONG}\n  got  one\n", terminal)
    rows = terminal.getvalue().split("\n")
    assert " ".join(rows).split() == f"{LONG} got one".split()
    assert all(len(row) <= 60 or " " not in row.strip() for row in rows)
    assert all(row.startswith("  ") for row in rows[1:-2])
    assert "  got  one" in rows


def test_elsewhere_a_line_stays_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    stream = io.StringIO()
    output.say(LONG, stream)
    assert stream.getvalue() == f"{LONG}\n"
