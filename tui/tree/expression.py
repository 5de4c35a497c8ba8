"""The language's expressions, tests and texts: from text to the model, and back.

expression  5 dF, 30 psig, 7 %, 3 | name | first(name) | sum(a, b) | ( ) | + - * /
test        X is above Y | X is [not] a or b or unknown | tests joined by `and` or by `or`
text        words with <expression>
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NoReturn, Protocol

from tui.quantity import UNITS, Refused, parse_literal
from tui.tree.model import (
    UNKNOWN,
    AllOf,
    AnyOf,
    Binary,
    Call,
    Compare,
    Expression,
    Is,
    Literal,
    Name,
    Negative,
    OfSeries,
    Test,
    Text,
)
from tui.tree.report import Report, did_you_mean, listed, shown
from tui.tree.source import Scalar
from tui.tree.spot import Spot

SERIES = ("first", "last", "change", "total", "count", "lowest", "highest")
CHOOSERS = ("smaller", "larger", "first-known")
RELATIONS = ("above", "below", "at least", "at most", "before", "on or after")
LONGEST = 1000
LONGEST_TEXT = 4000
DEEPEST = 24
MOST_PARTS = 40

NAME = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*")
_DAY = re.compile(r"\d{4}-\d\d-\d\d(?![\w-])")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)*")
_UNIT = re.compile(
    " *(?:" + "|".join(re.escape(s) for s in sorted(filter(None, UNITS), key=len, reverse=True)) + r")(?![\w°%µ])"
)
_WORD = re.compile(r" *[^\s()+*/,<>-]+")
_BLANKS = re.compile(r" *")
_PLAIN_NAME = re.compile(rf" *({NAME.pattern}) *")
_RELATION = re.compile(rf"({'|'.join(RELATIONS)})(?: +|$)")
_LIKE_RELATION = re.compile(r"((?:more|less|greater|higher|lower) than|over|under|equal to|equals?|>=|<=|>|<|==?) ")
_SIGN = re.compile(r" *(>=|<=|=>|=<|==|!=|<>|>|<|=) *")
_SIGNS = {">": "is above", "<": "is below", ">=": "is at least", "=>": "is at least", "<=": "is at most",
          "=<": "is at most", "=": "is", "==": "is", "!=": "is not", "<>": "is not"}  # fmt: skip
_EARLY_HINT = "Write `is above`, `is below`, `is at least` or `is at most`."


class Words(Protocol):
    """What the parser must know of names: the words a thing can be, None where it is no word."""

    def answers(self, subject: Expression) -> tuple[str, ...] | None: ...


class _Bad(Exception):
    def __init__(self, offset: int, message: str, cure: str = "", code: str = "bad-expression") -> None:
        super().__init__(message)
        self.offset = offset
        self.message = message
        self.cure = cure
        self.code = code


@lru_cache(maxsize=512)
def _literal(text: str) -> object:
    """The quantity, or the refusal: both may be met again."""
    try:
        return parse_literal(text)
    except Refused as refused:
        return refused


class Parser:
    """Parses one library's lines; every problem goes to `report` with its column."""

    __slots__ = ("report", "words")

    def __init__(self, report: Report, words: Words | None = None) -> None:
        self.report = report
        self.words = words

    def expression(self, scalar: Scalar | None) -> Expression | None:
        """None where it is missing or was told as a problem."""
        if scalar is None or scalar.broken:
            return None
        try:
            return _Line(scalar, 0, len(scalar.text)).whole()
        except _Bad as bad:
            self._tell(scalar, bad)
            return None

    def test(self, scalar: Scalar | None) -> Test | None:
        """None where it is missing or was told as a problem."""
        if scalar is None or scalar.broken:
            return None
        try:
            return self._joined(scalar)
        except _Bad as bad:
            self._tell(scalar, bad)
            return None

    def text(self, scalar: Scalar | None) -> Text | None:
        """A sentence; None where it is missing or was told as a problem."""
        if scalar is None or scalar.broken:
            return None
        source = scalar.text
        if len(source) > LONGEST_TEXT:
            self._tell(scalar, _Bad(0, f"A text has at most {LONGEST_TEXT} letters.", "Shorten it: a screen is small."))
            return None
        if "<" not in source:
            return Text(source, (source,), scalar.spot)
        try:
            return Text(source, _parts(scalar), scalar.spot)
        except _Bad as bad:
            self._tell(scalar, bad)
            return None

    def _tell(self, scalar: Scalar, bad: _Bad) -> None:
        self.report.add(scalar.at(bad.offset), bad.code, bad.message, bad.cure)

    # ---- tests

    def _joined(self, scalar: Scalar) -> Test:
        if len(scalar.text) > LONGEST:
            raise _Bad(0, f"A test has at most {LONGEST} letters.", "Split it over two steps.")
        pieces = _pieces(scalar.text)
        groups: list[tuple[int, int]] = []
        joiners: dict[str, int] = {}
        for joiner, at, start, end in pieces:
            if not groups or _is_at(scalar.text, start, end) is not None:
                groups.append((start, end))
                if joiner:
                    joiners.setdefault(joiner, at)
            else:
                groups[-1] = (groups[-1][0], end)
        if len(joiners) > 1:
            raise _Bad(
                max(joiners.values()),
                "`and` and `or` join tests in one line.",
                "Use one of them only; make two lines or two steps of it.",
            )
        tests = tuple(self._single(scalar, start, end) for start, end in groups)
        if len(tests) == 1:
            return tests[0]
        return (AllOf if "and" in joiners else AnyOf)(tests, scalar.spot)

    def _single(self, scalar: Scalar, start: int, end: int) -> Test:
        text = scalar.text
        found = _is_at(text, start, end)
        if found is None:
            raise _Bad(
                _first(text, start),
                f"{shown(text[start:end].strip())} is no test.",
                _in_words(text[start:end].strip()),
            )
        subject = _Line(scalar, start, found[0]).whole()
        begin = _first(text, found[1])
        spot = scalar.at(_first(text, start))
        rest = text[begin:end].rstrip()
        if not rest:
            raise _Bad(
                found[0], "Nothing stands behind `is`.", "Write a word, or `above`, `below`, `at least`, `at most`."
            )
        negated = rest == "not" or rest.startswith("not ")
        at = _first(text, begin + 3) if negated else begin
        rest = text[at:end].rstrip()
        relation = _RELATION.match(rest)
        answers = self.words.answers(subject) if self.words is not None else None
        if relation is None or (answers is not None and self._reads(rest, answers)):
            words = self._words(scalar, at, at + len(rest), answers, text[start : found[0]].strip())
            return Is(subject, words, negated, spot)
        if negated:
            opposite = {
                "above": "at most",
                "below": "at least",
                "at least": "below",
                "at most": "above",
                "before": "on or after",
                "on or after": "before",
            }[relation[1]]
            raise _Bad(begin, f"`is not {relation[1]}` is no test.", f"Write `is {opposite}`.")
        right = _Line(scalar, at + relation.end(), at + len(rest)).whole()
        return Compare(subject, relation[1], right, spot)

    def _reads(self, rest: str, answers: tuple[str, ...]) -> bool:
        """Are these words that `answers` know, though they begin like a comparison?"""
        return any(rest == word or rest.startswith(word + " or ") for word in answers)

    def _words(
        self, scalar: Scalar, start: int, end: int, answers: tuple[str, ...] | None, subject: str
    ) -> tuple[str, ...]:
        if start == end:
            raise _Bad(start, "No word stands behind `is not`.", "Write one.")
        like = _LIKE_RELATION.match(scalar.text, start, end)
        if like is not None and not answers:
            raise _Bad(start, f"{shown(like[1])} is not how two things are compared.", _EARLY_HINT)
        rest = scalar.text[like.end() : end].strip() if like is not None else ""
        if like is not None and answers and rest in answers:
            raise _Bad(start, f"{shown(like[1])} is one word too many.", f"Write {shown(rest)} alone behind `is`.")
        return self.choose(scalar, start, end, answers, subject)

    def choose(
        self,
        scalar: Scalar,
        start: int,
        end: int,
        answers: tuple[str, ...] | None,
        subject: str,
    ) -> tuple[str, ...]:
        """``a or b or unknown`` as words; each must be among the `answers` of `subject` (None: whatever they are)."""
        words: list[str] = []
        for at, word in group(scalar.text[start:end], answers):
            if not word:
                raise _Bad(start + at, "A word is missing beside `or`.", "Write it, or take the `or` out.")
            if word in words:
                self.report.add(
                    scalar.at(start + at), "duplicate-word", f"{shown(word)} stands twice.", "Take one out."
                )
                continue
            words.append(word)
            if answers is not None and word != UNKNOWN and word not in answers:
                self.not_an_answer(scalar.at(start + at), word, answers, subject)
        return tuple(words)

    def not_an_answer(self, spot: Spot, word: str, answers: tuple[str, ...], name: str) -> None:
        """Tell a word that is none of the answers of `name`."""
        self.report.add(
            spot,
            "not-an-answer",
            f"{shown(word)} is none of the answers of {shown(name)}.",
            did_you_mean(word, answers, f"They are: {listed(answers)}; or `unknown`."),
        )


