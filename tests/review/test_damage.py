"""Files that are not as they were written: what is readable is told, and that it is not all."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import datetime
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.record.helpers import HandClock, write_visit
from tests.review.visits import begun, charged, flat, to_the_gauges
from tui.quantity import Refused
from tui.record import Writer, read
from tui.record.canonical import canonical
from tui.review import sheet_of
from tui.review.page import WIDTH, in_ascii


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("whole") / "visit.jsonl"
    visit = charged(to_the_gauges(begun(path)))
    visit.act(lambda walk: walk.note("Bäckerei, links; °, µ, ½ – “so”"))
    visit.act(lambda walk: walk.close())
    visit.visit.leave()
    return path.read_bytes()


def written(tmp_path: Path, data: bytes) -> Path:
    path = tmp_path / "damaged.jsonl"
    path.write_bytes(data)
    return path


def test_a_torn_file_is_told_as_far_as_it_goes(whole: bytes, tmp_path: Path) -> None:
    path = written(tmp_path, whole[: whole.index(b'"event":"finding"') + 40])
    sheet = sheet_of(read(path))
    first = flat(sheet.partition("SERVICE SHEET")[0])
    assert first.startswith("*** THIS RECORD IS TORN.")
    assert "Below stands only what its first" in first
    assert "Record torn:" in flat(sheet)
    assert "Suction" in sheet
    assert "Found Nothing found yet" in flat(sheet)


def test_a_record_that_breaks_off_does_not_say_that_nothing_went_in(whole: bytes, tmp_path: Path) -> None:
    path = written(tmp_path, whole[: whole.index(b'"event":"done"') + 10])
    assert "none went in or out as far as the record goes" in flat(sheet_of(read(path)))


def test_an_altered_file_is_told_up_to_there(whole: bytes, tmp_path: Path) -> None:
    path = written(tmp_path, whole.replace(b'"typed":"98 oz"', b'"typed":"90 oz"'))
    sheet = sheet_of(read(path))
    assert sheet.startswith("*** THIS RECORD IS ALTERED.")
    assert "90 oz" not in sheet
    assert "98 oz" not in sheet
    assert "100 oz" in sheet
    assert "Ended not known: from there on the record is not as it was written" in flat(sheet)
    assert "the visit is still open" not in flat(sheet), "nobody can say so"


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (lambda data: b"", "nothing-recorded"),
        (lambda data: data[:30], "nothing-recorded"),
        (lambda data: b"Dear customer,\nplease find enclosed\n", "foreign"),
        (lambda data: data.replace(b'"unit":"K-12"', b'"unit":"K-13"', 1), "nothing-recorded"),
    ],
)
def test_where_nothing_can_be_read_it_says_so(
    whole: bytes, tmp_path: Path, change: Callable[[bytes], bytes], code: str
) -> None:
    path = written(tmp_path, change(whole))
    with pytest.raises(Refused) as refused:
        sheet_of(read(path))
    assert refused.value.code == code
    assert str(path) in refused.value.message
    assert refused.value.cure


def test_a_newer_format_is_one_clear_message(whole: bytes, tmp_path: Path) -> None:
    """As a newer program writes it: its first line fits its hash."""
    first, *rest = whole.splitlines(keepends=True)
    body = {key: value for key, value in json.loads(first).items() if key != "hash"} | {"format": "lowside-session 2"}
    sealed = canonical(body | {"hash": sha256(canonical(body)).hexdigest()}) + b"\n"
    path = written(tmp_path, b"".join([sealed, *rest]))
    with pytest.raises(Refused) as refused:
        sheet_of(read(path))
    assert refused.value.code == "newer"
    message = f"{path}: Written in session format 2; this program reads up to 1. Get a newer lowside."
    assert (refused.value.message, refused.value.cure) == (message, "")


def test_lines_that_no_walk_writes_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        sheet_of(read(write_visit(tmp_path / "other.jsonl", closed=True)))
    assert refused.value.code == "not-a-walk"


def test_trees_that_cannot_be_unpacked_leave_the_ids_as_spoken(whole: bytes, tmp_path: Path) -> None:
    """As a file of another program might have them: its chain holds."""
    source = written(tmp_path, whole)
    path = tmp_path / "without-trees.jsonl"
    with Writer.create(path, HandClock()) as writer:
        for event in read(source).events:
            writer.append({**event, "text": "x", "catalogue": "x"} if event["event"] == "entered" else event)
    sheet = flat(sheet_of(read(path)))
    assert "The trees in this record can't be read" in sheet
    assert "Found Short of charge" in sheet
    assert "Suction" in sheet


@pytest.mark.parametrize("ascii_only", [False, True])
def test_no_line_is_too_long_and_none_ends_in_blanks(whole: bytes, tmp_path: Path, ascii_only: bool) -> None:
    lines = sheet_of(read(written(tmp_path, whole)), ascii_only=ascii_only).split("\n")
    assert max(map(len, lines)) <= WIDTH
    assert [line for line in lines if line != line.rstrip()] == []
    assert lines[-1] == ""


def test_plain_letters_only(whole: bytes, tmp_path: Path) -> None:
    sheet = sheet_of(read(written(tmp_path, whole)), ascii_only=True)
    assert sheet.isascii()
    assert "deg F" in sheet
    assert 'Backerei, links; deg , u, 1/2 - "so"' in flat(sheet)


@settings(max_examples=60, deadline=None)
@given(text=st.text(min_size=1, max_size=300).filter(lambda text: text.strip()))
def test_whatever_is_noted_stays_one_quiet_text(text: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    try:
        text.encode()
    except UnicodeEncodeError:
        return  # half a character can't be recorded at all
    visit = begun(tmp_path_factory.mktemp("noted") / "visit.jsonl")
    visit.act(lambda walk: walk.note(text))
    for ascii_only in (False, True):
        sheet = visit.sheet(ascii_only=ascii_only)
        assert max(map(len, sheet.split("\n"))) <= WIDTH
        assert re.search(r"[^\n -~\x80-\U0010ffff]", sheet) is None
        assert not ascii_only or sheet.isascii()


def test_in_ascii_keeps_what_is_ascii() -> None:
    assert in_ascii("12 psig") == "12 psig"
    assert in_ascii("é") == "e"
    assert in_ascii("漢") == "?"


@settings(max_examples=80, deadline=None)
@given(place=st.integers(0, 10**6), byte=st.integers(0, 255), cut=st.booleans())
def test_any_damage_is_a_sheet_or_one_refusal(
    whole: bytes, tmp_path_factory: pytest.TempPathFactory, place: int, byte: int, cut: bool
) -> None:
    place %= len(whole)
    data = whole[:place] if cut else whole[:place] + bytes([byte]) + whole[place + 1 :]
    path = written(tmp_path_factory.mktemp("damage"), data)
    reading = read(path)
    if not reading.lines or reading.state in ("foreign", "newer"):
        with pytest.raises(Refused):
            sheet_of(reading)
    else:
        assert sheet_of(reading).startswith("***") is (reading.state in ("torn", "altered"))


def test_a_stamp_of_no_day_is_told_as_what_was_altered(tmp_path: Path) -> None:
    class Odd(HandClock):
        def now(self) -> datetime:
            class Never(datetime):
                def isoformat(self, *_: object, **__: object) -> str:
                    return "2026-13-45T99:99:99Z"

            return Never(2026, 11, 25)

    path = tmp_path / "visit.jsonl"
    visit = begun(tmp_path / "first.jsonl")
    visit.visit.leave()
    with Writer.create(path, Odd()) as writer:
        for event in visit.walk.events:
            writer.append(event)
    with pytest.raises(Refused, match="Line 1 has a wrong 'at'"):
        sheet_of(read(path))
