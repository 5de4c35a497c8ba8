"""What is wrong with a file before its meaning counts: letters, size, and libyaml's errors in words."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

import yaml

from tui.tree import indents, slips
from tui.tree.spot import Problem, Spot

# Letters a text may hold. Left out: controls, blanks that look like blanks and are none, letters that
# show nothing or turn the writing round, line ends other than \n, halves of pairs.
_ODD = re.compile(
    "[^\n\x20-\x7e\xa1-\xac\xae-\u061b\u061d-\u1fff\u2010-\u2027\u2030-\u205e\u2070-\ud7ff"
    "\ue000-\ufefe\uff00-\uffef\U00010000-\U000e0000\U000e0100-\U0010ffff]"
)
_NAMES = {
    "\t": "a tab",
    "\r": "a lone carriage return",
    "\u0085": "a next-line sign (U+0085)",
    "\u2028": "a line separator (U+2028)",
    "\u2029": "a paragraph separator (U+2029)",
    "\u00a0": "a no-break space (U+00A0)",
    "\u202f": "a narrow no-break space (U+202F)",
    "\ufeff": "a byte order mark (U+FEFF)",
    "\ufffd": "a replacement sign (U+FFFD), from a wrong code page",
}


def whole(path: str, code: str, message: str, cure: str = "", severity: str = "error") -> Problem:
    """A problem of a file as a whole."""
    return Problem(Spot(path, 1, 1), code, message, cure, severity)


def too_big(path: str) -> Problem:
    return whole(path, "too-big", "This file is larger than 1 MiB.", "Split it, or look whether it is the right file.")


def is_utf16(raw: bytes) -> bool:
    """By its mark, or by the zeros that every second byte of plain words then is."""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return True
    start = raw[:400]
    return any(len(half) > 1 and half.count(0) > 0.8 * len(half) for half in (start[::2], start[1::2])) and any(start)


_OTHER_FILES = (
    (b"PK\x03\x04", "a Word or spreadsheet file, or a zip"),
    (b"\xd0\xcf\x11\xe0", "an old Word or spreadsheet file"),
    (b"{\\rtf", "a rich text file (RTF)"),
    (b"%PDF", "a PDF"),
)


def no_plain_text(path: str, raw: bytes) -> Problem | None:
    """A file that another program than a plain editor has written."""
    if is_utf16(raw):
        return whole(path, "not-utf8", "This file is UTF-16 (Notepad's `Unicode`).", "Save it as UTF-8.")
    for start, what in _OTHER_FILES:
        if raw.startswith(start):
            return whole(path, "not-utf8", f"This is {what}, and no plain text.", "Save it as plain text, in UTF-8.")
    return None


def not_utf8(path: str, raw: bytes, start: int) -> Problem:
    """`start` is the first byte that is no UTF-8."""
    line = raw.count(b"\n", 0, start) + 1
    column = len(raw[raw.rfind(b"\n", 0, start) + 1 : start].decode("utf-8", "replace")) + 1
    return Problem(
        Spot(path, line, column),
        "not-utf8",
        f"Byte {raw[start]:02X} is not UTF-8; most likely a Windows code page (in 1252 it is {_in_1252(raw[start])}).",
        "Save the file as UTF-8; editors ask for it under `Save as`, as *encoding*.",
    )


def _in_1252(byte: int) -> str:
    return f"`{bytes([byte]).decode('cp1252', 'replace')}`"


def odd_letter(text: str) -> str | None:
    """What a text on one line may not hold, in words."""
    found = "\n" if "\n" in text else None
    if found is None:
        match = _ODD.search(text)
        found = match[0] if match else None
    return None if found is None else _name(found)


def in_letters(path: str, text: str, most: int) -> list[Problem]:
    """Size and letters of a whole text: the first of each kind of odd letter."""
    if len(text) > most or len(text.encode("utf-8", "replace")) > most:
        return [too_big(path)]
    dashes = slips.dashes(path, text)
    if dashes or _ODD.search(text) is None:
        return dashes
    first: dict[str, Problem] = {}
    for number, row in enumerate(text.split("\n"), 1):
        for match in _ODD.finditer(row):
            letter = match[0]
            kind = "a control character" if letter < " " and letter not in _NAMES else letter
            if kind not in first:
                spot = Spot(path, number, match.start() + 1)
                code = "tab" if letter == "\t" else "odd-character"
                cure = _odd_cure(letter, row[: match.start()])
                first[kind] = Problem(spot, code, f"Here stands {_name(letter)}.", cure)
    return list(first.values())


def _odd_cure(letter: str, before: str) -> str:
    if letter == "\t":
        return "Put blanks in its place." if before.strip() else "Indent with blanks."
    if letter == "\r":
        return "Save the file with the line ends of Windows or Unix."
    if letter < " ":
        return "Take it out; where there are many, this is no text, or it is damaged."
    return "Replace it with an ordinary blank, or take it out."


def _name(letter: str) -> str:
    if letter == "\n":
        return "a line end"
    known = _NAMES.get(letter)
    if known is not None:
        return known
    name = unicodedata.name(letter, "a control character").lower()
    return f"{name} (U+{ord(letter):04X})"


_SAYS: tuple[tuple[str, bool, str, str], ...] = (
    # part of what libyaml (or PyYAML) says, whether its context's place counts, what we say, cure
    (
        "mapping values are not allowed",
        False,
        "A colon with a blank after it can't stand here.",
        "Put a text that holds `: ` in quotes; begin a new key on its own line, under its sisters.",
    ),
    (
        "could not find expected ':'",
        True,
        "This line is neither `key: value` nor a step (`- `).",
        "Put a colon and a blank behind the key.",
    ),
    (
        "while scanning a quoted scalar",
        True,
        "A quote is opened here and not closed.",
        "Close it on the same line; put a text that begins with an apostrophe in double quotes.",
    ),
    (
        "while scanning a double-quoted scalar",
        True,
        "A backslash in double quotes begins no known sign.",
        "Use single quotes.",
    ),
    ("while parsing a quoted scalar", True, "A backslash in double quotes begins no known sign.", "Use single quotes."),
    ("while parsing a flow", True, "A bracket is opened here and not closed.", "Close it, with commas between."),
    (
        "sequence entries are not allowed",
        False,
        "A dash with a blank after it can't stand here.",
        "Begin the list on the next line; put a text that starts with `- ` in quotes.",
    ),
    ("expected <document start>", False, "A closing bracket too many, or text after the end.", "Take it out."),
    (
        "while parsing a block",
        False,
        "The indentation of this line fits none of the lines above.",
        "Keys of one step stand exactly below each other; so do dashes.",
    ),
    (
        "expected <block end>",
        False,
        "The indentation of this line fits none of the lines above.",
        "Keys of one step stand exactly below each other; so do dashes.",
    ),
    ("mapping keys are not allowed", False, "A text may not start with `? `.", "Begin with a word."),
    ("while scanning an anchor", True, "A text may not start with `&`.", "Begin with a word."),
    ("while scanning an alias", True, "A text may not start with `*`.", "Begin with a word."),
    ("while scanning a directive", True, "A line may not start with `%`.", "Begin with a word."),
    ("while scanning a tag", True, "A text may not start with `!`.", "Put it in quotes."),
    (
        "while scanning a block scalar",
        True,
        "Block text (`|`, `>`) is not used here.",
        "Write the text on one line behind its key.",
    ),
)
_STARTERS = ("anchor", "alias", "directive")


def in_words(path: str, lines: Sequence[str], error: yaml.YAMLError) -> Problem:
    """An error of libyaml or of PyYAML's own reader as a problem a trainer can act on."""
    if not isinstance(error, yaml.MarkedYAMLError):
        return whole(path, "bad-yaml", "This is no text that can be read.", "Save it as plain UTF-8 text.")
    says = f"{error.context or ''}; {error.problem or ''}"
    if "cannot start any token" in says:
        return _bad_letter(path, lines, error)
    told = slips.told(path, lines, error) or indents.told(path, lines, error)
    if told is not None:
        return told
    for part, by_context, message, cure in _SAYS:
        if part in says:
            code = "bad-start" if part.endswith(_STARTERS) else "bad-yaml"
            code = "block-text" if part.endswith("block scalar") else code
            code = "tag" if part.endswith("a tag") else code
            mark = error.context_mark if by_context and error.context_mark else error.problem_mark
            return Problem(indents.spot_of(path, lines, mark), code, message, cure)
    return Problem(
        indents.spot_of(path, lines, error.problem_mark),
        "bad-yaml",
        f"This can't be read here ({error.problem}).",
        "Check indentation, quotes and colons.",
    )


def _bad_letter(path: str, lines: Sequence[str], error: yaml.MarkedYAMLError) -> Problem:
    spot = indents.spot_of(path, lines, error.problem_mark)
    letter = lines[spot.line - 1][spot.column - 1 : spot.column] or "?"
    return Problem(spot, "bad-start", f"A text may not start with `{letter}`.", "Begin with a word.")
