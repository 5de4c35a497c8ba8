"""The one written form of an event: RFC 8785 canonical JSON, and the hash over it."""

from __future__ import annotations

import json
from hashlib import sha256
from typing import Any

import rfc8785

_EXACT = 2**53 - 1  # RFC 8785 section 6: beyond this a JSON number is no longer exact
_plain_text = json.JSONEncoder(
    ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False, check_circular=False
).encode


def canonical(value: Any) -> bytes:
    """The canonical bytes of a JSON-able value.

    Raises ValueError for what has no exact form: integers beyond 2^53, NaN, infinity, half
    surrogates, keys that are not text, types JSON does not know; RecursionError for absurd nesting.
    """
    if _same_in_both(value):
        return _plain_text(value).encode()
    return rfc8785.dumps(value)


def fingerprint(value: Any) -> str:
    """SHA-256 of the canonical bytes, in lower-case hex."""
    return sha256(canonical(value)).hexdigest()


def _same_in_both(value: Any) -> bool:
    """Whether the json module, ten times faster, certainly writes what RFC 8785 asks for.

    It differs in whole and very small numbers with a point, in the order of keys outside the basic
    plane, and in what it lets pass: those go to rfc8785.
    """
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return True
    if kind is dict:
        return all(type(key) is str and key.isascii() and _same_in_both(item) for key, item in value.items())
    if kind is list:
        return all(map(_same_in_both, value))
    if kind is int:
        return bool(-_EXACT <= value <= _EXACT)
    return kind is float and 1e-4 <= abs(value) < 1e15 and bool(value % 1)
