"""`schema`: what it prints and writes, the line that editors read; and what a language server makes of it."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.cli.language_server import Editor
from tests.cli.node import package
from tui.cli.main import main
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    """A copy of the trees that come with lowside."""
    return Path(shutil.copytree(bundled_trees(), tmp_path / "my trees", ignore=shutil.ignore_patterns(".schema")))


def test_it_lists_the_kinds(lowside: Command) -> None:
    done = lowside("schema")
    assert done.code == 0
    for kind in ("tree", "readings", "left-on", "examples", "answers", "settings"):
        assert f"\n{kind} " in f"\n{done.out}"


def test_it_prints_one(lowside: Command) -> None:
    done = lowside("schema", "tree")
    assert done.code == 0
    assert json.loads(done.out)["properties"]["of"]["enum"] == ["unit", "circuit"]


def test_an_unknown_kind_is_told_with_the_nearest(lowside: Command) -> None:
    done = lowside("schema", "reading")
    assert done.code == 2
    assert "Did you mean readings?" in done.err


@pytest.mark.parametrize("arguments", [("--modeline",), ("--write", "nowhere"), ("tree", "--write", __file__)])
def test_what_can_t_be_is_told(lowside: Command, arguments: tuple[str, ...]) -> None:
    done = lowside("schema", *arguments)
    assert (done.code, done.out) == (2, "")
    assert done.err.count("\n") == 2, "what, and the cure"


def test_written_beside_the_trees_with_the_names_of_the_trees(lowside: Command, trees: Path) -> None:
    readings = trees / "catalogue" / "readings.yaml"
    readings.write_text(readings.read_text("utf-8") + "my-own:\n  ask: Mine?\n  kind: mass\n", "utf-8")
    done = lowside("schema", "--write", trees)
    assert done.code == 0
    assert "# yaml-language-server: $schema=../.schema/readings.json" in done.out
    written = {file.stem for file in (trees / ".schema").glob("*.json")}
    assert written >= {"tree", "readings", "examples", "answers", "settings"}
    assert '"my-own"' in (trees / ".schema" / "tree.json").read_text("utf-8")
    assert lowside("check", trees).code == 0, "what lies beside the trees is none of them"


def test_one_alone_can_be_written(lowside: Command, trees: Path) -> None:
    assert lowside("schema", "work", "--write", trees).code == 0
    assert [file.name for file in (trees / ".schema").iterdir()] == ["work.json"]


def test_without_a_folder_they_go_beside_ones_own_trees(lowside: Command, home: Path) -> None:
    assert lowside("schema", "--write").code == 0
    assert (home / "trees" / ".schema" / "tree.json").is_file()
    assert lowside("check").code == 0


def test_the_line_goes_into_each_file_once_and_lowside_reads_over_it(lowside: Command, trees: Path) -> None:
    before = Library.load(bundled_trees())
    windows = trees / "call.yaml"
    windows.write_bytes(b"\xef\xbb\xbf" + windows.read_bytes().replace(b"\n", b"\r\n"))
    old = windows.read_bytes()
    done = lowside("schema", "--write", trees, "--modeline")
    assert done.code == 0
    assert windows.read_bytes() == (
        b"\xef\xbb\xbf# yaml-language-server: $schema=.schema/tree.json\r\n" + old.removeprefix(b"\xef\xbb\xbf")
    )
    example = (trees / "examples" / "stops.yaml").read_text("utf-8")
    assert example.startswith("# yaml-language-server: $schema=../.schema/examples.json\n")
    assert Library.load(trees).entries == before.entries
    assert lowside("examples", trees / "examples" / "stops.yaml").code == 0
    again = lowside("schema", "--write", trees, "--modeline")
    files = len(list(trees.rglob("*.yaml")))
    assert again.out.endswith(f"Its line was put into 0 files; {files} had one already.\n")


# ---- in an editor

HEAD = """\
# yaml-language-server: $schema=.schema/tree.json
tree: mine
title: Mine
edition: 1
of: circuit
steps:
"""


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Editor]:
    """On a folder of trees with schemas and lines written by the command."""
    modules = package("yaml-language-server")
    folder = Path(shutil.copytree(bundled_trees(), tmp_path_factory.mktemp("editor") / "trees"))
    assert main(["schema", "--write", str(folder), "--modeline"]) == 0
    with Editor(modules, folder) as editor:
        yield editor


@pytest.mark.slow
@pytest.mark.parametrize(
    ("text", "offered", "not_offered"),
    [
        (f"{HEAD}- ask: suction\n  que|\n", {"question", "couldn't", "only when"}, {"tell", "ask"}),
        (f"{HEAD}- |\n", {"ask", "do", "decide", "repeat", "finding"}, {"question", "rows"}),
        (f"{HEAD}- ask: |\n", {"suction", "head", "receiver"}, {"superheat-level", "true"}),
        (f"{HEAD}- do: it\n  work: |\n", {"adds refrigerant", "evacuates"}, {"true"}),
        (f"{HEAD}- finding: it\n  cause: |\n", {"short-of-charge", "cannot-tell"}, {"true"}),
        (f"{HEAD}- go: |\n", {"charge-test", "leak-search"}, {"mine"}),
        (f"{HEAD}- decide: it\n  by: receiver\n  rows:\n    no: |\n", {"carry on", "go round"}, {"true"}),
        (f"{HEAD}- repeat: it\n  each round:\n  - wait: so\n    be|\n", {"because", "for"}, {"rows"}),
        ("# yaml-language-server: $schema=.schema/tree.json\n|", {"tree", "of", "steps"}, {"ask"}),
    ],
)
def test_an_editor_completes(editor: Editor, text: str, offered: set[str], not_offered: set[str]) -> None:
    name = f"mine{abs(hash(text))}.yaml"
    found = set(editor.complete(name, text))
    assert offered <= found
    assert found.isdisjoint(not_offered)


@pytest.mark.slow
def test_an_editor_says_what_a_key_and_a_name_mean(editor: Editor) -> None:
    step = "- decide: it\n  by: receiver\n  {}must be settled: yes\n- finding: end\n  cause: {}short-of-charge\n"
    said = editor.hover("hover-key.yaml", HEAD + step.format("|", ""))
    assert "a close call stops here until it is settled" in said
    assert "it has leaked" in editor.hover("hover-name.yaml", HEAD + step.format("", "|"))


@pytest.mark.slow
def test_an_editor_tells_of_a_key_that_is_none(editor: Editor) -> None:
    assert editor.problems("misspelt.yaml", f"{HEAD}- ask: suction\n  qestion: Hm?\n") == [
        (8, "Property qestion is not allowed.")
    ]
    assert editor.problems("no-step.yaml", f"{HEAD}- aks: suction\n") == [(7, "Property aks is not allowed.")]
    assert editor.problems("rounds.yaml", f"{HEAD}- repeat: it\n  at most: 3\n  each round:\n  - back: done\n") == [
        (8, "Write it so: 12 rounds")
    ]
    assert editor.problems("my-names.yaml", f"{HEAD}- ask: my-own-reading\n  then: my-own-step\n") == []


@pytest.mark.slow
def test_an_editor_has_nothing_to_say_of_the_trees_that_come_with_lowside(editor: Editor) -> None:
    told = {}
    for file in sorted(editor.folder.rglob("*.yaml")):
        name = file.relative_to(editor.folder).as_posix()
        told[name] = editor.problems(name, file.read_text("utf-8"))
    assert len(told) > 60
    assert {name: problems for name, problems in told.items() if problems} == {}