def group(text: str, answers: tuple[str, ...] | None) -> list[tuple[int, str]]:
    """``a or b or c`` split, with offsets. An answer that holds `` or `` itself stays whole."""
    parts: list[tuple[int, str]] = []
    at = 0
    for piece in (f"{text} " if text.endswith(" or") else text).split(" or "):
        parts.append((min(at + len(piece) - len(piece.lstrip()), len(text)), piece.strip()))
        at += len(piece) + 4
    if answers is None or not any(" or " in answer for answer in answers):
        return parts
    whole: list[tuple[int, str]] = []
    i = 0
    while i < len(parts):
        for j in range(len(parts), i + 1, -1):
            long = " or ".join(word for _, word in parts[i:j])
            if long in answers:
                break
        else:
            j, long = i + 1, parts[i][1]
        whole.append((parts[i][0], long))
        i = j
    return whole


def _in_words(test: str) -> str:
    """The cure for what is no test: its sign in words, where it has one."""
    sign = _SIGN.search(test)
    if sign is None:
        return "Write `X is above Y`, or `X is word or word`."
    return f"Write {shown(f'{test[: sign.start()]} {_SIGNS[sign[1]]} {test[sign.end() :]}'.strip())}."


def _first(text: str, start: int) -> int:
    """Where the next letter that is no blank stands."""
    found = _BLANKS.match(text, start)
    return found.end() if found else start


