"""Text files as nodes with their places: a small, strict part of YAML.

libyaml finds the events; everything YAML can do that a trainer does not mean is refused in words.
All text stays text: what `no`, `on` or `010` mean is for its kind to say.
"""

from __future__ import annotations

from collections.abc import Iterable
from errno import ELOOP
from pathlib import Path
from stat import S_ISREG
from typing import Any, TypeAlias

import yaml

from tui.quantity import Refused
from tui.tree import slips, trouble
from tui.tree.near import meant
from tui.tree.spot import Problem, Spot

try:
    from yaml import CLoader as _Loader
except ImportError:  # PyYAML was built without libyaml: slower, the same events
    from yaml import Loader as _Loader  # type: ignore[assignment]

MOST_BYTES = 2**20
DEEPEST = 24
_STARTS = "*&%@`"


class Unreadable(Refused):
    """A file that cannot be taken as it stands; `problems` are all its places."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        first = self.problems[0]
        where = f"{first.spot.path}:{first.spot.line}:{first.spot.column}"
        super().__init__(first.code, f"{where}: {first.message}", first.cure)


class Scalar:
    """A text and where it begins. `broken`: a problem was told for it, its text is not to be used."""

    __slots__ = ("broken", "column", "line", "path", "text")

    def __init__(self, text: str, line: int = 1, column: int = 1, path: str = "", broken: bool = False) -> None:
        self.text = text
        self.line = line
        self.column = column
        self.path = path
        self.broken = broken

    @property
    def spot(self) -> Spot:
        return Spot(self.path, self.line, self.column)

    def at(self, offset: int) -> Spot:
        """The place of the letter at `offset` of the text."""
        return Spot(self.path, self.line, self.column + offset)

    def part(self, start: int, end: int | None = None) -> Scalar:
        """A piece of this text without blanks at its ends, with its own place."""
        piece = self.text[start:end]
        bare = piece.strip()
        lead = len(piece) - len(piece.lstrip()) if bare else 0
        return Scalar(bare, self.line, self.column + start + lead, self.path, self.broken)


class Sequence:
    """A list: the lines that begin with a dash, or a flow list."""

    __slots__ = ("items", "spot")

    def __init__(self, items: list[Node], spot: Spot) -> None:
        self.items = items
        self.spot = spot


class Mapping:
    """Keys with their values in file order; every key stands once."""

    __slots__ = ("entries", "flow", "spot")

    def __init__(self, entries: list[tuple[Scalar, Node]], spot: Spot, flow: bool = False) -> None:
        self.entries = entries
        self.spot = spot
        self.flow = flow

    def get(self, key: str) -> Node | None:
        for found, value in self.entries:
            if found.text == key:
                return value
        return None


Node: TypeAlias = Scalar | Sequence | Mapping


def read_text(path: str, text: str, flow: bool = False) -> Mapping:
    """The keys of one file. `flow` allows ``{a: b}`` and ``[a, b]`` (catalogue, answers, examples).

    Raises Unreadable with every problem found.
    """
    node, problems = scan(path, text, flow)
    if problems or node is None:
        raise Unreadable(problems)
    return node


def scan(path: str, text: str, flow: bool = False) -> tuple[Mapping | None, list[Problem]]:
    """As `read_text`, but problems are handed back beside what could be read all the same."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    problems = trouble.in_letters(path, text, MOST_BYTES)
    if problems:
        return None, problems
    reader = _Reader(path, text, flow)
    try:
        return reader.document(), reader.problems
    except yaml.YAMLError as error:
        return None, _one_cause(reader.problems, trouble.in_words(path, reader.lines, error))
    except _Stop:
        return None, reader.problems


_NAME_ONE = "Name a file of text."


def read_bytes(file: Path, path: str | None = None) -> str:
    """The text of a file, ``\\n`` at its line ends. `path` is how problems name it (default: as given).

    Raises Unreadable: not-found, not-a-file, no-right, too-big, not-utf8.
    """
    named = str(file) if path is None else path
    try:
        if file.is_dir():
            raise Unreadable([trouble.whole(named, "not-a-file", "This is a folder; a file was expected.", _NAME_ONE)])
        about = file.stat()
        if not S_ISREG(about.st_mode):
            raise Unreadable(
                [trouble.whole(named, "not-a-file", "This is a device or a pipe; a file was expected.", _NAME_ONE)]
            )
        if about.st_size > MOST_BYTES:
            raise Unreadable([trouble.too_big(named)])
        raw = file.read_bytes()
    except FileNotFoundError:
        raise Unreadable([_no_file(named, file.is_symlink())]) from None
    except PermissionError:
        problem = trouble.whole(
            named, "no-right", "You have no right to read this file.", "Change its rights, or ask who owns it."
        )
        raise Unreadable([problem]) from None
    except OSError as error:
        raise Unreadable([_unopened(named, error)]) from None
    if (told := trouble.no_plain_text(named, raw)) is not None:
        raise Unreadable([told])
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Unreadable([trouble.not_utf8(named, raw, error.start)]) from None
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _unopened(named: str, error: OSError) -> Problem:
    if error.errno == ELOOP:
        return trouble.whole(named, "not-a-file", "This is a link that leads back to itself.", "Take the link out.")
    why = error.strerror or "it can't be opened"
    return trouble.whole(named, "not-a-file", f"This can't be read: {why}.", _NAME_ONE)


