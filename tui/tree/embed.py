"""Trees inside a session: a tree and the catalogue entries it uses, packed into one event and back."""

from __future__ import annotations

import binascii
import json
import zlib
from base64 import b64decode, b64encode
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.library import Library

LARGEST = 4 * 2**20  # bytes of one text unpacked; a file of a library has at most 1 MiB


def pack(text: str) -> str:
    """`text` as zlib in base64, one line of ASCII."""
    return b64encode(zlib.compress(text.encode(), 9)).decode("ascii")


def unpack(packed: str) -> str:
    """The text that `pack` packed.

    Raises Refused (``damaged-text``) for anything else, also for what would unpack to over 4 MiB.
    """
    try:
        squeezed = b64decode(packed, validate=True)
        unzip = zlib.decompressobj()
        text = unzip.decompress(squeezed, LARGEST)
        if unzip.unconsumed_tail or not unzip.eof:
            raise _damaged("is too large, or not all of it is there")
        return text.decode()
    except (binascii.Error, ValueError, zlib.error) as error:
        raise _damaged("cannot be unpacked") from error


def embed(library: Library, tree: str) -> dict[str, str]:
    """What an ``entered`` event holds of a tree: `text`, and `catalogue` with the entries it uses."""
    found = library.trees[tree]
    entries: dict[str, dict[str, str]] = {}
    for section, entry in found.uses:
        entries.setdefault(section, {})[entry] = library.entry_text(section, entry)
    return {"text": pack(found.text), "catalogue": pack(json.dumps(entries, ensure_ascii=False))}


@dataclass(slots=True)
class Parts:
    """A library in pieces: texts of trees by name, texts of catalogue entries by section and id."""

    trees: dict[str, str] = field(default_factory=dict)
    entries: dict[str, dict[str, str]] = field(default_factory=dict)

    def under(self, other: Parts) -> Parts:
        """These pieces, with those of `other` laid over them."""
        sections = {**self.entries, **other.entries}
        entries = {s: {**self.entries.get(s, {}), **other.entries.get(s, {})} for s in sections}
        return Parts({**self.trees, **other.trees}, entries)

    def texts(self) -> dict[str, str]:
        """As files by path, for `Library.from_texts`."""
        trees = {f"{name}.yaml": text for name, text in self.trees.items()}
        return trees | {f"catalogue/{name}.yaml": _joined(found) for name, found in self.entries.items()}


def parts_of(library: Library) -> Parts:
    """All trees and catalogue entries of a library."""
    parts = Parts({name: tree.text for name, tree in library.trees.items()})
    for (section, entry), text in library.entries.items():
        parts.entries.setdefault(section, {})[entry] = text
    return parts


def extract(events: Iterable[Mapping[str, Any]]) -> Parts:
    """What the ``entered`` events of a session hold. Raises Refused (``damaged-text``).

    Of an entry that stands in several events the last is taken.
    """
    parts = Parts()
    for event in events:
        if event.get("event") == "entered" and "text" in event:
            parts.trees[_word(event, "tree")] = unpack(_word(event, "text"))
            found = _entries(unpack(_word(event, "catalogue")))
            parts = parts.under(Parts({}, found))
    return parts


def _joined(entries: Mapping[str, str]) -> str:
    return "".join(text if text.endswith("\n") else f"{text}\n" for text in entries.values())


def _word(event: Mapping[str, Any], key: str) -> str:
    value = event.get(key)
    if not isinstance(value, str):
        raise _damaged(f"has no {key!r}")
    return value


def _entries(text: str) -> dict[str, dict[str, str]]:
    try:
        entries = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise _damaged("has no readable catalogue") from error
    well = isinstance(entries, dict) and all(
        isinstance(section, dict) and all(isinstance(entry, str) for entry in section.values())
        for section in entries.values()
    )
    if not well:
        raise _damaged("has no readable catalogue")
    return dict(entries)


def _damaged(what: str) -> Refused:
    return Refused(
        "damaged-text",
        f"A tree embedded in this session {what}.",
        "Replay it with the trees of a folder: --trees DIR",
    )