def _pieces(text: str) -> list[tuple[str, int, int, int]]:
    """Parts between `` and `` and `` or `` outside of brackets: (joiner before, its place, start, end)."""
    pieces: list[tuple[str, int, int, int]] = []
    depth = start = 0
    joiner, at = "", 0
    i = text.find(" ")
    depth = text.count("(", 0, i) - text.count(")", 0, i) if i >= 0 else 0
    while i >= 0:
        for word in ("and", "or"):
            if (
                depth <= 0
                and text.startswith(word + " ", i + 1)
                and not (word == "or" and text.startswith("after", i + 4) and text.endswith(" is on", 0, i))
            ):
                pieces.append((joiner, at, start, i))
                joiner, at, start = word, i + 1, i + 2 + len(word)
        after = text.find(" ", i + 1)
        end = len(text) if after < 0 else after
        depth += text.count("(", i, end) - text.count(")", i, end)
        i = after
    pieces.append((joiner, at, start, len(text)))
    return pieces


def _is_at(text: str, start: int, end: int) -> tuple[int, int] | None:
    """Where `` is `` stands outside of brackets: its start and end."""
    at = text.find(" is", start, end)
    while at >= 0:
        if (at + 3 >= end or text[at + 3] == " ") and text.count("(", start, at) <= text.count(")", start, at):
            return at, min(at + 4, end)
        at = text.find(" is", at + 1, end)
    return None


def _parts(scalar: Scalar) -> tuple[str | Expression, ...]:
    source = scalar.text
    parts: list[str | Expression] = []
    at = 0
    while (opened := source.find("<", at)) >= 0:
        closed, again = source.find(">", opened), source.find("<", opened + 1)
        if closed < 0 or 0 <= again < closed:
            raise _Bad(
                opened,
                "`<` begins a value to be filled in, and no `>` ends it.",
                "Close it, or write `below` for the sign.",
            )
        if opened > at:
            parts.append(source[at:opened])
        parts.append(_Line(scalar, opened + 1, closed).whole())
        at = closed + 1
    if at < len(source):
        parts.append(source[at:])
    return tuple(parts)


