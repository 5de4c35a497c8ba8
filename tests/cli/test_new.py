"""`lowside new`: a tree begun, a tree copied, an entry of the catalogue copied."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "my-trees"


def test_a_copied_entry_is_the_entry_and_takes_its_place(lowside: Command, folder: Path) -> None:
    done = lowside("new", "figures/head-band", "--copy", "--in", folder)
    assert done.code == 0
    file = folder / "catalogue" / "figures.yaml"
    assert file.read_text(encoding="utf-8") == Library.read(bundled_trees()).entry_text("figures", "head-band")
    file.write_text(file.read_text(encoding="utf-8").replace("8 dF", "7 dF"), encoding="utf-8")
    changed = Library.read(bundled_trees(), folder)
    assert "is: 7 dF" in changed.entry_text("figures", "head-band")


def test_a_second_entry_goes_behind_the_first(lowside: Command, folder: Path) -> None:
    file = folder / "catalogue" / "causes.yaml"
    file.parent.mkdir(parents=True)
    file.write_text("mine:\n  say: Mine", encoding="utf-8")  # no line end, as some editors leave it
    assert lowside("new", "causes/heavy-load", "--copy", "--in", folder).code == 0
    assert file.read_text(encoding="utf-8").startswith("mine:\n  say: Mine\nheavy-load:\n  say: ")


@pytest.mark.parametrize(
    ("arguments", "wrong", "cure"),
    [
        (("figures/head-bnd", "--copy"), "nothing called 'head-bnd' in figures", "Did you mean figures/head-band?"),
        (("figure/head-band", "--copy"), "no section called 'figure'", "There are: causes,"),
        (("figures/head-band",), "not begun empty", "lowside new figures/head-band --copy"),
    ],
)
def test_what_cant_be_copied_is_told(
    lowside: Command, folder: Path, arguments: tuple[str, ...], wrong: str, cure: str
) -> None:
    done = lowside("new", *arguments, "--in", folder)
    assert done.code == 2
    assert wrong in done.err
    assert cure in done.err
    assert not folder.exists()


def test_an_entry_that_is_there_is_never_written_over(lowside: Command, folder: Path) -> None:
    lowside("new", "figures/head-band", "--copy", "--in", folder)
    done = lowside("new", "figures/head-band", "--copy", "--in", folder)
    assert done.code == 2
    assert "there is an entry head-band already" in done.err