def _no_file(named: str, link: bool) -> Problem:
    if link:
        return trouble.whole(named, "not-found", "This is a link to a file that is not there.", "Take the link out.")
    cure = meant(Path(named), "Check its name and folder.")
    return trouble.whole(named, "not-found", "There is no such file.", cure)


def _one_cause(problems: list[Problem], last: Problem) -> list[Problem]:
    """Where reading stopped at `last`: what was told just before may be the same thing."""
    if problems and problems[-1].code == "many-lines" and last.spot.line - problems[-1].spot.line in (0, 1):
        return [*problems[:-1], last]
    if problems and problems[-1].spot.line == last.spot.line:
        return problems
    return [*problems, last]


class _Stop(Exception):
    """Nothing below this place can be read; the problem is told."""


class _Reader:
    """One pass over the events of one text."""

    def __init__(self, path: str, text: str, flow: bool) -> None:
        self.path = path
        self.lines = text.split("\n")
        self.flow = flow
        self.problems: list[Problem] = []
        self.next = _Loader(text).get_event

    def document(self) -> Mapping | None:
        self.next()  # the stream's start
        start: Any = self.next()
        if type(start) is yaml.StreamEndEvent:
            told = trouble.whole(self.path, "empty-file", "There is nothing in this file.", "Begin with `key: value`.")
            self.problems.append(told)
            return None
        if start.version or start.tags:
            self._tell(start, "bad-start", "A line that starts with `%` is a YAML directive.", "Take it out.")
        node = self._node(self.next(), 1)
        self.next()  # the document's end
        after = self.next()
        if type(after) is not yaml.StreamEndEvent:
            self._tell(
                after,
                "second-document",
                "A second document begins here (`---`).",
                "One file holds one document: take the line out.",
            )
            return None  # what stands below it would be missed above
        if isinstance(node, Mapping):
            return node
        if not self.problems:
            spot = Spot(self.path, 1, 1) if isinstance(node, Scalar) else node.spot
            message = "This file does not begin with `key: value`."
            cure = "Write keys with a colon, one below the other."
            if isinstance(node, Sequence):
                message = "This file begins with a list (a dash), where `key: value` was expected."
                cure = "The steps of a tree stand below `steps:`; what has names of its own has no dashes."
            self.problems.append(Problem(spot, "wrong-shape", message, cure))
        return None

    def _node(self, event: Any, depth: int) -> Node:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            return self._scalar(event)
        if depth > DEEPEST:
            self._tell(
                event,
                "too-deep",
                f"This is nested over {DEEPEST} levels deep.",
                "Check the indentation, or make a tree of its own of the inner steps.",
            )
            raise _Stop
        if kind is yaml.AliasEvent:
            self._tell(event, "alias", f"`*{event.anchor}` would be an alias of YAML.", _NO_START)
            return self._broken(event)
        self._marks(event)
        bracket = event.flow_style and not self.flow
        if bracket:
            self.flow = True  # told once: brackets inside brackets are the same cause
            self._tell(
                event,
                "flow-style",
                "Brackets as in `{a: b}` or `[a, b]` are not used in a tree.",
                "Write keys and steps one below the other, names with commas between; "
                "put a text that starts with { or [ in quotes.",
            )
        node = self._mapping(event, depth) if kind is yaml.MappingStartEvent else self._sequence(event, depth)
        if bracket:
            self.flow = False
            return self._broken(event)
        return node

    def _sequence(self, event: Any, depth: int) -> Sequence:
        mark = event.start_mark
        items: list[Node] = []
        step = self.next()
        while type(step) is not yaml.SequenceEndEvent:
            items.append(self._node(step, depth + 1))
            step = self.next()
        return Sequence(items, Spot(self.path, mark.line + 1, mark.column + 1))

    def _mapping(self, event: Any, depth: int) -> Mapping:
        mark = event.start_mark
        entries: list[tuple[Scalar, Node]] = []
        seen: dict[str, int] = {}
        again: list[tuple[Any, str]] = []
        first = self.next()
        while type(first) is not yaml.MappingEndEvent:
            key = self._node(first, depth + 1)
            value = self._node(self.next(), depth + 1)
            if event.flow_style and isinstance(key, Scalar) and isinstance(value, Scalar) and not value.text:
                self._no_value(first, key)
            if not isinstance(key, Scalar) or not key.text:
                if not isinstance(key, Scalar) or not key.broken:
                    self._tell(first, "bad-key", "A key is a text before a colon.", "Write `key: value`.")
            elif key.text in seen:
                again.append((first, key.text))
            else:
                self._twice(again, seen)
                seen[key.text] = key.line
                entries.append((key, value))
            first = self.next()
        self._twice(again, seen)
        return Mapping(entries, Spot(self.path, mark.line + 1, mark.column + 1), bool(event.flow_style))

    def _no_value(self, event: Any, key: Scalar) -> None:
        """A key in brackets with nothing behind it: most often its colon has no blank."""
        if event.style or key.broken:
            return
        told = slips.colon_in_key(key.text, self.lines[event.end_mark.line][event.end_mark.column :])
        if told is not None:
            self._tell(event, "bad-key", *told)
            key.broken = True

    def _twice(self, again: list[tuple[Any, str]], seen: dict[str, int]) -> None:
        """Tell keys that were there before; such as follow each other were pasted together."""
        if not again:
            return
        (event, key), rest = again[0], [f"`{_short(text)}`" for _, text in again[1:]]
        more = f" So do {', '.join(rest[:5])}{' and more' if len(rest) > 5 else ''} below it." if rest else ""
        if len(rest) == 1:
            more = f" So does {rest[0]} below it."
        message = f"`{_short(key)}` stands here a second time; the first is in line {seen[key]}.{more}"
        self._tell(event, "duplicate-key", message, "Take one of them out.")
        again.clear()

    def _scalar(self, event: Any) -> Scalar:
        start, end, style, text = event.start_mark, event.end_mark, event.style, event.value
        before = len(self.problems)
        if event.anchor or event.tag:
            self._marks(event)
        line = start.line
        if style is None or style == "":
            row = self.lines[end.line] if end.line < len(self.lines) else ""
            if "#" in row:
                self._comment(row, end)
            column = start.column + 1
        else:
            self._quoted(event, style, text)
            column = start.column + 2
        if end.line != line and style in ("'", '"'):
            self._tell(
                event,
                "bad-yaml",
                f"A quote is opened here and not closed; the next one stands in line {end.line + 1}.",
                "Close it on the same line; put a text that begins with an apostrophe in double quotes.",
            )
            raise _Stop  # from here on inside and outside of quotes are exchanged
        if end.line != line and len(self.problems) == before:
            self._tell(
                event,
                "many-lines",
                "This text runs over several lines, or the line below lacks its colon.",
                "Keep a text on one line; write keys as `key: value`.",
            )
        return Scalar(text, line + 1, column, self.path, len(self.problems) != before)

    def _comment(self, row: str, end: Any) -> None:
        rest = row[end.column :]
        bare = rest.lstrip()
        if bare.startswith("#") and bare != rest:
            spot = Spot(self.path, end.line + 1, end.column + 1 + len(rest) - len(bare))
            self.problems.append(
                Problem(
                    spot,
                    "cut-by-comment",
                    "The text is cut here: what follows ` #` would be lost as a comment.",
                    "Put the text in quotes, or the comment on a line of its own.",
                )
            )

    def _quoted(self, event: Any, style: str, text: str) -> None:
        if style in "|>":
            self._tell(
                event,
                "block-text",
                f"Block text (`{style}`) is not used here.",
                "Write the text on one line behind its key.",
            )
        elif text[:1] and text[0] in _STARTS:
            self._tell(
                event, "bad-start", f"A text may not start with `{text[0]}`, in quotes neither.", "Begin with a word."
            )
        elif style == '"' and (odd := trouble.odd_letter(text)) is not None:
            self._tell(event, "odd-character", f"This text holds {odd}.", "Take it out.")

    def _marks(self, event: Any) -> None:
        """Anchors and tags."""
        if event.anchor:
            self._tell(event, "anchor", f"`&{event.anchor}` would be an anchor of YAML.", _NO_START)
        if event.tag:
            self._tell(
                event,
                "tag",
                f"`{_short(event.tag)}` would be a tag of YAML.",
                "A text may not start with `!`: put it in quotes.",
            )

    def _broken(self, event: Any) -> Scalar:
        return Scalar("", event.start_mark.line + 1, event.start_mark.column + 1, self.path, True)

    def _tell(self, event: Any, code: str, message: str, cure: str = "") -> None:
        spot = Spot(self.path, event.start_mark.line + 1, event.start_mark.column + 1)
        self.problems.append(Problem(spot, code, message, cure))


_NO_START = "A text may not start with `*`, `&`, `%` or `@`: begin with a word."


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:57] + "..."
