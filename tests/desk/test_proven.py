"""What was proven once is not proven again, and only that."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tui.desk.proven import load_proven
from tui.tree.bundled import bundled_trees
from tui.tree.library import BrokenLibrary, Library


@pytest.fixture
def proofs(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The digests of the libraries that were proven."""
    done: list[str] = []
    prove = Library.proven

    def counted(library: Library) -> Library:
        done.append(library.digest)
        return prove(library)

    monkeypatch.setattr(Library, "proven", counted)
    return done


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    return Path(shutil.copytree(bundled_trees(), tmp_path / "trees"))


@pytest.fixture
def stamp(tmp_path: Path) -> Path:
    return tmp_path / "home" / "proven.txt"


def test_the_second_start_needs_no_proof_and_gives_the_same(trees: Path, stamp: Path, proofs: list[str]) -> None:
    first, second = load_proven(trees, stamp=stamp), load_proven(trees, stamp=stamp)
    assert len(proofs) == 1
    assert (first.trees, first.catalogue, first.digest) == (second.trees, second.catalogue, second.digest)


def test_a_changed_letter_is_proven_anew_and_both_are_remembered(trees: Path, stamp: Path, proofs: list[str]) -> None:
    load_proven(trees, stamp=stamp)
    tree = trees / "both-low.yaml"
    before = tree.read_text("utf-8")
    tree.write_text(before.replace("edition: ", "edition: 1", 1), "utf-8")
    load_proven(trees, stamp=stamp)
    assert len(proofs) == 2
    tree.write_text(before, "utf-8")
    load_proven(trees, stamp=stamp)
    assert len(proofs) == 2


def test_broken_trees_are_refused_each_time(trees: Path, stamp: Path) -> None:
    load_proven(trees, stamp=stamp)
    tree = trees / "both-low.yaml"
    lines = tree.read_text("utf-8").splitlines(keepends=True)
    asked = next(number for number, line in enumerate(lines) if line.startswith("- ask: refrigerant"))
    caution = next(number for number, line in enumerate(lines[asked + 1 :], asked + 1) if line.startswith("- "))
    tree.write_text("".join(lines[:asked] + lines[caution:]), "utf-8")
    for _ in range(2):
        with pytest.raises(BrokenLibrary):
            load_proven(trees, stamp=stamp)
    assert len(stamp.read_text("utf-8").split()) == 1


def test_another_version_of_the_program_proves_anew(
    trees: Path, stamp: Path, proofs: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    load_proven(trees, stamp=stamp)
    monkeypatch.setattr("tui.__version__", "0.1.1")
    load_proven(trees, stamp=stamp)
    assert len(proofs) == 2


@pytest.mark.parametrize("damage", [b"\xff\xfe", b"x" * 2**21, b""])
def test_a_damaged_stamp_costs_a_proof_and_is_mended(
    trees: Path, stamp: Path, proofs: list[str], damage: bytes
) -> None:
    stamp.parent.mkdir()
    stamp.write_bytes(damage)
    for _ in range(2):
        load_proven(trees, stamp=stamp)
    assert len(proofs) == 1


def test_where_nothing_can_be_written_it_is_proven_each_time(trees: Path, tmp_path: Path, proofs: list[str]) -> None:
    (tmp_path / "file").touch()
    for _ in range(2):
        load_proven(trees, stamp=tmp_path / "file" / "proven.txt")
    assert len(proofs) == 2


def test_only_the_last_are_remembered(trees: Path, stamp: Path) -> None:
    stamp.parent.mkdir()
    stamp.write_text("\n".join(f"{number:064x}" for number in range(40)) + "\n", "utf-8")
    load_proven(trees, stamp=stamp)
    kept = stamp.read_text("utf-8").split()
    assert len(kept) == 16
    assert kept[:-1] == [f"{number:064x}" for number in range(25, 40)]
