"""What is published about time stamps and JSON Lines, held against session files."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.published.signs import COOLER_VALVE, readings
from tests.published.visits import walked
from tests.record.helpers import write_visit
from tui.desk.waits import age_of
from tui.record import moment, read, verify
from tui.record.canonical import canonical, fingerprint


def _stamped(path: Path, stamp: str) -> Path:
    """A whole visit whose third line says it is from then; the chain made to fit."""
    written = write_visit(path, closed=True).read_bytes().splitlines()
    lines: list[dict[str, Any]] = [json.loads(line) for line in written]
    lines[2]["at"] = stamp
    before = lines[0]["prev"]
    for line in lines:
        line["prev"] = before
        before = line["hash"] = fingerprint({name: value for name, value in line.items() if name != "hash"})
    path.write_bytes(b"".join(canonical(line) + b"\n" for line in lines))
    return path


@pytest.mark.parametrize("stamp", ["1985-04-12T23:20:50.52Z", "1996-12-19T16:39:57-08:00", "2026-11-25T09:30:00+05:30"])
def test_C12_stamps_of_the_standard_are_read(tmp_path: Path, stamp: str) -> None:
    """RFC 3339 5.8."""
    assert verify(_stamped(tmp_path / "a.jsonl", stamp)).state == "whole"


def test_C13_one_instant_in_two_zones() -> None:
    """RFC 3339 5.8, from memory."""
    assert moment("1996-12-19T16:39:57-08:00") == moment("1996-12-20T00:39:57Z")


def test_C14_a_leap_second_is_legal_and_is_reckoned_with(tmp_path: Path) -> None:
    """RFC 3339 5.8, from memory. Python refuses it; a visit that has one is whole, and its waits can be taken up."""
    stamp = "1990-12-31T23:59:60Z"
    with pytest.raises(ValueError):
        datetime.fromisoformat(stamp)
    assert moment(stamp) == datetime(1991, 1, 1, tzinfo=UTC)
    path = _stamped(tmp_path / "a.jsonl", stamp)
    assert verify(path).state == "whole"
    lines = read(path).lines[2:3]
    assert age_of(lines, moment(stamp) + timedelta(minutes=5)).seconds == pytest.approx(300)


@pytest.mark.parametrize(
    "stamp",
    [
        "2026-13-45T99:99:99Z",
        "2026-02-30T09:30:00Z",
        "2026-11-25T24:30:00Z",
        "2026-11-25T09:30:61Z",
        "9999-12-31T23:59:60Z",
    ],
)
def test_C14_a_moment_that_never_was_is_told(tmp_path: Path, stamp: str) -> None:
    verdict = verify(_stamped(tmp_path / "a.jsonl", stamp))
    assert verdict.state == "altered"
    assert "'at'" in verdict.message


def test_C15_json_lines_without_a_byte_order_mark(tmp_path: Path) -> None:
    """jsonlines.org: UTF-8 without a mark, one value a line, a line feed at the end of each, no blank lines."""
    raw = write_visit(tmp_path / "a.jsonl", closed=True).read_bytes()
    assert not raw.startswith(b"\xef\xbb\xbf")
    assert raw.endswith(b"\n")
    assert b"\r" not in raw
    lines = raw.decode("utf-8").removesuffix("\n").split("\n")
    assert all(isinstance(json.loads(line), dict) for line in lines)


def test_C10_a_gauge_pressure_says_so_and_what_air_it_stands_on() -> None:
    """UCUM has no gauge unit (from memory): its unit with `gauge` beside it, the site's atmosphere in `opened`."""
    events = walked("both-low", readings(COOLER_VALVE, {"suction": "on", "head": "on"}, 1.0)).events
    suction = next(event["value"] for event in events if event.get("reading") == "suction")
    assert suction["unit"] == "[psi]"
    assert suction["gauge"] is True
    assert float(events[0]["site"]["atmosphere"]["pa"]) == pytest.approx(101325)
