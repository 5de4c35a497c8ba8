"""Remembers every property a walk used, so that a replay can use the same ones."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from tui.quantity import Refused
from tui.refrigerant import Look
from tui.trade import Properties, TableProperties

Key = tuple[str, ...]


class RecordingProperties:
    """Asks `inner` (the tables) once for each property; `taken()` gives what was used since.

    `stored` holds results of an earlier run, as `taken()` gave them: they win over the tables.
    """

    def __init__(self, inner: Properties | None = None) -> None:
        self._inner = TableProperties() if inner is None else inner
        self._known: dict[Key, Look | str | Refused] = {}
        self._used: dict[Key, None] = {}

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        key = (name, refrigerant, *map(repr, xs))
        found = self._known.get(key)
        if found is None:
            found = self._ask(key, lambda: self._inner.look(name, refrigerant, *xs))
        self._used[key] = None
        if isinstance(found, Refused):
            raise found
        assert isinstance(found, Look)
        return found

    def fact(self, name: str, refrigerant: str) -> str:
        key = (name, refrigerant)
        found = self._known.get(key)
        if found is None:
            found = self._ask(key, lambda: self._inner.fact(name, refrigerant))
        self._used[key] = None
        if isinstance(found, Refused):
            raise found
        assert isinstance(found, str)
        return found

    @contextmanager
    def aside(self) -> Iterator[None]:
        """What is looked up meanwhile, for a screen, belongs to no event."""
        used = dict(self._used)
        try:
            yield
        finally:
            self._used = used

    def _ask(self, key: Key, ask: Any) -> Look | str | Refused:
        try:
            found: Look | str | Refused = ask()
        except Refused as refused:
            found = refused
        self._known[key] = found
        return found

    def taken(self) -> list[list[Any]]:
        """[name, refrigerant, x…, result] for each property used since the last call; exact text."""
        used = [[*key, _stored(self._known[key])] for key in self._used]
        self._used.clear()
        return used

    def give(self, stored: list[list[Any]]) -> None:
        """Use these results from now on (the lists `taken()` once gave)."""
        for *key, result in stored:
            self._known[tuple(key)] = _found(result)


def _stored(found: Look | str | Refused) -> dict[str, Any]:
    if isinstance(found, Look):
        slopes = [repr(slope) for slope in found.slopes]
        return {"value": repr(found.value), "slopes": slopes, "error": repr(found.error)}
    if isinstance(found, Refused):
        return {"refused": found.code, "message": found.message, "cure": found.cure}
    return {"fact": found}


def _found(result: dict[str, Any]) -> Look | str | Refused:
    if "value" in result:
        slopes = tuple(float(slope) for slope in result["slopes"])
        return Look(float(result["value"]), slopes, float(result["error"]))
    if "refused" in result:
        return Refused(result["refused"], result["message"], result["cure"])
    return str(result["fact"])
