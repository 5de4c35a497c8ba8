"""Problems collected while reading, and the keys of one mapping with what was expected of them."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from tui.quantity import nearest
from tui.tree.slips import LIKE_A_HYPHEN
from tui.tree.source import Mapping, Node, Scalar
from tui.tree.source import Sequence as Items
from tui.tree.spot import Problem, Spot


class Report:
    """Collects problems; the same code in the same place is told once."""

    __slots__ = ("_told", "problems")

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self._told: set[tuple[Spot, str]] = set()

    def add(self, spot: Spot, code: str, message: str, cure: str = "", severity: str = "error") -> None:
        if (spot, code) not in self._told:
            self._told.add((spot, code))
            self.problems.append(Problem(spot, code, message, cure, severity))

    def take(self, problems: Iterable[Problem]) -> None:
        for problem in problems:
            self.add(problem.spot, problem.code, problem.message, problem.cure, problem.severity)


def shown(text: str, most: int = 60) -> str:
    """A text as a message quotes it: between backticks, cut where it is long."""
    return f"`{text if len(text) <= most else text[: most - 3] + '...'}`"


def listed(words: Sequence[str], most: int = 12) -> str:
    """Words with commas; the rest counted where there are many."""
    if len(words) <= most:
        return ", ".join(words)
    return f"{', '.join(words[:most])} and {len(words) - most} more"


def did_you_mean(word: str, words: Collection[str], otherwise: str = "") -> str:
    """The cure for an unknown word."""
    close = nearest(word, words)
    if close is not None and close != word and plain_hyphens(word) == close:
        return f"Type {shown(close)} anew: what looks like a hyphen in it is another sign."
    return f"Did you mean {shown(close)}?" if close else otherwise


def plain_hyphens(word: str) -> str:
    """With hyphens in the place of what only looks like one."""
    return _LIKE_A_HYPHEN.sub("-", word)


_LIKE_A_HYPHEN = re.compile(f"[{LIKE_A_HYPHEN}]")


_JOINS = re.compile(r" *(?:[;/&+]| and | or ) *")


def with_commas(text: str, words: Collection[str]) -> str | None:
    """The cure where known names stand together without a comma between them."""
    for names in (_JOINS.split(text), text.split()):
        if len(names) > 1 and all(name in words for name in names):
            return f"Put commas between names: {shown(', '.join(names))}."
    return None


_SAME = {"unknown-name": False, "no-such-tree": False, "not-an-answer": False, "no-such-step": True}  # in one file
_PLACES = 8  # of one problem, named beside the first


def one_cause(problems: Iterable[Problem]) -> list[Problem]:
    """In file order; a name that is unknown in several places is told at the first, with the others listed."""
    found: dict[tuple[object, ...], list[Problem]] = {}
    for problem in sorted(problems, key=lambda problem: problem.spot):
        key: tuple[object, ...] = (problem.spot, problem.code, problem.message)
        if problem.code in _SAME:
            where = problem.spot.path if _SAME[problem.code] else ""
            key = (where, problem.code, problem.message, problem.cure)
        found.setdefault(key, []).append(problem)
    return [_with_places(first, rest) for first, *rest in found.values()]


def _with_places(first: Problem, rest: Sequence[Problem]) -> Problem:
    spots = dict.fromkeys((problem.spot.path, problem.spot.line) for problem in rest)
    spots.pop((first.spot.path, first.spot.line), None)
    if not spots:
        return first
    lines: dict[str, list[str]] = {}
    for path, line in list(spots)[:_PLACES]:
        lines.setdefault(path, []).append(str(line))
    places = [f"{'line ' if path == first.spot.path else _file(path)}{', '.join(of)}" for path, of in lines.items()]
    more = f" and {len(spots) - _PLACES} more" if len(spots) > _PLACES else ""
    return replace(first, message=f"{first.message} The same in {'; '.join(places)}{more}.")


def _file(path: str) -> str:
    return path.replace("\\", "/").rpartition("/")[2] + ":"


def commas(scalar: Scalar, report: Report) -> list[Scalar]:
    """The parts of a comma list, each with its place. An empty part is told, and one that stands twice."""
    if scalar.broken:
        return []
    parts: list[Scalar] = []
    seen: set[str] = set()
    start = 0
    for piece in scalar.text.split(","):
        part = scalar.part(start, start + len(piece))
        if not part.text:
            report.add(part.spot, "empty-text", "A comma with nothing behind or before it.", "Take the comma out.")
        else:
            if part.text in seen:
                report.add(part.spot, "duplicate-word", f"{shown(part.text)} stands twice.", "Take one out.")
            seen.add(part.text)
            parts.append(part)
        start += len(piece) + 1
    return parts


class Fields:
    """The keys of one mapping. Every refusal is told once; what is refused comes back as None."""

    __slots__ = ("_values", "head", "keys", "report", "what")

    def __init__(
        self,
        node: Mapping,
        known: Collection[str],
        what: str,
        report: Report,
        head: Spot,
        free: Collection[str] = (),
    ) -> None:
        """`what` names the thing in messages; `free`: keys may also begin so (told apart by the caller)."""
        self.what = what
        self.report = report
        self.head = head
        self.keys: dict[str, Scalar] = {}
        self._values: dict[str, Node] = {}
        for key, value in node.entries:
            text = key.text
            if text in known or any(text.startswith(start) for start in free):
                self.keys[text] = key
                self._values[text] = value
            elif not key.broken:
                report.add(
                    key.spot,
                    "unknown-key",
                    f"{what} has no key {shown(text)}.",
                    did_you_mean(text, known, f"Keys are: {', '.join(known)}."),
                )

    def __contains__(self, key: str) -> bool:
        return key in self._values

    def node(self, key: str) -> Node | None:
        return self._values.get(key)

    def need(self, *keys: str) -> None:
        """Tell the keys that are missing."""
        for key in keys:
            if key not in self._values:
                self.report.add(
                    self.head, "missing-key", f"{self.what} has no {shown(key)}.", f"Add a line `{key}: ...`."
                )

    def text(self, key: str) -> Scalar | None:
        """Its text; told and None where it is empty or no text."""
        node = self._values.get(key)
        return None if node is None else text_of(node, shown(key), self.keys[key], self.report)

    def words(self, key: str) -> str:
        """A text to be shown as it stands; "" where there is none."""
        found = self.text(key)
        if found is None:
            return ""
        at = found.text.find("<")
        if at >= 0:
            self.report.add(
                found.at(at),
                "bad-expression",
                "A text of the catalogue is shown as it stands; `<...>` is filled in only in trees.",
                "Take the `<...>` out.",
            )
        return found.text

    def one_of(self, key: str, words: Sequence[str]) -> str | None:
        """One of a few words."""
        found = self.text(key)
        if found is None or found.text in words:
            return found.text if found is not None else None
        self.report.add(
            found.spot,
            "wrong-word",
            f"{shown(found.text)} can't stand behind {shown(key)}.",
            did_you_mean(found.text, words, "") or f"It is one of: {', '.join(words)}.",
        )
        return None

    def yes(self, key: str, default: bool = False) -> bool:
        found = self.one_of(key, ("yes", "no"))
        return default if found is None else found == "yes"

    def list(self, key: str) -> list[Scalar]:
        """A comma list."""
        found = self.text(key)
        return [] if found is None else commas(found, self.report)

    def mapping(self, key: str) -> Mapping | None:
        """Keys with values below this key."""
        node = self._values.get(key)
        if node is None or isinstance(node, Mapping):
            return node
        if not (isinstance(node, Scalar) and node.broken):
            self.report.add(
                self.keys[key].spot,
                "wrong-shape",
                f"Below {shown(key)} stand lines `... : ...`.",
                "Take the dashes before them out."
                if isinstance(node, Items)
                else "Write them one below the other, further in than the key.",
            )
        return None

    def items(self, key: str) -> Items | None:
        """Lines with a dash below this key."""
        node = self._values.get(key)
        if node is None or isinstance(node, Items):
            return node
        if not (isinstance(node, Scalar) and node.broken):
            self.report.add(
                self.keys[key].spot,
                "wrong-shape",
                f"Below {shown(key)} stand lines with a dash.",
                "Write `- ` before each, one below the other.",
            )
        return None


def text_of(node: Node, what: str, key: Scalar, report: Report) -> Scalar | None:
    """A node that must be a text on one line; told and None where it is not."""
    if isinstance(node, Scalar):
        if node.broken:
            return None
        if node.text:
            return node
        report.add(key.spot, "empty-text", f"{what} has nothing behind it.", "Write its text on the same line.")
        return None
    report.add(
        key.spot,
        "wrong-shape",
        f"{what} takes one text.",
        "Write it on the same line, names with commas between, without dashes and brackets.",
    )
    return None
