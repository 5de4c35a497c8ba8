"""Every example in the documents is run: tree snippets, answers, examples, commands with what they print."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path

import pytest

from tui.cli.main import COMMANDS, main

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
RUN_HERE = {"console", "yaml answers", "yaml example", "yaml tree"}
RUN_BY_CI = {"sh", "powershell"}
PICTURES = {""}


@dataclass(frozen=True)
class Block:
    """A fenced block: `language` is what stands behind the fence."""

    document: str
    line: int
    language: str
    text: str


def blocks() -> list[Block]:
    found = []
    for document in DOCUMENTS:
        text = (ROOT / document).read_text(encoding="utf-8")
        for fence in FENCE.finditer(text):
            line = text.count("\n", 0, fence.start()) + 1
            found.append(Block(document, line, fence.group(1).strip(), fence.group(2)))
    return found


def those(language: str) -> list[object]:
    return [pytest.param(b, id=f"{b.document}:{b.line}") for b in blocks() if b.language == language]


@pytest.fixture(autouse=True)
def fresh_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(ROOT)


def test_every_block_is_of_a_kind_that_something_checks() -> None:
    assert {block.language for block in blocks()} <= RUN_HERE | RUN_BY_CI | PICTURES


def test_every_kind_of_example_is_there() -> None:
    assert {block.language for block in blocks()} >= {"console", "yaml answers", "yaml example", "sh"}


@pytest.mark.parametrize("block", those("console"))
def test_a_command_prints_what_the_document_shows(block: Block, capsys: pytest.CaptureFixture[str]) -> None:
    """Each `$ lowside …` line, then exactly what it prints."""
    for part in re.split(r"^\$ ", block.text, flags=re.MULTILINE)[1:]:
        command, _, shown = part.partition("\n")
        name, *arguments = shlex.split(command)
        assert name == "lowside"
        main(arguments)
        assert capsys.readouterr().out == shown
        assert shown


@pytest.mark.parametrize("block", those("yaml answers"))
def test_an_answers_file_ends_in_a_finding(block: Block, tmp_path: Path) -> None:
    file = tmp_path / "answers.yaml"
    file.write_text(block.text, encoding="utf-8")
    assert main(["walk", "--answers", str(file)]) == 0


@pytest.mark.parametrize("block", those("yaml example"))
def test_an_example_holds(block: Block, tmp_path: Path) -> None:
    file = tmp_path / "examples" / "documents.yaml"
    file.parent.mkdir()
    file.write_text(block.text, encoding="utf-8")
    assert main(["examples", str(file)]) == 0


def test_every_command_is_in_the_readme_and_nothing_else() -> None:
    """The table of commands: `lowside NAME …` in the first column."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"^\|.*?$", readme, re.MULTILINE))
    rows = "\n".join(row.split(" | ")[0] for row in named)
    assert set(re.findall(r"`lowside ([a-z]+)", rows)) == set(COMMANDS)


def test_every_file_that_a_document_names_is_there() -> None:
    for document in DOCUMENTS:
        text = (ROOT / document).read_text(encoding="utf-8")
        for name in re.findall(r"`((?:tui|tests|trees)/[\w./-]*)`", text):
            assert name == "tui/_trees" or (ROOT / name).exists(), f"{document} names {name}"
