"""The schema of an answers file."""

from __future__ import annotations

from collections.abc import Mapping

from tui.tree.schema.names import Names, Said
from tui.tree.schema.pieces import TEXT, TEXTS, Schema, defined, document, keys, named, offered, one_of, told
from tui.walk.answers import COULDNT, KEYS, OFFERS, SITE_KEYS

FILE = "A whole visit given beforehand: nothing is asked of anybody. Every number has its unit."

_SITE = {
    "altitude": "Height above sea level, with its unit: 300 ft.",
    "barometer": "Air pressure at the place itself, instead of the altitude: 29.1 inHg.",
    "region": "Whose rules apply: US, EU, UK or other.",
    "today": "The day of the visit: 2026-11-25.",
}
_SAID = {
    "tree": "The tree to walk; call, where nothing stands.",
    "units": "US or SI: what is shown. Answers have their units written all the same.",
    "site": "What is known of the place.",
    "visit": "Answers of the whole unit, each by the name of its reading.",
    "circuits": "Each circuit by its name (main, if there is one), with the answers to its readings.",
}
_COULDNT = "Work and waits that can't be done, as TREE/STEP."
_OFFERS = "Whether offers to go on are accepted: yes or no, or a list of them, one a time. no, where nothing stands."


def answers_schema(names: Names) -> Schema:
    """The schema of an answers file."""
    return document("Answers", FILE, keys(visit_keys(names), ("circuits",)), definitions(names))


def visit_keys(names: Names) -> dict[str, Schema]:
    """The keys that a visit has, in an answers file or an example."""
    below = {
        "tree": offered(names.trees),
        "units": one_of(("US", "SI")),
        "site": keys({key: told(TEXT, _SITE[key]) for key in SITE_KEYS}),
        "visit": defined("unit"),
        "circuits": {**named(defined("circuit")), "minProperties": 1},
    }
    return {key: told(below[key], _SAID[key]) for key in KEYS}


def definitions(names: Names) -> dict[str, Schema]:
    """The answers that a unit and a circuit can have. A list is used one a time asked."""
    besides = {COULDNT: told(TEXTS, _COULDNT)}
    offers = {OFFERS: told(TEXTS, _OFFERS)}
    return {
        "answer": TEXTS,
        "unit": named(defined("answer"), besides | _answers(names.entries["readings"], "unit")),
        "circuit": named(defined("answer"), besides | offers | _answers(names.entries["readings"], "circuit")),
    }


def _answers(readings: Mapping[str, Said], of: str) -> dict[str, Schema]:
    """The readings of a unit or a circuit that are asked, with their answers."""
    asked = {name: said for name, said in readings.items() if "ask" in said and said.get("of", "circuit") == of}
    return {name: told(_answer(said), _about(said)) for name, said in asked.items()}


def _answer(said: Said) -> Schema:
    words = "yes, no" if said.get("kind") == "yes/no" else said.get("answers", "")
    offered_ones = {word.strip(): "" for word in words.split(",") if word.strip()}
    return offered(offered_ones, TEXTS)


def _about(said: Said) -> str:
    kind = said.get("kind", "")
    between = f", {said['range']}" if "range" in said else ""
    return f"{said['ask']} ({kind}{between})" if kind and "answers" not in said else said["ask"]
