"""The schema of ``settings.yaml``."""

from __future__ import annotations

from collections.abc import Iterable

from tui.desk.settings import ACTIONS, DRAWINGS, KEYS, OF_INSTRUMENTS, REGIONS, THEMES, UNITS, explanations
from tui.tree.schema.names import Names
from tui.tree.schema.pieces import TEXT, Schema, document, keys, named, told

FILE = "What lowside remembers about you. `lowside settings` shows it in words."
_OFTEN = {"units": UNITS, "region": REGIONS, "theme": THEMES, "drawing": DRAWINGS}
_SAID = {"instruments": "What is in your bag, by the catalogue's name.", "keys": "Keys of your own, by their action."}


def settings_schema(names: Names) -> Schema:
    """The schema of the settings."""
    said = explanations()
    instruments = names.words("instruments")
    bag = {key: told(TEXT, said[f"instruments.NAME.{key}"]) for key in OF_INSTRUMENTS}
    instrument: Schema = {**keys(_spelled(bag)), "type": ["object", "null"]}
    below: dict[str, Schema] = {key: _word(_OFTEN[key]) if key in _OFTEN else TEXT for key in KEYS}
    below["instruments"] = named(instrument, {name: told(instrument, say) for name, say in instruments.items()})
    below["keys"] = keys(_spelled(dict.fromkeys(ACTIONS, TEXT)))
    for key in ("instruments", "keys"):
        below[key] = {**below[key], "type": ["object", "null"]}
    return document("Settings", FILE, keys({key: told(below[key], _SAID.get(key, said.get(key, ""))) for key in KEYS}))


def _spelled(properties: dict[str, Schema]) -> dict[str, Schema]:
    """A hyphen may as well be a blank: ``good to``."""
    return {**{key.replace("-", " "): piece for key, piece in properties.items()}, **properties}


def _word(words: Iterable[str]) -> Schema:
    """One of these, in small or capital letters."""
    either = "|".join("".join(f"[{c.lower()}{c.upper()}]" for c in word) for word in words)
    return {"anyOf": [{"enum": list(words)}, {"type": "string", "pattern": f"^({either})$"}]}
