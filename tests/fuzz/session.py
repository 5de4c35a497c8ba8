"""Damaged session files: reading ends in a verdict or a refusal, and no damage passes for whole.

Run alone: ``python tests/fuzz/session.py --count 200000 --seed 1``.
"""

from __future__ import annotations

import argparse
import json
import random
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

import rfc8785

from tui.quantity.refused import Refused
from tui.record import Writer, read, recover, verify

STATES = {"whole", "open", "torn", "altered", "newer", "foreign"}
ACCEPTED = {"whole", "open"}
BITS = (
    b'{"a":1,"a":2}\n', b"\n", b"\0" * 64, b"\xff\xfe", b"\xef\xbb\xbf", b"\r\n", b'"', b"{", b"}", b",",
    b" ", b"\\ud800", b"1e999", b"9" * 5000, b"NaN", b'"n":-1,', b"lowside-session 2", b"[" * 3000,
    "\U0001f600".encode(), b"\xe2\x80\xa8",
)  # fmt: skip
ODD: tuple[object, ...] = (
    None,
    True,
    -1,
    0,
    2**53 - 1,
    0.5,
    1e-7,
    "",
    "x",
    "\u2028",
    [],
    {},
    [[]],
    {"a": {"b": None}},
    "opened",
    "closed",
)
EVENTS = (
    {"event": "opened", "circuit": "", "unit": "K-12", "versions": {"lowside": "1"}},
    {"event": "entered", "circuit": "main", "tree": "both-low", "text": "eNpLBAAAYgBi"},
    {"event": "answered", "circuit": "main", "reading": "suction", "value": {"value": "8", "unit": "[psi]"}},
    {"event": "noted", "circuit": "main", "text": "frost on the drier, 2 °C, “wet”"},
    {"event": "finding", "circuit": "main", "cause": "drier-blocked", "could_be": []},
    {"event": "closed", "circuit": "", "why": "ended"},
)  # fmt: skip


class _StillClock:
    def now(self) -> datetime:
        return datetime(2026, 11, 25, 9, 30, tzinfo=UTC)

    def mono(self) -> float:
        return 7.0


def original(folder: Path) -> bytes:
    path = folder / "original.jsonl"
    with Writer.create(path, _StillClock()) as writer:
        for event in EVENTS:
            writer.append(event)
    return path.read_bytes()


def damaged(rng: random.Random, whole: bytes) -> bytes:
    """One to three ways of damage, by bytes or by lines; hashes are left as they were."""
    data = whole
    for _ in range(rng.randrange(1, 4)):
        data = rng.choice(_DAMAGE)(rng, data)
    return data


def _flip(rng: random.Random, data: bytes) -> bytes:
    place = rng.randrange(len(data) or 1)
    return data[:place] + bytes([(data[place] ^ (1 << rng.randrange(8))) if data else 0]) + data[place + 1 :]


def _cut(rng: random.Random, data: bytes) -> bytes:
    return data[: rng.randrange(len(data) + 1)]


def _insert(rng: random.Random, data: bytes) -> bytes:
    place = rng.randrange(len(data) + 1)
    return data[:place] + rng.choice(BITS) + data[place:]


def _drop(rng: random.Random, data: bytes) -> bytes:
    start = rng.randrange(len(data) + 1)
    return data[:start] + data[start + rng.randrange(1, 60) :]


def _lines(rng: random.Random, data: bytes) -> bytes:
    lines = data.splitlines(keepends=True) or [b""]
    place = rng.randrange(len(lines))
    way = rng.randrange(4)
    if way == 0:
        del lines[place]
    elif way == 1:
        lines.insert(rng.randrange(len(lines)), lines[place])
    elif way == 2:
        rng.shuffle(lines)
    else:
        lines = lines[: place + 1]
    return b"".join(lines)


_DAMAGE: tuple[Callable[[random.Random, bytes], bytes], ...] = (_flip, _cut, _insert, _drop, _lines)


def resealed(rng: random.Random, whole: bytes) -> bytes:
    """A line with odd contents and a hash that fits: what another program might write."""
    lines = whole.splitlines()
    place = rng.randrange(len(lines))
    body = json.loads(lines[place])
    key = rng.choice([*body, "more", "\U0001f600"])
    if rng.random() < 0.3 and key in body:
        del body[key]
    else:
        body[key] = rng.choice(ODD)
    body.pop("hash", None)
    body["hash"] = sha256(rfc8785.dumps(body)).hexdigest()
    lines[place] = rfc8785.dumps(body)
    return b"\n".join(lines) + b"\n"


def try_one(path: Path, data: bytes, whole: bytes, sealed: bool) -> None:
    """Read and verify one file; both agree, nothing is written, and no damage is accepted."""
    path.write_bytes(data)
    verdict = verify(path)
    reading = read(path)
    if verdict.state not in STATES or (verdict.state, verdict.line) != (reading.state, reading.line):
        raise AssertionError(f"{verdict} but {reading.state}")
    if not verdict.message or not verdict.message.isprintable() or len(verdict.message) > 400:
        raise AssertionError(f"this message doesn't fit a screen: {verdict.message!r}")
    if path.read_bytes() != data:
        raise AssertionError("looking at a file has changed it")
    if verdict.state in ACCEPTED and not sealed and not (whole.startswith(data) and data.endswith(b"\n")):
        raise AssertionError(f"damage passed for {verdict.state}: {data!r}")
    if verdict.state == "torn" and reading.lines:
        _recovered(path, data)


def _recovered(path: Path, data: bytes) -> None:
    recovered = recover(path)
    if recovered.aside is None or path.read_bytes() + recovered.aside.read_bytes() != data:
        raise AssertionError(f"recovering lost something of {data!r}")
    recovered.aside.unlink()


def run(count: int, seed: int) -> int:
    """Try `count` files; the number tried. Any exception but Refused comes out."""
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        whole = original(folder)
        for _ in range(count):
            sealed = rng.random() < 0.25
            data = resealed(rng, whole) if sealed else damaged(rng, whole)
            try:
                try_one(folder / "visit.jsonl", data, whole, sealed)
            except Refused as refused:
                if not refused.message:
                    raise AssertionError("a refusal without words") from refused
    return count


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print(f"{run(options.count, options.seed)} session files, seed {options.seed}: no traceback")
