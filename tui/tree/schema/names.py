"""What a library holds by name, as far as it can be read: also of one that is just being changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tui.tree.catalogue import SECTIONS
from tui.tree.library import parts_of
from tui.tree.source import Mapping as Keys
from tui.tree.source import Node, Scalar
from tui.tree.source import Sequence as Items

Said = Mapping[str, str]
"""The keys of one entry that have one text."""


@dataclass(frozen=True, slots=True)
class Names:
    """`trees`: name to title. `entries`: by section, each entry with its texts. `findings`: ``TREE/STEP``.

    `place_kinds` and `place_lists` are names out of places.yaml, `places` those of the places.
    """

    trees: Mapping[str, str]
    entries: Mapping[str, Mapping[str, Said]]
    findings: tuple[str, ...]
    place_kinds: tuple[str, ...]
    places: tuple[str, ...]
    place_lists: tuple[str, ...]

    def readings(self, *, asked: bool) -> dict[str, str]:
        """Readings that are asked, with their question; or results that trees share."""
        found = {name: said for name, said in self.entries["readings"].items() if ("ask" in said) is asked}
        return {name: said.get("ask", said.get("answers", said.get("kind", ""))) for name, said in found.items()}

    def worded(self) -> dict[str, str]:
        """Readings and results that are one of a few words, with these."""
        found = {name: said for name, said in self.entries["readings"].items() if "answers" in said}
        yes_no = [name for name, said in self.entries["readings"].items() if said.get("kind") == "yes/no"]
        return {name: said["answers"] for name, said in found.items()} | dict.fromkeys(yes_no, "yes, no")

    def figures(self, kind: str = "") -> dict[str, str]:
        """Figures, all or of one kind, with their value."""
        found = {name: said for name, said in self.entries["figures"].items() if kind in ("", said.get("kind"))}
        return {name: said.get("is", f"by {said.get('by', 'rows')}") for name, said in found.items()}

    def words(self, section: str) -> dict[str, str]:
        """Entries of a section with what they say of themselves."""
        return {name: said.get("say", said.get("tell", "")) for name, said in self.entries[section].items()}


def names_in(*folders: Path | str) -> Names:
    """The names of folders of trees; later ones override. What can't be read is left out."""
    raw, trees = parts_of(*folders)
    entries = {
        section: {name: _texts(entry.node) for name, entry in raw.sections[section].items()} for section in SECTIONS
    }
    below = {name: tuple(_keys(entry.node)) for name, entry in raw.sections["places"].items()}
    return Names(
        trees={name: _texts(node).get("title", "") for name, node in trees.items()},
        entries=entries,
        findings=tuple(f"{name}/{step}" for name, node in trees.items() for step in _findings(node.get("steps"))),
        place_kinds=below.get("kinds", ()),
        places=below.get("places", ()),
        place_lists=below.get("lists", ()),
    )


def _texts(node: Node) -> dict[str, str]:
    if not isinstance(node, Keys):
        return {}
    return {key.text: value.text for key, value in node.entries if isinstance(value, Scalar)}


def _keys(node: Node) -> Iterator[str]:
    if isinstance(node, Keys):
        yield from (key.text for key, _ in node.entries)


def _findings(node: Node | None) -> Iterator[str]:
    """Names of the steps that find something, also inside repeats."""
    for step in node.items if isinstance(node, Items) else ():
        said = _texts(step)
        if "finding" in said:
            yield said.get("name", said["finding"])
        if isinstance(step, Keys):
            yield from _findings(step.get("each round"))
