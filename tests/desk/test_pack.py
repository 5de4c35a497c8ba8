"""A pack: the same bytes for the same texts; whatever else stands in one is refused in words."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from tui.desk.pack import MANIFEST, manifest_of, packed, texts_of, unpacked
from tui.quantity import Refused

DAY = "2026-11-30"
TREE = b"tree: look\nedition: 1\n"
TEXTS = {"look.yaml": TREE, "catalogue/figures.yaml": b"a:\n  is: 1 dF\n"}


def pack(texts: dict[str, bytes] = TEXTS) -> bytes:
    return packed(manifest_of(texts, 1, DAY, "lead-2"), texts)


def rewritten(change: Callable[[dict[str, bytes]], object], data: bytes = b"") -> bytes:
    """A pack whose entries somebody changed, the manifest as it was."""
    with zipfile.ZipFile(io.BytesIO(data or pack())) as archive:
        entries = {name: archive.read(name) for name in archive.namelist()}
    change(entries)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in entries.items():
            archive.writestr(name, text)
    return out.getvalue()


def refused(tmp_path: Path, data: bytes) -> Refused:
    file = tmp_path / "trees.zip"
    file.write_bytes(data)
    with pytest.raises(Refused) as told:
        unpacked(file)
    assert str(file) in told.value.message
    assert told.value.cure
    return told.value


def test_what_was_packed_is_unpacked(tmp_path: Path) -> None:
    file = tmp_path / "trees.zip"
    file.write_bytes(pack())
    manifest, texts = unpacked(file)
    assert texts == TEXTS
    assert (manifest.edition, manifest.date, manifest.approved_by) == (1, DAY, "lead-2")


def test_the_same_texts_give_the_same_bytes_whatever_the_order() -> None:
    assert pack() == pack(dict(reversed(TEXTS.items())))
    assert pack() != pack({**TEXTS, "look.yaml": TREE + b"\n"})


def test_another_program_may_have_compressed_it(tmp_path: Path) -> None:
    file = tmp_path / "trees.zip"
    file.write_bytes(rewritten(lambda entries: None))
    assert unpacked(file)[1] == TEXTS


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda entries: entries.update({"look.yaml": TREE + b"#"}), "look.yaml is not what was packed"),
        (lambda entries: entries.pop("look.yaml"), "look.yaml is missing"),
        (lambda entries: entries.update({"more.yaml": TREE}), "more.yaml was added after it was packed"),
        (lambda entries: entries.update({MANIFEST: b"{"}), "its manifest.json can't be read"),
        (
            lambda entries: entries.update({MANIFEST: entries[MANIFEST].replace(b'"digest": "', b'"digest": "0')}),
            "does not agree with itself",
        ),
    ],
)
def test_a_damaged_one_is_refused(
    tmp_path: Path, change: Callable[[dict[str, bytes]], object], says: str
) -> None:
    problem = refused(tmp_path, rewritten(change))
    assert problem.code == "damaged"
    assert says in problem.message


def test_every_cut_is_refused(tmp_path: Path) -> None:
    whole = pack()
    for end in range(0, len(whole), 7):
        assert refused(tmp_path, whole[:end]).code == "damaged"


def test_every_turned_bit_of_a_text_is_noticed(tmp_path: Path) -> None:
    """The zip's own check sums see most of it, the digests the rest."""
    whole = pack()
    for place in range(0, len(whole), 11):
        file = tmp_path / "trees.zip"
        file.write_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :])
        with suppress(Refused):
            # a bit that says nothing, such as one of a day in the zip, may be turned
            assert unpacked(file) == (manifest_of(TEXTS, 1, DAY, "lead-2"), TEXTS)


@pytest.mark.parametrize("place", ["../look.yaml", "/look.yaml", "catalogue/../../look.yaml", "C:look.yaml"])
def test_what_would_land_outside_is_refused(tmp_path: Path, place: str) -> None:
    assert refused(tmp_path, rewritten(lambda entries: entries.update({place: TREE}))).code == "outside"


@pytest.mark.parametrize("place", ["con.yaml", "examples/LPT1.yaml", "look.exe", "deep/look.yaml", "a b.yaml"])
def test_a_name_that_some_system_cant_have_is_refused(tmp_path: Path, place: str) -> None:
    assert refused(tmp_path, rewritten(lambda entries: entries.update({place: TREE}))).code == "bad-name"


def test_two_names_that_windows_takes_for_one_are_refused(tmp_path: Path) -> None:
    assert refused(tmp_path, rewritten(lambda entries: entries.update({"LOOK.yaml": TREE}))).code == "name-twice"


def test_one_too_large_is_refused_before_it_is_unpacked_whole(tmp_path: Path) -> None:
    assert refused(tmp_path, rewritten(lambda entries: entries.update({"big.yaml": b" " * 2**21}))).code == "too-big"


def test_a_zip_of_something_else_is_none_of_ours(tmp_path: Path) -> None:
    assert refused(tmp_path, rewritten(lambda entries: entries.pop(MANIFEST))).code == "foreign"


def test_one_of_a_later_form_says_so(tmp_path: Path) -> None:
    def later(entries: dict[str, bytes]) -> None:
        entries[MANIFEST] = json.dumps(json.loads(entries[MANIFEST]) | {"format": "lowside-trees 2"}).encode()

    assert refused(tmp_path, rewritten(later)).code == "newer"


@pytest.mark.parametrize("name", ["trees.zip", "."])
def test_what_is_no_file_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(Refused):
        unpacked(tmp_path / name)


def test_line_ends_of_windows_give_the_same_pack(tmp_path: Path) -> None:
    (tmp_path / "look.yaml").write_bytes(TREE.replace(b"\n", b"\r\n"))
    (tmp_path / ".look.yaml").write_bytes(b"what an editor leaves")
    (tmp_path / "README.md").write_bytes(b"no tree")
    assert texts_of(tmp_path) == {"look.yaml": TREE}


@pytest.mark.parametrize("approved_by", ["Jo Smith", "a/b", "x" * 41])
def test_who_approves_is_an_id_and_no_name(approved_by: str) -> None:
    with pytest.raises(Refused, match="no id"):
        manifest_of(TEXTS, 1, DAY, approved_by)
