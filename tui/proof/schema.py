"""The schema of a file of examples."""

from __future__ import annotations

from tui.proof.reading import FOUND_KEYS, OWN_KEYS
from tui.tree.schema.names import Names
from tui.tree.schema.pieces import TEXT, TEXTS, Schema, defined, document, keys, named, offered, told
from tui.walk.schema import definitions, visit_keys

FILE = "Whole visits that hold the trees to what they should come to: raw readings in, findings expected out."

_FOUND = {
    "circuit": "Which circuit; needn't be said where there is one, and not of the whole unit.",
    "cause": "What is found. cannot-tell, where the walk ends without knowing.",
    "at": "The step that finds it, as TREE/STEP.",
    "could_be": "What it still could be, as a list.",
}
_OWN = {
    "why": "Invented or seen, what it shows, and where its figures come from.",
    "expect": "The findings it ends in, in order.",
}


def examples_schema(names: Names) -> Schema:
    """The schema of a file of examples; each has a name of its own."""
    own = {"why": TEXT, "expect": {"type": "array", "items": defined("finding"), "minItems": 1}}
    example = keys(
        {**{key: told(own[key], _OWN[key]) for key in OWN_KEYS}, **visit_keys(names)}, ("why", "circuits", "expect")
    )
    known = {**definitions(names), "finding": _finding(names), "example": example}
    return document("Examples", FILE, named(defined("example")), known)


def _finding(names: Names) -> Schema:
    causes = names.words("causes")
    below = {
        "circuit": TEXT,
        "cause": offered({**causes, "cannot-tell": "the walk ends without knowing"}),
        "at": offered(dict.fromkeys(names.findings, "")),
        "could_be": {"type": [*TEXTS["type"], "null"], "items": offered(causes)},
    }
    return keys({key: told(below[key], _FOUND[key]) for key in FOUND_KEYS}, ("cause", "at"))
