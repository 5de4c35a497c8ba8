"""Every way a file can be damaged is named, with its line, and nothing is written while looking."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
import rfc8785

from tests.record.helpers import VISIT, write_visit
from tui.quantity.refused import Refused
from tui.record import FORMAT, Verdict, read, verify


@pytest.fixture
def session(tmp_path: Path) -> Path:
    return write_visit(tmp_path / "visit.jsonl", closed=True)


def edit(path: Path, change: Callable[[list[bytes]], list[bytes]]) -> Verdict:
    path.write_bytes(b"".join(change(path.read_bytes().splitlines(keepends=True))))
    return verify(path)


def resealed(raw: bytes, **changes: object) -> bytes:
    """A line with other contents and a hash that fits them: what a patient forger would write."""
    body = {**json.loads(raw), **changes}
    del body["hash"]
    body["hash"] = sha256(rfc8785.dumps(body)).hexdigest()
    return rfc8785.dumps(body) + b"\n"


def test_closed_is_whole_and_unclosed_is_open(session: Path, tmp_path: Path) -> None:
    assert verify(session).state == "whole"
    assert verify(write_visit(tmp_path / "b.jsonl")) == Verdict(
        str(tmp_path / "b.jsonl"), "open", 0, "5 lines, each as it was written; not closed yet."
    )


def test_read_gives_back_what_was_given(session: Path) -> None:
    reading = read(session)
    assert reading.events[: len(VISIT)] == list(VISIT)
    assert [line.n for line in reading.lines] == list(range(6))
    assert [line.mono for line in reading.lines] == [0.5, 1.0, 1.5, 2.0, 2.5, 3.0]
    assert reading.lines[0].at == "2026-11-25T09:30:00.000-05:00"


def test_every_line_hashes_as_the_reference_package_says(session: Path) -> None:
    before = "0" * 64
    for raw in session.read_bytes().splitlines():
        body = json.loads(raw)
        assert rfc8785.dumps(body) == raw
        stated = body.pop("hash")
        assert body["prev"] == before
        assert stated == sha256(rfc8785.dumps(body)).hexdigest()
        before = stated
    assert json.loads(session.read_bytes().splitlines()[0])["format"] == FORMAT


def test_any_flipped_byte_is_seen(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl", closed=True)
    whole = path.read_bytes()
    other = tmp_path / "flipped.jsonl"
    for place in range(len(whole)):
        other.write_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :])
        verdict = verify(other)
        line = whole.count(b"\n", 0, place) + 1
        expected = "torn" if place == len(whole) - 1 else "altered"
        assert verdict.state == expected, (place, verdict)
        assert verdict.line == line, (place, verdict)
        assert f"ine {line}" in verdict.message


def test_a_changed_figure(session: Path) -> None:
    verdict = edit(session, lambda lines: [raw.replace(b"8 psig", b"9 psig") for raw in lines])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert verdict.message == "Line 3 does not fit its hash: it was changed after it was written."


def test_a_changed_figure_with_its_hash_made_to_fit(session: Path) -> None:
    verdict = edit(session, lambda lines: [*lines[:2], resealed(lines[2], typed="9 psig"), *lines[3:]])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert verdict.message == "Line 3 was changed or replaced: the prev of line 4 does not fit it."


@pytest.mark.parametrize(("gone", "words"), [(1, "1 line was removed"), (2, "2 lines were removed")])
def test_removed_lines(session: Path, gone: int, words: str) -> None:
    verdict = edit(session, lambda lines: [*lines[:2], *lines[2 + gone :]])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert words in verdict.message
    assert "line 3" in verdict.message


def test_the_first_lines_removed(session: Path) -> None:
    verdict = edit(session, lambda lines: lines[2:])
    assert (verdict.state, verdict.line) == ("altered", 1)
    assert "2 lines were removed" in verdict.message


def test_a_removed_line_with_all_numbers_made_to_fit(session: Path) -> None:
    verdict = edit(session, lambda lines: [lines[0], *(resealed(raw, n=i) for i, raw in enumerate(lines[2:], 1))])
    assert (verdict.state, verdict.line) == ("altered", 1)
    assert "prev" in verdict.message


def test_lines_changed_about_or_twice(session: Path) -> None:
    verdict = edit(session, lambda lines: [lines[0], lines[2], lines[1], *lines[3:]])
    assert (verdict.state, verdict.line) == ("altered", 2)
    verdict = edit(write_visit(session.with_name("b.jsonl")), lambda lines: [*lines[:2], lines[1], *lines[2:]])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert "put in or moved" in verdict.message


def test_a_key_that_stands_twice(session: Path) -> None:
    def twice(lines: list[bytes]) -> list[bytes]:
        lines[2] = lines[2].replace(b'"typed":"8 psig"', b'"typed":"9 psig","typed":"8 psig"')
        return lines

    verdict = edit(session, twice)
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert verdict.message == "Line 3 has a key that stands twice: 'typed'."


def test_a_key_that_stands_twice_inside(session: Path) -> None:
    verdict = edit(session, lambda lines: [*lines[:4], lines[4].replace(b"[]", b'[{"a":1,"a":1}]'), *lines[5:]])
    assert "twice" in verdict.message


def reordered(raw: bytes) -> bytes:
    body = json.loads(raw)
    return json.dumps(dict(reversed(body.items())), separators=(",", ":"), ensure_ascii=False).encode() + b"\n"


@pytest.mark.parametrize(
    "spelling",
    [
        reordered,
        lambda raw: raw.replace(b":", b": ", 1),
        lambda raw: raw.replace(b'"mono":2,', b'"mono":2.0,'),
        lambda raw: raw.replace("°".encode(), b"\\u00b0"),
        lambda raw: b" " + raw,
    ],
)
def test_another_spelling_of_the_same_contents(session: Path, spelling: Callable[[bytes], bytes]) -> None:
    before = session.read_bytes()
    verdict = edit(session, lambda lines: [*lines[:3], spelling(lines[3]), *lines[4:]])
    assert session.read_bytes() != before
    assert (verdict.state, verdict.line) == ("altered", 4)
    assert "written form" in verdict.message


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (b"\n", "empty"),
        (b"[1]\n", "not an event"),
        (b'{"n":1}\n', "has no 'at'"),
        (b'{"n":NaN}\n', "NaN is no number"),
        (b'{"n":' + b"9" * 5000 + b"}\n", "number too long"),
        (b'{"a":' * 30_000 + b"1" + b"}" * 30_000 + b"\n", "nested too deeply"),
        (b'{"a":"\xff"}\n', "not UTF-8 at byte 7"),
        (b'{"a":"\xed\xa0\x80"}\n', "not UTF-8"),
        (b"all well\n", "not JSON"),
        (b"\0" * 100 + b"\n", "not JSON"),
    ],
)
def test_a_line_that_is_no_event(session: Path, line: bytes, words: str) -> None:
    verdict = edit(session, lambda lines: [*lines[:2], line, *lines[2:]])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert words in verdict.message


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"n": -1}, "wrong 'n'"),
        ({"n": True}, "wrong 'n'"),
        ({"at": "yesterday"}, "wrong 'at'"),
        ({"at": "2026-11-25T09:30:00"}, "wrong 'at'"),
        ({"mono": "3"}, "wrong 'mono'"),
        ({"event": ""}, "wrong 'event'"),
        ({"prev": "0"}, "wrong 'prev'"),
    ],
)
def test_wrong_stamps(session: Path, change: dict[str, object], words: str) -> None:
    verdict = edit(session, lambda lines: [*lines[:2], resealed(lines[2], **change), *lines[3:]])
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert words in verdict.message


def test_text_that_has_no_exact_form(session: Path) -> None:
    def half_a_character(lines: list[bytes]) -> list[bytes]:
        return [*lines[:2], lines[2].replace(b"8 psig", b"\\ud800"), *lines[3:]]

    verdict = edit(session, half_a_character)
    assert (verdict.state, verdict.line) == ("altered", 3)
    assert "no exact form" in verdict.message


def test_saved_by_an_editor(session: Path) -> None:
    whole = session.read_bytes()
    session.write_bytes(b"\xef\xbb\xbf" + whole)
    assert "byte order mark" in verify(session).message
    session.write_bytes(whole.replace(b"\n", b"\r\n"))
    assert "CR LF" in verify(session).message
    assert verify(session).state == "altered"


def test_torn_at_every_byte_of_the_last_line(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl")
    whole = path.read_bytes()
    last = whole.rindex(b"\n", 0, -1) + 1
    for end in range(last + 1, len(whole)):
        path.write_bytes(whole[:end])
        reading = read(path)
        assert (reading.state, reading.line, reading.size, reading.torn_bytes) == (
            "torn",
            5,
            last,
            end - last,
        )
        assert reading.events == list(VISIT[:-1])
    path.write_bytes(whole[:last])
    assert read(path).state == "open"


def test_torn_in_its_first_line(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl")
    first = path.read_bytes().splitlines(keepends=True)[0]
    for end in range(len(first)):
        path.write_bytes(first[:end])
        assert verify(path).state == "torn"
        assert read(path).lines == ()


def test_a_block_of_zeros_at_the_end_is_torn(tmp_path: Path) -> None:
    path = write_visit(tmp_path / "visit.jsonl")
    whole = path.read_bytes()
    last = whole.rindex(b"\n", 0, -1) + 1
    for tail in (b"\0" * 4096, whole[last : last + 20] + b"\0" * 80 + b"\n", b"\0" * 50 + whole[last + 50 :]):
        path.write_bytes(whole[:last] + tail)
        assert (verify(path).state, verify(path).line) == ("torn", 5)


def test_a_newer_format(session: Path) -> None:
    verdict = edit(session, lambda lines: [resealed(lines[0], format="lowside-session 2", more=1), *lines[1:]])
    assert (verdict.state, verdict.line) == ("newer", 1)
    assert "session format 2" in verdict.message


@pytest.mark.parametrize("stated", ["lowside-session 0", "lowside-session", "lowside-session x", "", 1])
def test_a_format_that_never_was(session: Path, stated: object) -> None:
    verdict = edit(session, lambda lines: [resealed(lines[0], format=stated), *lines[1:]])
    assert (verdict.state, verdict.line) == ("altered", 1)


@pytest.mark.parametrize(
    "contents",
    [
        b"tree: both-low\n",
        b'{"a":1}\n',
        b'{"a":1}',
        b"{\n}\n",
        b"\x89PNG\r\n\x1a\n\0\0",
        b"\xff\xfe{\0\n\0",
        b"\n\n",
        bytes(range(256)),
    ],
)
def test_some_other_file(tmp_path: Path, contents: bytes) -> None:
    path = tmp_path / "other"
    path.write_bytes(contents)
    assert verify(path).state == "foreign"
    assert "Not a session file" in verify(path).message


def test_a_session_that_does_not_begin_with_opened(session: Path) -> None:
    verdict = edit(session, lambda lines: [resealed(lines[0], event="noted"), *lines[1:]])
    assert (verdict.state, verdict.line) == ("altered", 1)


def test_an_empty_file(tmp_path: Path) -> None:
    path = tmp_path / "empty.jsonl"
    path.touch()
    assert verify(path) == Verdict(str(path), "torn", 0, "Empty: the power went before the first line was written.")


def test_a_folder_and_a_pipe(tmp_path: Path) -> None:
    assert verify(tmp_path).state == "foreign"
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert verify(pipe).state == "foreign"
    assert verify("/dev/zero").state == "foreign"


@pytest.mark.parametrize(("name", "code"), [("none.jsonl", "missing"), ("a" * 300, "bad-name"), ("a\0b", "bad-name")])
def test_what_cannot_be_looked_at(tmp_path: Path, name: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        verify(tmp_path / name)
    assert refused.value.code == code
    assert "none" not in name or "none.jsonl" in refused.value.message


def test_no_right_to_read(session: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*arguments: object, **named: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", denied)
    with pytest.raises(Refused, match="no right") as refused:
        verify(session)
    assert refused.value.code == "no-right"


def test_verify_never_writes(session: Path) -> None:
    session.write_bytes(session.read_bytes()[:-5])
    before = (session.read_bytes(), session.stat().st_mtime_ns, sorted(session.parent.iterdir()))
    assert verify(session).state == "torn"
    assert (session.read_bytes(), session.stat().st_mtime_ns, sorted(session.parent.iterdir())) == before


def test_huge_files_need_little_memory(session: Path) -> None:
    """2 GiB of nothing after a session, and 2 GiB of nothing alone: no more than one longest line is held."""
    import tracemalloc

    alone = session.with_name("zeros.jsonl")
    for path in (session, alone):
        with path.open("ab") as stream:
            stream.truncate(2 * 2**30)
    tracemalloc.start()
    assert verify(alone).state == "foreign"
    verdict = verify(session)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert (verdict.state, verdict.line) == ("altered", 7)
    assert peak < 40 * 2**20
    with pytest.raises(Refused, match="larger than 256 MiB"):
        read(session)
