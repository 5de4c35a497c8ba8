"""The schema of a tree."""

from __future__ import annotations

from collections.abc import Mapping

from tui.tree.forms import COMMON, KEYS
from tui.tree.outline import CARRY_ON, GO_ROUND
from tui.tree.schema.names import Names
from tui.tree.schema.pieces import TEXT, Schema, defined, document, keys, named, offered, one_of, shaped, told
from tui.tree.schema.said_of_trees import AT_ONCE, FREE, HEAD, NEEDED, NEEDED_HEAD, STEPS, Told
from tui.tree.schema.said_of_trees import COMMON as COMMON_SAID
from tui.tree.steps import HEAD as HEAD_KEYS


def tree_schema(names: Names) -> Schema:
    """The schema of the files in a folder of trees."""
    known = shapes(names)
    head = {key: _told(HEAD[key], known) for key in HEAD_KEYS}
    steps = {f"step {form}": _step(form, known) for form in KEYS}
    say = "One tree: what is asked, done and decided, step by step."
    return document("A tree", say, keys(head, NEEDED_HEAD), {"way": known["way"], "step": _any_step(), **steps})


def shapes(names: Names) -> dict[str, Schema]:
    """What can stand behind a key, by the name that `said_of_trees` gives it."""
    readings = names.readings(asked=True)
    results = names.readings(asked=False)
    trees = dict(names.trees)
    ways = {CARRY_ON: "the step below", GO_ROUND: "the next round of the repeat it stands in"}
    places = {f"place in {name}": "" for name in names.place_lists}
    return {
        "text": TEXT,
        "yes": one_of(("yes", "no")),
        "unit or circuit": one_of(("unit", "circuit")),
        "way": offered(ways),
        "steps": {"type": "array", "items": defined("step"), "minItems": 1},
        "rows": named(defined("way")),
        "test": TEXT,
        "expression": TEXT,
        "number": offered(names.figures()),
        "time span": offered(names.figures("time span")),
        "asked readings": offered(readings),
        "results": offered(results),
        "columns": offered(names.worded()),
        "cautions": offered(names.words("cautions")),
        "work": offered(dict.fromkeys(names.entries["work"], "")),
        "cause": offered({**names.words("causes"), "cannot-tell": "the walk ends without knowing"}),
        "causes": offered(names.words("causes")),
        "left on": offered(names.words("left-on")),
        "tree": offered(trees),
        "rounds": shaped(r"^[0-9]+ rounds?$", "12 rounds"),
        "each circuit": one_of(("circuit",)),
        "each place": offered(places, shaped(r"^place in \S", "place in leak-places")),
    }


def _told(said: Told, known: Mapping[str, Schema]) -> Schema:
    """A shape with a key's words."""
    shape, words = said
    return told(known[shape], words)


def _step(form: str, known: Mapping[str, Schema]) -> Schema:
    """A step with that word: its keys and no others."""
    properties = {key: _told(STEPS[form][key], known) for key in (form, *KEYS[form])}
    properties |= {key: _told(COMMON_SAID[key], known) for key in COMMON}
    free = {f"^{start}": _told(said, known) for start, said in FREE.get(form, {}).items()}
    return keys(properties, (form, *NEEDED.get(form, ())), free)


def _any_step() -> Schema:
    """Told apart by its word. One that has none yet is offered all of them."""
    heads = {form: told(TEXT, STEPS[form][form][1]) for form in KEYS}
    chosen = [{"if": _has(form), "then": {"$ref": f"#/definitions/step {form}"}} for form in KEYS]
    snippets = [_snippet(form) for form in AT_ONCE]
    none = {
        "if": {"not": {"anyOf": [_has(form) for form in KEYS]}},
        "then": {**keys(heads), "defaultSnippets": snippets},
    }
    return {"type": "object", "minProperties": 1, "allOf": [*chosen, none]}


def _snippet(form: str) -> Schema:
    """A whole step with the keys that it needs, for editors that can put it in at once."""
    body = {key: f"${number}" for number, key in enumerate((form, *NEEDED[form]), start=1)}
    return {"label": f"{form} ...", "description": f"A step `{form}` with the keys it needs.", "body": body}


def _has(form: str) -> Schema:
    return {"type": "object", "required": [form]}


