"""The bricks that schemas are built of. A schema is plain data, ready to be written as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

Schema = dict[str, Any]

#: The newest that every common editor for YAML understands.
DRAFT = "http://json-schema.org/draft-07/schema#"

#: What stands on one line: an editor takes `3` for a number, lowside for text. (`yes` is text in YAML 1.2.)
TEXT: Schema = {"type": ["string", "number"]}

#: One such text, or a list of them.
TEXTS: Schema = {"type": ["string", "number", "array"], "items": TEXT, "minItems": 1}


def document(title: str, description: str, body: Schema, definitions: Mapping[str, Schema] | None = None) -> Schema:
    """A whole schema."""
    whole = {"$schema": DRAFT, "title": title, "description": description, **body}
    return whole | ({"definitions": dict(definitions)} if definitions else {})


def defined(name: str) -> Schema:
    """What stands under that name in the schema's definitions."""
    return {"allOf": [{"$ref": f"#/definitions/{name}"}]}


def one_of(words: Iterable[str]) -> Schema:
    """A few words of the language, and no other."""
    return {"enum": list(words)}


def offered(names: Mapping[str, str], rest: Schema = TEXT) -> Schema:
    """Names at hand, each with what it says of itself; any other `rest` is let through.

    One by one, not as an `enum`: of that an editor shows all where it should explain one.
    """
    if not names:
        return dict(rest)
    known = [{"const": name, "description": say or name} for name, say in names.items()]
    return {"type": rest["type"], "anyOf": [*known, dict(rest)]}


def shaped(pattern: str, example: str) -> Schema:
    """A text of that form."""
    say = f"Write it so: {example}"
    return {"type": "string", "pattern": pattern, "errorMessage": say, "examples": [example]}


def keys(
    properties: Mapping[str, Schema], required: Iterable[str] = (), free: Mapping[str, Schema] | None = None
) -> Schema:
    """Keys with values, and no others; `free`: patterns of keys that may stand there besides."""
    made: Schema = {"type": "object", "properties": dict(properties), "additionalProperties": False}
    if required:
        made["required"] = list(required)
    if free:
        made["patternProperties"] = dict(free)
    return made


def named(value: Schema, known: Mapping[str, Schema] | None = None) -> Schema:
    """Keys are names: those `known` are offered, any other may stand there too."""
    made: Schema = {"type": "object", "additionalProperties": value}
    return made | ({"properties": dict(known)} if known else {})


def told(piece: Schema, words: str) -> Schema:
    """The same with what an editor says of it; of each name that is offered, what it is and what it is for here."""
    if "anyOf" in piece:
        offers = [_told_of_one(each, words) if "const" in each else each for each in piece["anyOf"]]
        piece = {**piece, "anyOf": offers}
    return {"description": words, **piece}


def _told_of_one(offer: Schema, words: str) -> Schema:
    return {**offer, "description": f"{offer['description']}\n\n{words}"}
