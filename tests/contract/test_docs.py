"""Every example in the documents is run: answers, examples, commands with what they print."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.contract.transcripts import CONSOLE, DOCUMENTS, ROOT, Block, blocks, transcript
from tui.cli.main import COMMANDS, main

#: `sh` and `powershell` are commands that set up; CI and test_readme.py run them. No language: a picture.
KINDS = {CONSOLE, "yaml answers", "yaml example", "sh", "powershell", ""}


def those(language: str) -> list[object]:
    found = [block for document in DOCUMENTS for block in blocks(document) if block.language == language]
    return [pytest.param(block, id=f"{block.document}:{block.line}") for block in found]


@pytest.fixture(autouse=True)
def fresh_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOWSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(ROOT)


def test_every_block_is_of_a_kind_that_something_checks() -> None:
    assert {block.language for document in DOCUMENTS for block in blocks(document)} == KINDS


@pytest.mark.parametrize("block", those(CONSOLE))
def test_commands_print_what_the_document_shows(block: Block) -> None:
    """If they rightly print something else now: python tests/contract/transcripts.py"""
    assert transcript(block.text) == block.text


def test_the_readme_holds_the_table_of_causes_by_classes() -> None:
    """Between its marks, as the command prints it (the test above)."""
    (text,) = (block.text for block in blocks("README.md") if block.text.startswith("$ lowside examples --table\n"))
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    begin, end = "<!-- causes by classes: begin -->\n", "<!-- causes by classes: end -->\n"
    assert readme.split(begin)[1].split(end)[0] == f"```{CONSOLE}\n{text}```\n"


@pytest.mark.parametrize("block", those("yaml answers"))
def test_an_answers_file_ends_in_a_finding(block: Block, tmp_path: Path) -> None:
    file = tmp_path / "answers.yaml"
    file.write_text(block.text, encoding="utf-8")
    assert main(["walk", "--answers", str(file)]) == 0


@pytest.mark.parametrize("block", those("yaml example"))
def test_an_example_holds(block: Block, tmp_path: Path) -> None:
    file = tmp_path / "documents.yaml"
    file.write_text(block.text, encoding="utf-8")
    assert main(["examples", str(file)]) == 0


def test_every_command_is_in_the_readme_and_no_other() -> None:
    """The table of commands: `lowside NAME …` in the first column."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    first_cells = "\n".join(re.split(r"(?<!\\)\|", row)[1] for row in re.findall(r"^\|.*$", readme, re.MULTILINE))
    assert set(re.findall(r"`lowside ([a-z]+)", first_cells)) == set(COMMANDS)


def test_every_file_that_a_document_names_is_there() -> None:
    for document in DOCUMENTS:
        text = (ROOT / document).read_text(encoding="utf-8")
        named = set(re.findall(r"`((?:tui|tests|trees)/[\w./-]*)`", text)) - {"tui/_trees"}
        assert [name for name in sorted(named) if not (ROOT / name).exists()] == []


def test_the_developers_commands_are_those_of_ci() -> None:
    """Whoever follows DEVELOPERS.md runs what CI runs."""
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    developers = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for tool in ("ruff", "mypy", "lint-imports"):
        assert f".venv/bin/{tool}" in developers
        assert f'"$bin/{tool}"' in ci
