"""An edition names one text: a tree that says something else than before has another edition."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from tui.tree import source
from tui.tree.report import shown
from tui.tree.spot import Problem, Spot
from tui.tree.unread import ENDING


@dataclass(frozen=True, slots=True)
class Edition:
    """A tree's text and the edition it says it is; `spot` is where it says so."""

    text: str
    edition: str
    spot: Spot


def editions(folders: Iterable[Path]) -> dict[str, Edition]:
    """Those of the trees in these folders, by name; later folders override. What can't be read is left to the check."""
    found: dict[str, Edition] = {}
    for folder in folders:
        for file in sorted(folder.glob(f"*{ENDING}")):
            try:
                one = edition_of(str(file), source.read_bytes(file))
            except source.Unreadable:
                continue
            if one is not None:
                found[file.stem] = one
    return found


def edition_of(path: str, text: str) -> Edition | None:
    """None where the text is no tree with an edition."""
    node, _ = source.scan(path, text)
    edition = node.get("edition") if node is not None else None
    return Edition(text, edition.text, edition.spot) if isinstance(edition, source.Scalar) else None


def old_editions(then: Mapping[str, Edition], now: Mapping[str, Edition]) -> list[Problem]:
    """Trees whose text is another and whose edition is the one of then, or an earlier one."""
    return [
        _told(name, then[name].edition, one)
        for name, one in now.items()
        if name in then and then[name].text != one.text and not _later(then[name].edition, one.edition)
    ]


def _later(old: str, new: str) -> bool:
    """Numbers by their size; anything else has only to be another."""
    if old.isdecimal() and new.isdecimal():
        return int(new) > int(old)
    return new != old


def _told(name: str, old: str, now: Edition) -> Problem:
    still = f"still {shown(old)}" if now.edition == old else f"{shown(now.edition)}, and was {shown(old)}"
    said = f"The text of {shown(name)} has changed, and its edition is {still}."
    cure = f"Write `edition: {int(old) + 1}`." if old.isdecimal() else "Give it another edition."
    return Problem(now.spot, "old-edition", said, cure)
