"""What goes into a session comes out of it, and a crafted text cannot fill the memory."""

from __future__ import annotations

import json
import zlib
from base64 import b64encode
from dataclasses import dataclass
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.quantity.refused import Refused
from tui.tree.embed import LARGEST, Parts, embed, extract, pack, parts_of, unpack

if TYPE_CHECKING:
    from tui.tree.library import Library

TREE = "tree: both-low\ntitle: a – °F\n"
ENTRIES = {("readings", "suction"): "suction:\n  ask: Suction?\n", ("figures", "band"): "band: {is: 5 dF}"}


@dataclass
class TwoEntries:
    """A library as `embed` sees one."""

    trees: dict[str, Any]
    entries: dict[tuple[str, str], str]

    def entry_text(self, section: str, entry: str) -> str:
        return self.entries[section, entry]


def library() -> Library:
    tree = SimpleNamespace(text=TREE, uses=tuple(ENTRIES))
    return cast("Library", TwoEntries({"both-low": tree}, ENTRIES))


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_there_and_back(text: str) -> None:
    assert unpack(pack(text)) == text
    assert pack(text).isascii()


def test_a_tree_and_its_entries_come_back_as_files() -> None:
    event = {"event": "entered", "tree": "both-low", **embed(library(), "both-low")}
    again = {"event": "entered", "tree": "both-low"}
    assert extract([{"event": "opened"}, event, again]).texts() == {
        "both-low.yaml": TREE,
        "catalogue/readings.yaml": "suction:\n  ask: Suction?\n",
        "catalogue/figures.yaml": "band: {is: 5 dF}\n",
    }


def test_what_a_session_holds_lies_over_what_there_is_today() -> None:
    today = parts_of(library())
    assert (
        today.texts()
        == extract([{"event": "entered", "tree": "both-low", **embed(library(), "both-low")}]).texts()
    )
    then = Parts({"both-low": "old"}, {"figures": {"band": "band: {is: 4 dF}"}})
    assert today.under(then) == Parts(
        {"both-low": "old"},
        {"readings": {"suction": "suction:\n  ask: Suction?\n"}, "figures": {"band": "band: {is: 4 dF}"}},
    )


def squeezed(data: bytes) -> str:
    return b64encode(zlib.compress(data)).decode()


@pytest.mark.parametrize(
    "packed",
    [
        "",
        "x",
        "é",
        "AAAA",
        squeezed(b"\xff"),
        squeezed(b"\0" * (LARGEST + 1)),
        pack("whole")[:8],
        pack("long" * 90)[:-8],
    ],
)
def test_damaged_or_too_large(packed: str) -> None:
    with pytest.raises(Refused) as refused:
        unpack(packed)
    assert refused.value.code == "damaged-text"


@pytest.mark.parametrize("catalogue", ["[]", "{", '{"a":1}', '{"a":{"b":1}}', "[" * 100_000])
def test_a_damaged_catalogue(catalogue: str) -> None:
    event = {"event": "entered", "tree": "t", "text": pack(TREE), "catalogue": pack(catalogue)}
    with pytest.raises(Refused):
        extract([event])


@pytest.mark.parametrize("missing", ["tree", "catalogue"])
def test_a_part_is_missing(missing: str) -> None:
    event = {"event": "entered", "tree": "t", "text": pack(TREE), "catalogue": pack(json.dumps({}))}
    del event[missing]
    with pytest.raises(Refused):
        extract([event])
