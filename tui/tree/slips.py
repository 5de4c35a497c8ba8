"""Signs that a hand or an editor puts in the place of others: told where they stand, before what libyaml makes of them.

A dash that is no hyphen, a colon without its blank, a comma or bracket left out, quotes that are curly.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

import yaml

from tui.tree.spot import Problem, Spot

LIKE_A_HYPHEN = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2022\u00b7\u00ad"
_DASHED = re.compile(f"^ *([{LIKE_A_HYPHEN}])(?=[ \\w])", re.MULTILINE)
_STARRED = re.compile(r" *(\*) ")
_TIGHT = re.compile(r" *(?:- +)*([A-Za-z][^:#'\"{}\[\]<>]*):([^\s/:].*)$")
_BEFORE_BRACKET = re.compile(r"([\w'-]+):([{\[])")
_LIKE_A_COLON = re.compile("[\uff1a\ufe55\ua789\u02d0]")
_CURLY = re.compile("[\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb]")
_WORD = re.compile(r"[^\s{}\[\],:]+$")
_PAIRS = {"{": "}", "[": "]"}
_DASH_CURE = "Write a hyphen (the key `-`) and a blank, then the step."
_COLON_CURE = "Write a colon, a blank, then the text: "


def dashes(path: str, text: str) -> list[Problem]:
    """Lines that begin with a sign that only looks like the dash of a list: the first, with the others named."""
    if text.isascii():
        return []
    found = list(_DASHED.finditer(text))
    if not found:
        return []
    lines = [text.count("\n", 0, match.start(1)) + 1 for match in found]
    column = found[0].start(1) - text.rfind("\n", 0, found[0].start(1))
    more = ""
    if len(lines) > 1:
        named = ", ".join(map(str, lines[1:9])) + (" and more" if len(lines) > 9 else "")
        more = f" So do{'es' if len(lines) == 2 else ''} line{'' if len(lines) == 2 else 's'} {named}."
    said = f"This line begins with {named_sign(found[0][1])} instead of a hyphen.{more}"
    return [Problem(Spot(path, lines[0], column), "odd-character", said, _DASH_CURE)]


def named_sign(sign: str) -> str:
    """``an en dash (`–`, U+2013)``"""
    name = "typographic hyphen" if sign == "\u2010" else unicodedata.name(sign, "another sign").lower()
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name} (`{sign}`, U+{ord(sign):04X})"


def told(path: str, lines: Sequence[str], error: yaml.MarkedYAMLError) -> Problem | None:
    """A slip of the hand that is behind this error; None where none is known."""
    mark, says = error.problem_mark, f"{error.context or ''}; {error.problem or ''}"
    if mark is None or mark.line >= len(lines):
        return None
    if "unexpected ':'" in says:
        return _stray_colon(path, lines, mark)
    if "parsing a flow" in says:
        return _in_brackets(path, lines, error, mark)
    if lines[mark.line][mark.column : mark.column + 1] in ("}", "]"):
        bracket = lines[mark.line][mark.column]
        return _problem(path, mark.line, mark.column, f"One `{bracket}` too many closes here.", "Take it out.")
    if "could not find expected ':'" in says and error.context_mark is not None:
        return _without_colon(path, lines, error.context_mark.line)
    if "mapping values are not allowed" in says:
        return _colon_above(path, lines, mark) or _curly(path, lines, mark)
    if "an alias" in says and error.context_mark is not None and _STARRED.match(lines[error.context_mark.line]):
        at = error.context_mark
        return _problem(path, at.line, at.column, "This line begins with a star (`*`) instead of a hyphen.", _DASH_CURE)
    return None


def colon_in_key(key: str, behind: str) -> tuple[str, str] | None:
    """(message, cure) where a key in brackets has no value; `behind` is what stands behind it in its line."""
    name, colon, rest = key.partition(":")
    if colon and name and rest and not rest.startswith(("/", ":")):
        return f"A blank is missing behind the colon in `{key}`.", f"{_COLON_CURE}`{name}: {rest.strip()}`."
    if not behind.lstrip().startswith(":"):
        return f"`{key}` has no colon and nothing behind it.", "Write `name: answer`, with commas between."
    return None


def _problem(path: str, line: int, column: int, message: str, cure: str, code: str = "bad-yaml") -> Problem:
    return Problem(Spot(path, line + 1, column + 1), code, message, cure)


# ---- colons


def _without_colon(path: str, lines: Sequence[str], at: int) -> Problem | None:
    """A line that has no colon with a blank behind it."""
    row = lines[at]
    tight = _TIGHT.match(row)
    if tight is not None and ": " not in row:
        name, rest = tight[1], tight[2]
        said = f"No blank stands behind the colon of `{name}`."
        return _problem(path, at, tight.end(1), said, f"{_COLON_CURE}`{name}: {_short(rest)}`.")
    other = _LIKE_A_COLON.search(row)
    if other is not None:
        said = f"Here stands {named_sign(other[0])}, which is no colon."
        return _problem(path, at, other.start(), said, "Write a colon and a blank.", "odd-character")
    return None


def _stray_colon(path: str, lines: Sequence[str], mark: yaml.Mark) -> Problem:
    """In brackets: before one that is opened without a blank, or where nothing follows."""
    tight = _BEFORE_BRACKET.search(lines[mark.line])
    if tight is None:
        cure = "Take it out; put a text that holds a colon in quotes."
        return _problem(path, mark.line, mark.column, "A colon can't stand here.", cure)
    said = f"No blank stands behind the colon of `{tight[1]}`."
    return _problem(path, mark.line, tight.end(1), said, f"Write `{tight[1]}: {tight[2]}`.")


def _short(text: str, most: int = 40) -> str:
    return text if len(text) <= most else f"{text[:most]}..."


def _colon_above(path: str, lines: Sequence[str], mark: yaml.Mark) -> Problem | None:
    """A colon that is in its place, below a line that has none: that line is the cause."""
    row = lines[mark.line]
    if ": " in row[: mark.column] or row.lstrip(" -").startswith(("'", '"')):
        return None
    above = mark.line - 1
    while above >= 0 and (not lines[above].strip() or lines[above].lstrip().startswith("#")):
        above -= 1
    if above < 0:
        return None
    found = _without_colon(path, lines, above)
    before = lines[above]
    if found is not None or ":" in before or before.lstrip().startswith("-"):
        return found
    indent = len(before) - len(before.lstrip())
    if indent != len(row) - len(row.lstrip()):
        return None
    cure = "Put a colon and a blank behind the key."
    return _problem(path, above, indent, "This line is neither `key: value` nor a step (`- `).", cure)


def _curly(path: str, lines: Sequence[str], mark: yaml.Mark) -> Problem | None:
    """Curly quotes hold nothing together."""
    found = _CURLY.search(lines[mark.line][: mark.column])
    if found is None or lines[mark.line][: found.start()].rstrip()[-1:] not in (":", "-"):
        return None
    said = f"This text begins with {named_sign(found[0])}; such quotes hold no colon together."
    return _problem(path, mark.line, found.start(), said, "Write straight quotes: \" or '.")


# ---- brackets


def _in_brackets(
    path: str, lines: Sequence[str], error: yaml.MarkedYAMLError, mark: yaml.Mark
) -> Problem | None:
    """What is missing between brackets: a comma, or the bracket that closes or opens."""
    begun = error.context_mark
    if begun is None or "expected ','" not in (error.problem or ""):
        return None
    row = lines[mark.line]
    sign, opened = row[mark.column : mark.column + 1], lines[begun.line][begun.column : begun.column + 1]
    if sign and sign in _PAIRS.values() and _PAIRS.get(opened) not in (None, sign):
        said = f"The `{opened}` in line {begun.line + 1}, column {begun.column + 1} is closed by a `{sign}`."
        return _problem(path, mark.line, mark.column, said, f"Close it with a `{_PAIRS[opened]}` first.")
    if mark.line != begun.line:
        return _comma_at_end(path, lines, begun, mark)
    start = mark.column
    if sign == ":":
        word = _WORD.search(row[: mark.column].rstrip())
        if word is None:
            return None
        start = word.start()
    name = re.split(r"[\s{}\[\],:]", row[start:], maxsplit=1)[0]
    if not name:
        return None
    if row[:start].rstrip().endswith(":"):
        said, cure = f"A bracket `{{` is missing before `{name}`.", "What has names below a name stands in `{...}`."
    else:
        said, cure = f"A comma is missing before `{name}`.", "Write `{name: answer, name: answer}`."
    return _problem(path, mark.line, start, said, cure)


def _comma_at_end(path: str, lines: Sequence[str], begun: yaml.Mark, mark: yaml.Mark) -> Problem | None:
    """Brackets over several lines: a line that goes on below without a comma, if it stands further in."""
    indent = len(lines[begun.line]) - len(lines[begun.line].lstrip())
    if len(lines[mark.line]) - len(lines[mark.line].lstrip()) <= indent:
        return None
    above = mark.line - 1
    while above > begun.line and (not lines[above].strip() or lines[above].lstrip().startswith("#")):
        above -= 1
    end = len(lines[above].rstrip())
    if lines[above].rstrip()[-1:] in (",", "{", "["):
        return None
    return _problem(path, above, end, "A comma is missing at the end of this line.", "Put one between two answers.")
