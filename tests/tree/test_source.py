"""The strict reader: what is taken as text, and every refusal with its place and words."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from tui.tree import source
from tui.tree.source import MOST_BYTES, Mapping, Scalar, Sequence, Unreadable, read_bytes, read_text, scan


def told(text: str, flow: bool = False) -> list[tuple[int, int, str]]:
    _, problems = scan("f.yaml", text, flow)
    return [(problem.spot.line, problem.spot.column, problem.code) for problem in problems]


def plain(node: object) -> object:
    if isinstance(node, Mapping):
        return {key.text: plain(value) for key, value in node.entries}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    assert isinstance(node, Scalar)
    return node.text


def test_everything_stays_text() -> None:
    text = "a: no\nb: on\nc: 12:30\nd: 010\ne: 1e3\nf: 2026-02-30\ng: ~\nh: '5 #7'\ni: it's\nnull: 0x1F\n"
    assert plain(read_text("f.yaml", text)) == {
        "a": "no",
        "b": "on",
        "c": "12:30",
        "d": "010",
        "e": "1e3",
        "f": "2026-02-30",
        "g": "~",
        "h": "5 #7",
        "i": "it's",
        "null": "0x1F",
    }


def test_places() -> None:
    node = read_text("f.yaml", "a: x\nb:\n- c: 'quoted'\n  d: y\n")
    assert node.get("a").spot.column == 4  # type: ignore[union-attr]
    steps = node.get("b")
    assert isinstance(steps, Sequence)
    step = steps.items[0]
    assert isinstance(step, Mapping)
    quoted = step.get("c")
    assert isinstance(quoted, Scalar)
    assert (quoted.line, quoted.at(2).column, "   'quoted'".index("q")) == (3, 9, 4)


def test_comments_on_lines_of_their_own_and_blank_lines() -> None:
    assert plain(
        read_text("f.yaml", "# one\n\na: b # no\n".replace(" # no", "") + "  # two\nc: 'd' # behind a quote\n")
    ) == {
        "a": "b",
        "c": "d",
    }


def test_windows_line_ends_and_a_byte_order_mark() -> None:
    assert plain(read_text("f.yaml", "\ufeffa: b\r\nc: d\r\n")) == {"a": "b", "c": "d"}


def test_brackets_where_they_are_allowed() -> None:
    assert plain(read_text("f.yaml", "a: {b: 8 psig, c: [1, 2]}\n", flow=True)) == {
        "a": {"b": "8 psig", "c": ["1", "2"]}
    }


REFUSED = {
    "a: b: c\n": [(1, 5, "bad-yaml")],
    "a: @x\n": [(1, 4, "bad-start")],
    "a: %x\n": [(1, 4, "bad-start")],
    "a: `x\n": [(1, 4, "bad-start")],
    "a: '*x'\n": [(1, 4, "bad-start")],
    'a: "&x"\n': [(1, 4, "bad-start")],
    "a: *x\n": [(1, 4, "alias")],
    "a: &x y\n": [(1, 4, "anchor")],
    "a: !x y\n": [(1, 4, "tag")],
    "%YAML 1.1\n---\na: b\n": [(1, 1, "bad-start")],
    "a: \tb\n": [(1, 4, "tab")],
    "a:\n\t- b\n": [(2, 1, "tab")],
    "a: 'x\n": [(1, 4, "bad-yaml")],
    "a: b\nc\nd: e\n": [(2, 1, "bad-yaml")],
    "a:\n  - b\n c: d\n": [(3, 2, "bad-yaml")],
    "a: b\n  c: d\n": [(2, 3, "bad-yaml")],
    "a: [b]\n": [(1, 4, "flow-style")],
    "a: [b\n": [(1, 4, "flow-style")],
    "a: [[b], {c: [d]}]\n": [(1, 4, "flow-style")],
    "a: b\n---\nc: d\n": [(2, 1, "second-document")],
    "a: b\na: c\nb: d\nb: e\n": [(2, 1, "duplicate-key"), (4, 1, "duplicate-key")],
    "a: b #c\n": [(1, 6, "cut-by-comment")],
    "a: # b\n": [(1, 4, "cut-by-comment")],
    "a: |\n  b\n": [(1, 4, "block-text")],
    "a: >\n  b\n": [(1, 4, "block-text")],
    "a: b\n c\nd: e\n": [(1, 4, "many-lines")],
    "? [a]\n: b\n": [(1, 3, "flow-style")],
    "? - a\n: b\n": [(1, 3, "bad-key")],
    "": [(1, 1, "empty-file")],
    "# nothing\n": [(1, 1, "empty-file")],
    "- a\n": [(1, 1, "wrong-shape")],
    "a\n": [(1, 1, "wrong-shape")],
    "a: b\u2028c\n": [(1, 5, "odd-character")],
    "a: b\u0085c\n": [(1, 5, "odd-character")],
    "a: b\u00a0c\n": [(1, 5, "odd-character")],
    "a: \u202eb\n": [(1, 4, "odd-character")],
    "a: b\x00\n": [(1, 5, "odd-character")],
    "a: b\rc: d\n": [(1, 5, "odd-character")],
    "a: \ud800\n": [(1, 4, "odd-character")],
    'a: "\\u2028"\n': [(1, 4, "odd-character")],
    'a: "b\\nc"\n': [(1, 4, "odd-character")],
    "a: " + "[" * 30: [(1, 4, "flow-style"), (1, 27, "too-deep")],
}


@pytest.mark.parametrize("text", REFUSED)
def test_refused(text: str) -> None:
    assert told(text) == REFUSED[text]


@pytest.mark.parametrize("text", [text for text in REFUSED if "[" * 9 not in text])
def test_refused_alike_without_libyaml(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(source, "_Loader", yaml.Loader)
    codes = {code for _, _, code in REFUSED[text]}
    assert {code for _, _, code in told(text)} == codes


def test_a_duplicate_key_names_both_lines() -> None:
    with pytest.raises(Unreadable) as refused:
        read_text("f.yaml", "a: b\nc: d\na: e\n")
    assert refused.value.problems[0].message == "`a` stands here a second time; the first is in line 1."
    assert str(refused.value).startswith("f.yaml:3:1: ")


def test_all_problems_of_a_file_are_told() -> None:
    text = "a: |\n  b\nc: *d\ne: f\ne: g\n"
    assert [code for _, _, code in told(text)] == ["block-text", "alias", "duplicate-key"]


# What a trainer's slip with dashes, quotes and blanks is told as: the line that is the cause.
SLIPS = {
    "a: x\nsteps:\n- ask: b\n  c: d\ne: f\n- ask: g\n": (5, 1, "as far left as the dashes"),
    "a: x\n- ask: b\n  c: d\n": (2, 1, "no key stands above it"),
    "s:\n- a: b\nask: c\n  d: e\n": (3, 1, "No dash stands before `ask`."),
    "s:\n- a: b\n  d: e\nthis: c\n  d: e\n": (5, 3, "further in than line 4"),
    "s:\n- decide: b\nby: c\n  rows:\n": (3, 1, "as far left as the dashes"),
    "s:\n- a: b\n\u2013 ask: c\n  d: e\n": (3, 1, "begins with an en dash (`\u2013`, U+2013) instead of a hyphen."),
    "s:\n\u2212 a: b\n\u2212 c: d\n": (2, 1, "minus sign (`\u2212`, U+2212) instead of a hyphen. So does line 3."),
    "s:\n* ask: c\n  d: e\n": (2, 1, "begins with a star (`*`) instead of a hyphen"),
    "s:\n- ask:c\n  d: e\n": (2, 6, "No blank stands behind the colon of `ask`."),
    "rows:\n  yes, low: a\n  yes, high:b\n": (3, 12, "No blank stands behind the colon of `yes, high`."),
    "rows:\n  yes, low -> a\n  yes, high: b\n": (2, 3, "neither `key: value` nor a step"),
    "a\uff1a b\nc: d\n": (1, 2, "fullwidth colon"),
    "a: \u201cb: c\u201d\n": (1, 4, "such quotes hold no colon together"),
    "x:\nask: c\n  d: e\n": (2, 1, "stands as far left as `x`, and the line below it further in"),
    "- a: b\n": (1, 1, "begins with a list"),
    "s:\n- a: b\n  c: d\n e: f\n": (4, 2, "fits none of the lines above: 1 blank here, 2 blanks in line 3."),
    "a: ? b\n": (1, 4, "may not start with `? `"),
    "s:\n-ask: c\n  d: e\n": (2, 1, "No blank stands behind this dash."),
    "rows:\n  - a: b\n  c: d\n": (3, 3, "begins in line 2; this line stands below the dashes without one"),
    "s:\n- ask: 'what's this?'\n": (2, 14, "The quotes close before this"),
    's:\n- ask: "A" or b\n': (2, 12, "The quotes close before this"),
    "s:\n- ask: 'tis so\n- do: it's\n": (2, 8, "the next one stands in line 3"),
    "s:\n- ask: Look: there\n": (2, 12, "A colon with a blank after it"),
}


@pytest.mark.parametrize("text", SLIPS)
def test_slips_are_told_at_their_cause(text: str) -> None:
    _, problems = scan("f.yaml", text)
    line, column, words = SLIPS[text]
    assert [(p.spot.line, p.spot.column) for p in problems] == [(line, column)]
    assert words in problems[0].message


# The same between brackets, where these are allowed.
BRACKETS = {
    "a: {b: 1 c: 2}\n": (1, 10, "A comma is missing before `c`."),
    "a: {b: 1, c: no box-air: 2}\n": (1, 17, "A comma is missing before `box-air`."),
    'a: {b: "1" c: 2}\n': (1, 12, "A comma is missing before `c`."),
    "a: {b: 1,\n  c: 2\n  d: 3}\n": (2, 7, "A comma is missing at the end of this line."),
    "a: {b: {c: 1, d: 2}\ne: 3\n": (1, 4, "A bracket is opened here and not closed."),
    "a: {b: c: 1, d: 2}}\n": (1, 8, "A bracket `{` is missing before `c`."),
    "a: {b: 1}}\nc: d\n": (1, 10, "One `}` too many closes here."),
    "a: {b: [1, 2}\n": (1, 13, "The `[` in line 1, column 8 is closed by a `}`."),
    "a: {b:1, c: 2}\n": (1, 5, "A blank is missing behind the colon in `b:1`."),
    "a: {b:{c: 1}}\n": (1, 6, "No blank stands behind the colon of `b`."),
    "a: {b: 1:}\n": (1, 9, "A colon can't stand here."),
    "a: {b 1, c: 2}\n": (1, 5, "`b 1` has no colon and nothing behind it."),
}


@pytest.mark.parametrize("text", BRACKETS)
def test_slips_in_brackets_are_told_at_their_cause(text: str) -> None:
    _, problems = scan("f.yaml", text, flow=True)
    line, column, words = BRACKETS[text]
    assert [(p.spot.line, p.spot.column) for p in problems] == [(line, column)]
    assert words in problems[0].message


def test_an_empty_answer_in_brackets_is_told_by_whoever_reads_it() -> None:
    assert told("a: {b: , c: 12:30, 'd:1': e}\n", flow=True) == []


def test_what_is_pasted_twice_is_told_once() -> None:
    _, problems = scan("f.yaml", "a: b\nc: d\ne: f\na: b\nc: d\ne: f\n")
    assert [(p.spot.line, p.message) for p in problems] == [
        (4, "`a` stands here a second time; the first is in line 1. So do `c`, `e` below it.")
    ]


def test_a_second_document_is_told_alone() -> None:
    node, problems = scan("f.yaml", "a: b\n---\nc: d\n")
    assert node is None
    assert [p.code for p in problems] == ["second-document"]


def test_control_characters_are_told_once() -> None:
    assert told("PK\x03\x04\x14\x00\n") == [(1, 3, "odd-character")]


def test_depth() -> None:
    def nested(levels: int) -> str:
        return "".join(" " * level + "a:\n" for level in range(levels))

    assert told(nested(24)) == []
    assert told(nested(25)) == [(25, 25, "too-deep")]


def test_a_long_key_is_refused_in_words() -> None:
    assert [code for _, _, code in told("a" * 1100 + ": b\n")] == ["bad-yaml"]


@given(st.text(alphabet=st.sampled_from("ab:- \n'\"#[]{},|>&*!%@?\t°\u2028"), max_size=60), st.booleans())
def test_any_text_is_read_or_told(text: str, flow: bool) -> None:
    node, problems = scan("f.yaml", text, flow)
    lines = text.split("\n")
    assert node is not None or problems
    for problem in problems:
        assert 1 <= problem.spot.line <= len(lines)
        assert 1 <= problem.spot.column <= len(lines[problem.spot.line - 1]) + 2
        assert problem.message


# ---- files


def refused(file: Path) -> tuple[str, str]:
    with pytest.raises(Unreadable) as caught:
        read_bytes(file, "f.yaml")
    problem = caught.value.problems[0]
    return problem.code, f"{problem.spot.line}:{problem.spot.column} {problem.message}"


def test_files_that_are_none(tmp_path: Path) -> None:
    assert refused(tmp_path) == ("not-a-file", "1:1 This is a folder; a file was expected.")
    assert refused(tmp_path / "no") == ("not-found", "1:1 There is no such file.")
    assert refused(Path(os.devnull)) == ("not-a-file", "1:1 This is a device or a pipe; a file was expected.")


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe.yaml")
        assert refused(tmp_path / "pipe.yaml")[0] == "not-a-file"


def test_a_windows_code_page(tmp_path: Path) -> None:
    file = tmp_path / "f.yaml"
    file.write_bytes("a: b\nc: 5 °F\n".encode("cp1252"))
    code, said = refused(file)
    assert (code, said) == (
        "not-utf8",
        "2:6 Byte B0 is not UTF-8; most likely a Windows code page (in 1252 it is `°`).",
    )
    file.write_bytes("a: b\n".encode("utf-16"))
    assert refused(file) == ("not-utf8", "1:1 This file is UTF-16 (Notepad's `Unicode`).")


@pytest.mark.parametrize("code", ["utf-16-le", "utf-16-be"])
def test_utf16_without_its_mark(tmp_path: Path, code: str) -> None:
    file = tmp_path / "f.yaml"
    file.write_bytes("a: b\nc: 5 °F\n".encode(code))
    assert refused(file) == ("not-utf8", "1:1 This file is UTF-16 (Notepad's `Unicode`).")


def test_a_link_to_nothing(tmp_path: Path) -> None:
    link = tmp_path / "f.yaml"
    link.symlink_to("gone.yaml")
    assert refused(link) == ("not-found", "1:1 This is a link to a file that is not there.")


def test_a_link_to_itself(tmp_path: Path) -> None:
    link = tmp_path / "f.yaml"
    link.symlink_to("f.yaml")
    assert refused(link) == ("not-a-file", "1:1 This is a link that leads back to itself.")


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        (b"PK\x03\x04\x80", "a Word or spreadsheet file, or a zip"),
        (b"{\\rtf1\\ansi a: b}", "a rich text file (RTF)"),
        (b"%PDF-1.7", "a PDF"),
    ],
)
def test_what_another_program_has_written(tmp_path: Path, raw: bytes, what: str) -> None:
    file = tmp_path / "f.yaml"
    file.write_bytes(raw)
    assert refused(file) == ("not-utf8", f"1:1 This is {what}, and no plain text.")


def test_a_file_too_large(tmp_path: Path) -> None:
    file = tmp_path / "f.yaml"
    file.write_bytes(b"a" * (MOST_BYTES + 1))
    assert refused(file)[0] == "too-big"
    assert told("a: " + "b" * MOST_BYTES) == [(1, 1, "too-big")]


def test_no_right(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no(self: Path) -> bytes:
        raise PermissionError(13, "no")

    file = tmp_path / "f.yaml"
    file.write_text("a: b\n")
    monkeypatch.setattr(Path, "read_bytes", no)
    assert refused(file) == ("no-right", "1:1 You have no right to read this file.")