class _Line:
    """Recursive descent over one stretch of a text."""

    __slots__ = ("at", "depth", "end", "parts", "scalar", "start", "text")

    def __init__(self, scalar: Scalar, start: int, end: int) -> None:
        self.scalar = scalar
        self.text = scalar.text[:end] if end < len(scalar.text) else scalar.text
        self.at = self.start = start
        self.end = end
        self.depth = self.parts = 0

    def whole(self) -> Expression:
        simple = _PLAIN_NAME.fullmatch(self.text, self.start)
        if simple is not None:
            return Name(simple[1], self.scalar.at(simple.start(1)))
        if self.end - self.start > LONGEST:
            raise _Bad(self.start, f"An expression has at most {LONGEST} letters.", "Split it over two steps.")
        self._skip()
        if self.at >= self.end:
            raise _Bad(self.start, "An expression is missing here.", "Write a name, a number with its unit, or a sum.")
        found = self._sum()
        if self.at < self.end:
            self._unexpected()
        return found

    def _skip(self) -> None:
        text = self.text
        while self.at < self.end and text[self.at] == " ":
            self.at += 1

    def _peek(self) -> str:
        return self.text[self.at] if self.at < self.end else ""

    def _sum(self) -> Expression:
        left = self._product()
        while (operator := self._peek()) in ("+", "-") and operator:
            at = self.at
            if operator == "-" and not (self.text[at - 1] == " " and self.text[at + 1 : at + 2] == " "):
                raise _Bad(at, "A minus needs a blank on both sides.", "Write `a - b`: names hold hyphens.")
            self.at += 1
            self._skip()
            left = Binary(operator, left, self._product(), self.scalar.at(at))
        return left

    def _product(self) -> Expression:
        left = self._factor()
        while (operator := self._peek()) in ("*", "/") and operator:
            at = self.at
            self.at += 1
            self._skip()
            left = Binary(operator, left, self._factor(), self.scalar.at(at))
        return left

    def _factor(self) -> Expression:
        self.depth += 1
        if self.depth > DEEPEST:
            raise _Bad(self.at, f"Brackets stand over {DEEPEST} deep.", "Work a part of it out in a step of its own.")
        found = self._operand()
        self.depth -= 1
        self._skip()
        return found

    def _operand(self) -> Expression:
        self.parts += 1
        if self.parts > MOST_PARTS:
            raise _Bad(self.at, f"An expression has at most {MOST_PARTS} parts.", "Split it over two steps.")
        letter = self._peek()
        at = self.at
        if letter == "(":
            self.at += 1
            self._skip()
            found = self._sum()
            self._close("(", at)
            return found
        if letter.isdigit() and letter.isascii():
            return self._number(at)
        if letter == "-":
            self.at += 1
            if self._peek().isdigit():
                return self._number(at)
            self._skip()
            return Negative(self._factor(), self.scalar.at(at))
        name = NAME.match(self.text, at, self.end)
        if name is None:
            self._unexpected()
        self.at = name.end()
        self._skip()
        if self._peek() == "(":
            return self._call(name[0], at)
        return Name(name[0], self.scalar.at(at))

    def _number(self, at: int) -> Literal:
        day = _DAY.match(self.text, self.at, self.end)
        if day is not None and self.at == at:
            self.at = day.end()
        else:
            number = _NUMBER.match(self.text, self.at, self.end)
            end = number.end() if number else self.at + 1
            unit = _UNIT.match(self.text, end, self.end) or _WORD.match(self.text, end, self.end)
            self.at = unit.end() if unit else end
        found = _literal(self.text[at : self.at])
        if isinstance(found, Refused):
            raise _Bad(at, found.message, found.cure, "bad-number")
        return Literal(found, self.scalar.at(at))  # type: ignore[arg-type]

    def _call(self, function: str, at: int) -> Call | OfSeries:
        opened = self.at
        self.at += 1
        self._skip()
        arguments: list[Expression] = []
        while self._peek() != ")":
            arguments.append(self._sum())
            if self._peek() != ",":
                break
            self.at += 1
            self._skip()
            if self._peek() == ")":
                raise _Bad(self.at, "Nothing stands behind this comma.", "Take it out.")
        self._close("(", opened)
        if function not in SERIES:
            return Call(function, tuple(arguments), self.scalar.at(at))
        if len(arguments) != 1 or not isinstance(arguments[0], Name):
            raise _Bad(at, f"`{function}` takes one name: a reading or a result.", f"Write `{function}(name)`.")
        return OfSeries(function, arguments[0].name, self.scalar.at(at))

    def _close(self, bracket: str, opened: int) -> None:
        if self._peek() != ")":
            if self.at >= self.end:
                raise _Bad(opened, "This bracket is not closed.", "Add `)`.")
            self._unexpected()
        self.at += 1

    def _unexpected(self) -> NoReturn:
        rest = self.text[self.at : self.end].strip()
        if not rest:
            raise _Bad(self.end, "The expression ends too early.", "A name or a number is missing.")
        if rest[0] == ")":
            raise _Bad(self.at, "A closing bracket too many.", "Take it out.")
        if rest[0] == "-":
            raise _Bad(self.at, "A minus needs a blank on both sides.", "Write `a - b`: names hold hyphens.")
        if rest.startswith(("is ", "and ", "or ", "of ")):
            raise _Bad(
                self.at,
                f"{shown(rest.split(' ')[0])} can't stand in an expression.",
                "A test belongs behind `when`, `only when`, or in a line of `first of`.",
            )
        raise _Bad(self.at, f"{shown(rest)} can't stand here.", "Expected `+ - * /` or the end.")
