"""One line of a session file: its stamps, its making, its strict reading."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from typing import Any, NoReturn

from tui.record.canonical import canonical

FORMAT_NAME = "lowside-session"
FORMAT_VERSION = 1
FORMAT = f"{FORMAT_NAME} {FORMAT_VERSION}"
START = "0" * 64  # `prev` of the first line
LONGEST = 8 * 2**20  # bytes of one line; an embedded tree has at most 1 MiB
STAMPS = frozenset({"n", "at", "mono", "prev", "hash"})

_HEX = re.compile(r"[0-9a-f]{64}\Z")
_RFC_3339 = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)\Z")

Event = dict[str, Any]


class Fault(Exception):
    """Why a line is not as it was written; the text is for a person, without the line's number."""


@dataclass(frozen=True, slots=True)
class Line:
    """One whole line.

    n: its place, from 0. at: RFC 3339 with offset. mono: seconds since the file was opened or resumed.
    prev, hash: SHA-256 in hex of the line before and of this one. event: what the walk gave, unstamped.
    """

    n: int
    at: str
    mono: float
    prev: str
    hash: str
    event: Event


def write_line(event: Mapping[str, Any], n: int, at: str, mono: float, prev: str) -> tuple[bytes, str]:
    """The bytes of a line with its newline, and its hash.

    The first line (n = 0) states the format. Raises ValueError for what cannot be recorded exactly.
    """
    taken = STAMPS.intersection(event)
    if taken:
        raise ValueError(f"an event may not carry {', '.join(sorted(taken))}: the record writes these")
    seconds = int(mono) if mono == int(mono) else mono
    body = {**event, "n": n, "at": at, "mono": seconds, "prev": prev}
    if n == 0 and body.setdefault("format", FORMAT) != FORMAT:
        raise ValueError(f"this program writes {FORMAT}, not {body['format']}")
    body["hash"] = digest = sha256(canonical(body)).hexdigest()
    return canonical(body) + b"\n", digest


def read_line(raw: bytes) -> Line:
    """The line that these bytes (without newline) are. Raises Fault for anything else.

    Does not look at its neighbours: the caller compares `n` and `prev`.
    """
    body = parse(raw)
    _check_stamps(body)
    if _canonical(body) != raw:
        raise Fault("is not in its one written form: keys out of order, blanks, or another spelling")
    if not hashes(body):
        raise Fault("does not fit its hash: it was changed after it was written")
    event = {key: value for key, value in body.items() if key not in STAMPS}
    return Line(body["n"], body["at"], body["mono"], body["prev"], body["hash"], event)


def hashes(body: Mapping[str, Any]) -> bool:
    """Whether the hash in `body` is the one of the rest of it."""
    rest = {key: value for key, value in body.items() if key != "hash"}
    return sha256(_canonical(rest)).hexdigest() == body.get("hash")


def parse(raw: bytes) -> dict[str, Any]:
    """The JSON object in `raw`, without looking at what it means. Raises Fault."""
    if raw.startswith(b"\xef\xbb\xbf"):
        raise Fault("begins with a byte order mark: an editor has saved this file")
    if raw.endswith(b"\r"):
        raise Fault("ends in CR LF: an editor or a mail program has changed the line ends")
    if not raw.strip():
        raise Fault("is empty")
    try:
        value = json.loads(raw.decode(), object_pairs_hook=_no_key_twice, parse_constant=_no_constant)
    except UnicodeDecodeError as error:
        raise Fault(f"is not UTF-8 at byte {error.start + 1}") from None
    except json.JSONDecodeError as error:
        raise Fault(f"is not JSON: {error.msg.lower().removesuffix(' at')} at column {error.colno}") from None
    except ValueError:  # an integer of thousands of digits
        raise Fault("holds a number too long to read") from None
    except RecursionError:
        raise Fault("is nested too deeply") from None
    if not isinstance(value, dict):
        raise Fault("is not an event: { ... } was expected")
    return value


def version_of(body: Mapping[str, Any]) -> int | None:
    """The format version a first line states, None where it states none that we know how to count."""
    name, _, number = str(body.get("format", "")).partition(" ")
    if name != FORMAT_NAME or not (number.isascii() and number.isdigit() and len(number) < 10):
        return None
    return int(number)


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise Fault(f"has a key that stands twice: {key!r}")
        found[key] = value
    return found


def _no_constant(name: str) -> NoReturn:
    raise Fault(f"is not JSON: {name} is no number")


def _canonical(body: Mapping[str, Any]) -> bytes:
    try:
        return canonical(body)
    except ValueError:
        raise Fault("holds a number or a text that has no exact form") from None
    except RecursionError:
        raise Fault("is nested too deeply") from None


def _is_count(value: Any) -> bool:
    return type(value) is int and value >= 0


def _is_seconds(value: Any) -> bool:
    return type(value) in (int, float) and value >= 0


def moment(stamp: str) -> datetime:
    """The instant of an RFC 3339 stamp. Raises ValueError for a day or an hour that never was.

    A leap second, :60, is legal (RFC 3339 5.6) and unknown to Python: it is taken as the second after.
    """
    if stamp[17:19] == "60":
        return datetime.fromisoformat(f"{stamp[:17]}59{stamp[19:]}") + timedelta(seconds=1)
    return datetime.fromisoformat(stamp)


def _is_stamp(value: Any) -> bool:
    if not isinstance(value, str) or _RFC_3339.match(value) is None:
        return False
    try:
        moment(value)
    except (ValueError, OverflowError):  # the last second of the year 9999 may be a leap one
        return False
    return True


def _is_hash(value: Any) -> bool:
    return isinstance(value, str) and _HEX.match(value) is not None


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and value != ""


_CHECKS: dict[str, Callable[[Any], bool]] = {
    "n": _is_count,
    "at": _is_stamp,
    "mono": _is_seconds,
    "event": _is_name,
    "prev": _is_hash,
    "hash": _is_hash,
}


def _check_stamps(body: Mapping[str, Any]) -> None:
    for key, holds in _CHECKS.items():
        if key not in body:
            raise Fault(f"has no {key!r}")
        if not holds(body[key]):
            raise Fault(f"has a wrong {key!r}")
