"""The schemas of the files in a catalogue."""

from __future__ import annotations

from collections.abc import Mapping

from tui.quantity import WORDS
from tui.tree.catalogue import KEYS
from tui.tree.places import LIST_KEYS, PARTS
from tui.tree.readings import KINDS
from tui.tree.schema.names import Names
from tui.tree.schema.pieces import TEXT, TEXTS, Schema, defined, document, keys, named, offered, one_of, shaped, told
from tui.tree.schema.said_of_catalogue import ENTRIES, FILES, LISTS, NEEDED, PLACES
from tui.tree.schema.said_of_trees import Told

_GROUPS = {
    "running readings": "all that are taken while the compressor runs",
    "standing readings": "all that are taken while it stands",
}
_MAY_BE_EMPTY = "work"


def catalogue_schema(section: str, names: Names) -> Schema:
    """The schema of one file of the catalogue, named without its ending."""
    known = shapes(names)
    title = f"Catalogue: {section}"
    if section == "places":
        return document(title, FILES[section], _places(names, known))
    properties = {key: _told(ENTRIES[section][key], known) for key in KEYS[section]}
    entry = keys(properties, NEEDED.get(section, ()))
    if section == _MAY_BE_EMPTY:
        entry = {**entry, "type": ["object", "null"]}
    if section == "figures":  # its rows may stand beside its keys
        entry["additionalProperties"] = TEXT
    return document(title, FILES[section], named(defined("entry")), {"entry": entry})


def shapes(names: Names) -> dict[str, Schema]:
    """What can stand behind a key, by the name that `said_of_catalogue` gives it."""
    readings = {**names.readings(asked=True), **names.readings(asked=False)}
    works = dict.fromkeys(names.entries["work"], "")
    return {
        "text": TEXT,
        "yes": one_of(("yes", "no")),
        "unit or circuit": one_of(("unit", "circuit")),
        "running or stopped": one_of(("running", "stopped")),
        "kind": one_of([*KINDS, "names"]),
        "number kind": one_of(name for name, kind in KINDS.items() if kind not in WORDS),
        "range": shaped(r"\S to \S|^(past|future)$", "-60 °F to 200 °F"),
        "instrument": offered(names.words("instruments")),
        "readings": offered(readings),
        "columns": offered(names.worded()),
        "changes": offered({**_GROUPS, **readings}),
        "cautions": offered(names.words("cautions")),
        "work": offered(works),
        "works": offered(works),
        "left on": offered(names.words("left-on")),
        "tests": TEXTS,
        "numbers": named(TEXT),
        "reasons": named(TEXT),
    }


def _told(said: Told, known: Mapping[str, Schema]) -> Schema:
    shape, words = said
    return told(known[shape], words)


def _places(names: Names, known: Mapping[str, Schema]) -> Schema:
    """The three parts of places.yaml; what is said of a place are names of its own kinds."""
    list_keys = {key: _told(LISTS[key], known) for key in LIST_KEYS}
    below = {
        "kinds": named(TEXT),
        "places": named(named(TEXT, dict.fromkeys(names.place_kinds, TEXT))),
        "lists": named({**keys(list_keys, ("by",)), "additionalProperties": known["text"]}),
    }
    return keys({part: told(below[part], PLACES[part]) for part in PARTS})
