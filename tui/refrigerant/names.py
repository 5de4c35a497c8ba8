"""Refrigerant names as people type them, through our own table of other names.

A name is compared without blanks, hyphens, dots, brackets and the letters before its number (R, HFC ...), so
``R-134a``, ``r134a``, ``134A``, ``R134 a`` and ``HFC-134a`` are one.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from tui.quantity import Refused
from tui.refrigerant.facts import entries
from tui.refrigerant.table import DATA

_PREFIX = re.compile(r"^(?:refrigerant|hcfc|hfc|hfo|cfc|hco|hc|r)(?=\d)")
_NOISE = re.compile(r"[\s\-‐-―_.,()/\[\]®™]+")
_PARTS = re.compile(r"[()\[\]/,;]")
UNLISTED = "unlisted"  # the answer of who has a refrigerant that is none of these
LONGEST = 60  # characters; what is longer is no name

_INSTEAD = "Type the saturation temperature that your gauge or chart shows; the session says that you did."


class _Names:
    """All that is known about names, read once."""

    def __init__(self) -> None:
        data: Mapping[str, Any] = json.loads((DATA / "names.json").read_text(encoding="utf-8"))
        self.why: Mapping[str, str] = data["why"]
        self.not_carried: Mapping[str, str] = data["not_carried"]
        self.by_key: dict[str, str] = {key(name): name for name in (*entries(), *self.not_carried)}
        self.by_key.update(data["names"])


_names: list[_Names] = []


def _known() -> _Names:
    if not _names:
        _names.append(_Names())
    return _names[0]


def key(text: str) -> str:
    """What two spellings of one name have in common: ``R-1234ze(E)`` -> ``1234zee``."""
    return _PREFIX.sub("", _NOISE.sub("", text.lower()))


def ids() -> tuple[str, ...]:
    """The refrigerants that are carried, by their ids, the common ones first."""
    return tuple(entries())


def resolve(text: str) -> str:
    """The id of a refrigerant as a person typed it: ``r134a`` -> ``R-134a``.

    Raises Refused ``unknown-refrigerant`` (with the nearest names), ``unsupported-refrigerant`` (with why) or
    ``unlisted-refrigerant`` (the answer that it is none of these).
    """
    if text in entries():
        return text
    if text == UNLISTED:
        raise Refused("unlisted-refrigerant", "The refrigerant is not in the list: no table of it is here.", _INSTEAD)
    known = _known()
    name = _named(text, known) if len(text) <= LONGEST else None
    if name is None:
        raise _unknown(text, known)
    if name in known.not_carried:
        why = known.why[known.not_carried[name]]
        meant = _meant(name, known)
        raise Refused("unsupported-refrigerant", f"{name} is not carried: {why}.", f"{meant}{_INSTEAD}")
    return name


def _named(text: str, known: _Names) -> str | None:
    """The name meant by a text, or by each of its parts alike: ``R290 (propane)`` names one twice."""
    whole = known.by_key.get(key(text))
    if whole is not None:
        return whole
    parts = {known.by_key.get(key(part)) for part in _PARTS.split(text) if key(part)}
    return parts.pop() if len(parts) == 1 else None


def _meant(name: str, known: _Names) -> str:
    """A did-you-mean where a carried name only adds a letter: R-600 -> R-600a."""
    longer = [known.by_key[k] for k in (f"{key(name)}a",) if k in known.by_key]
    near = [n for n in longer if n not in known.not_carried]
    return f"Did you mean {near[0]}? " if near else ""


def _unknown(text: str, known: _Names) -> Refused:
    shown = text.strip() if len(text) <= LONGEST else f"{text[:LONGEST].strip()} ..."
    if not shown:
        cure = "Take it off the nameplate, as R-134a."
        return Refused("unknown-refrigerant", "No refrigerant was named.", cure)
    near = _near(key(text[:LONGEST]), known)
    if near:
        cure = f"Did you mean {' or '.join(near)}?"
    else:
        cure = "Take the name off the nameplate, as R-134a, R-404A or propane."
    return Refused("unknown-refrigerant", f"{shown!r} is not a refrigerant known here.", cure)


def _near(wanted: str, known: _Names) -> list[str]:
    """Carried refrigerants of nearly this name; a number without its letter finds all that have it."""
    from difflib import get_close_matches  # only when somebody mistyped: a walk that starts needs none of it

    carried = {k: name for k, name in known.by_key.items() if name not in known.not_carried}
    found = [name for k, name in carried.items() if wanted.isdigit() and len(wanted) > 2 and k[:-1] == wanted]
    if not found:
        found = [carried[k] for k in get_close_matches(wanted, carried, n=3, cutoff=0.7)]
    return list(dict.fromkeys(found))[:4]
