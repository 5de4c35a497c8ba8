"""The JSON shapes that the commands promise, as schemas. Nothing may be missing and nothing added unseen."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from jsonschema import Draft202012Validator

Schema = Mapping[str, Any]

TEXT: Schema = {"type": "string"}
NUMBER: Schema = {"type": "number"}
COUNT: Schema = {"type": "integer", "minimum": 0}
YES_NO: Schema = {"type": "boolean"}


def record(**keys: Schema) -> Schema:
    return {"type": "object", "properties": keys, "required": list(keys), "additionalProperties": False}


def listed(item: Schema) -> Schema:
    return {"type": "array", "items": item}


def one_of(*words: str) -> Schema:
    return {"enum": list(words)}


def either(*shapes: Schema) -> Schema:
    return {"anyOf": list(shapes)}


OR_NULL: Schema = {"type": ["string", "null"]}

CHECK = record(
    problems=listed(
        record(
            path=TEXT,
            line={"type": "integer", "minimum": 1},
            column={"type": "integer", "minimum": 1},
            code={"type": "string", "pattern": "^[a-z][a-z-]*$"},
            severity=one_of("error", "warning"),
            message={"type": "string", "minLength": 1},
            cure=TEXT,
        )
    )
)

SAT = record(
    refrigerant={"type": "string", "pattern": "^R-"},
    bubble=either(record(degC=NUMBER, degF=NUMBER), record(bara=NUMBER, psig=NUMBER)),
    dew=either(record(degC=NUMBER, degF=NUMBER), record(bara=NUMBER, psig=NUMBER)),
    estimated=YES_NO,
    error={"type": "number", "exclusiveMinimum": 0},
)

VERIFY = record(
    files=listed(
        record(
            path=TEXT,
            state=one_of("whole", "open", "torn", "altered", "newer", "foreign"),
            line=COUNT,
            message={"type": "string", "minLength": 1},
        )
    )
)

REPLAY = record(
    files=listed(
        record(
            path=TEXT,
            same=YES_NO,
            first=either({"type": "null"}, record(n=COUNT, what=TEXT, then={}, now={})),
        )
    )
)

_FOUND = record(circuit=TEXT, cause=TEXT, at=TEXT, could_be=listed(TEXT))

EXAMPLES = record(
    examples=listed(record(file=TEXT, name=TEXT, expected=listed(_FOUND), got=listed(_FOUND), ok=YES_NO, steps=COUNT)),
    uncovered=listed(record(tree=TEXT, step=TEXT, row=TEXT, example=OR_NULL)),
)

_COUNT = record(examples=COUNT, from_call=COUNT)

TABLE = record(
    causes=listed(TEXT),
    classes=listed(TEXT),
    cells=listed(
        record(**{"class": TEXT}, cause=TEXT, alone=_COUNT, several=_COUNT, unreviewed=_COUNT, cannot=OR_NULL)
    ),
)

SWAPS = listed(record(tree=TEXT, step=TEXT, row=TEXT, to=TEXT, instead=TEXT))

_ENDS = listed(
    record(
        name=TEXT,
        old=record(found=listed(_FOUND), refused=TEXT),
        new=record(found=listed(_FOUND), refused=TEXT),
    )
)
_CAME_OR_WENT = one_of("new", "gone", "changed")

DIFF = record(
    old=TEXT,
    new=TEXT,
    same=YES_NO,
    trees=listed(record(tree=TEXT, change=_CAME_OR_WENT, old_edition=TEXT, new_edition=TEXT)),
    elsewhere=listed(
        record(
            tree=TEXT,
            step=TEXT,
            kind=one_of("row", "line", "way", "not known", "order"),
            row=TEXT,
            words=TEXT,
            old=OR_NULL,
            new=OR_NULL,
            by=listed(TEXT),
            combinations={"type": "integer", "minimum": 1},
            old_step=TEXT,
            new_step=TEXT,
        )
    ),
    steps=listed(
        record(tree=TEXT, step=TEXT, change=one_of("new", "gone", "renamed", "moved"), does=TEXT, was=TEXT)
    ),
    changed=listed(record(where=TEXT, part=TEXT, old=TEXT, new=TEXT, read=YES_NO)),
    entries=listed(record(section=TEXT, entry=TEXT, change=one_of("new", "gone"))),
    figures=listed(
        record(
            figure=TEXT,
            change=_CAME_OR_WENT,
            values=listed(record(row=TEXT, old=TEXT, new=TEXT)),
            used_by=listed(record(at=TEXT, does=TEXT, through=listed(TEXT))),
            alone=either({"type": "null"}, _ENDS),
        )
    ),
    examples=record(walked=COUNT, elsewhere=_ENDS),
    sessions=either(
        {"type": "null"},
        listed(
            record(
                path=TEXT,
                state=one_of("same", "other", "neither"),
                parted=either({"type": "null"}, record(line=COUNT, at=TEXT, then=TEXT, now=TEXT)),
            )
        ),
    ),
)

#: Either what was judged (measured against wanted) or what was decided (and where it led).
_CLOSE = either(TEXT, listed(TEXT))
_EVIDENCE: Schema = {
    "type": "object",
    "properties": dict.fromkeys(("at", "what", "measured", "wanted", "says", "to", "overruled"), TEXT)
    | {"close": _CLOSE},
    "required": ["at", "says"],
    "additionalProperties": False,
    "oneOf": [{"required": ["what", "measured", "wanted"]}, {"required": ["to"]}],
}

WALK = record(
    findings=listed(
        record(
            circuit=TEXT,
            at={"type": "string", "pattern": "^[a-z0-9-]+/[a-z0-9-]+$"},
            cause=TEXT,
            could_be=listed(TEXT),
            evidence=listed(_EVIDENCE),
            ruled_out=listed(record(cause=TEXT, at=TEXT)),
            next=TEXT,
        )
    ),
    route=listed(record(circuit=TEXT, at=TEXT, row=TEXT, to=TEXT, close=listed(TEXT))),
    steps=COUNT,
    not_given=listed(TEXT),
    session=OR_NULL,
)


def shaped(text: str, schema: Schema) -> Any:
    """The JSON in `text`, held to `schema`."""
    found = json.loads(text)
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(found)
    return found
