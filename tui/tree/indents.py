"""Where lines stand wrongly below each other: what libyaml stumbles over, told at the line that is the cause."""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from tui.tree.forms import FORMS, STEP_KEYS
from tui.tree.spot import Problem, Spot

_KEY = re.compile(r"(?:- +)*[^\s#'\"][^#]*?:(?: |$)")


def told(path: str, lines: Sequence[str], error: yaml.MarkedYAMLError) -> Problem | None:
    """A problem of quotes, dashes or indentation with its cause; None where it is none that is known here."""
    mark, says = error.problem_mark, error.problem or ""
    if mark is None or mark.line >= len(lines):
        return None
    row = lines[mark.line]
    if "mapping values are not allowed" in says:
        return _further_in(path, lines, mark.line) if _first_colon(row, mark.column) else None
    if "expected key" not in says and "expected '-' indicator" not in says and "expected <block end>" not in says:
        return None
    if row[: mark.column].rstrip().endswith(("'", '"')):
        return Problem(
            spot_of(path, lines, mark),
            "bad-yaml",
            "The quotes close before this, and text goes on behind them.",
            "Put the whole text in quotes, or none of it; inside of single quotes an apostrophe is written twice.",
        )
    if row.lstrip().startswith("- "):
        return _list_begins(path, lines, mark.line)
    return _dash_missing(path, lines, mark.line, error.context_mark) or _fits_none(path, lines, mark)


def _fits_none(path: str, lines: Sequence[str], mark: yaml.Mark) -> Problem | None:
    """A line whose blanks are none of those that the lines above have."""
    indent, above = _indent(lines[mark.line]), _above(lines, mark.line)
    if above is None or mark.column != indent or _indent(lines[above]) == indent:
        return None
    return Problem(
        spot_of(path, lines, mark),
        "bad-yaml",
        f"The indentation of this line fits none of the lines above: {_blanks(indent)} here, "
        f"{_blanks(_indent(lines[above]))} in line {above + 1}.",
        "Keys of one step stand exactly below each other; so do dashes.",
    )


def _blanks(count: int) -> str:
    return f"{count or 'no'} blank{'' if count == 1 else 's'}"


def spot_of(path: str, lines: Sequence[str], mark: yaml.Mark | None) -> Spot:
    """Marks may stand behind the last line: then its end."""
    if mark is None:
        return Spot(path, 1, 1)
    if mark.line >= len(lines):
        return Spot(path, len(lines), len(lines[-1]) + 1)
    return Spot(path, mark.line + 1, mark.column + 1)


def _indent(row: str) -> int:
    return len(row) - len(row.lstrip(" "))


def _above(lines: Sequence[str], index: int) -> int | None:
    """The next line further up that says something."""
    for at in range(index - 1, -1, -1):
        bare = lines[at].strip()
        if bare and not bare.startswith("#"):
            return at
    return None


def _first_colon(row: str, column: int) -> bool:
    """Whether the colon at `column` is the one behind the key that the line begins with."""
    return ": " not in row[:column] and not row.lstrip(" -").startswith(("'", '"'))


def _further_in(path: str, lines: Sequence[str], index: int) -> Problem | None:
    above = _above(lines, index)
    if above is None or _indent(lines[index]) <= _indent(lines[above]):
        return None
    if lines[above].lstrip().startswith("-") and not lines[above].lstrip().startswith("- "):
        spot = Spot(path, above + 1, _indent(lines[above]) + 1)
        return Problem(spot, "bad-yaml", "No blank stands behind this dash.", "Write a dash, a blank, then the step.")
    left = _too_far_left(path, lines, above)
    if left is not None:
        return left
    return Problem(
        Spot(path, index + 1, _indent(lines[index]) + 1),
        "bad-yaml",
        f"This line stands further in than line {above + 1}, which has its text already.",
        "Keys of one step stand exactly below each other; a step begins with a dash and a blank.",
    )


def _too_far_left(path: str, lines: Sequence[str], at: int) -> Problem | None:
    """A line that stands where the dashes of a list do: its own dash is missing, or the blanks before it."""
    indent, key = _indent(lines[at]), lines[at].strip().partition(":")[0]
    before = _above(lines, at)
    if before is not None and _indent(lines[before]) == indent and re.fullmatch(r" *[^-#\s][^:]*: *", lines[before]):
        name = lines[before].strip(" :")
        message = f"This line stands as far left as `{name}`, and the line below it further in."
        cure = f"What belongs to `{name}` stands below it, two blanks further in."
        return Problem(Spot(path, at + 1, indent + 1), "bad-yaml", message, cure)
    if not any(_indent(row) == indent and row.lstrip().startswith("- ") for row in lines[:at]):
        return None
    spot = Spot(path, at + 1, indent + 1)
    if key in FORMS:
        return Problem(spot, "bad-yaml", f"No dash stands before `{key}`.", "A step begins with a dash and a blank.")
    if key not in STEP_KEYS:
        return None
    message = "This line stands as far left as the dashes, so it belongs to none of them."
    return Problem(spot, "bad-yaml", message, "Keys of a step stand two blanks further in than its dash.")


def _list_begins(path: str, lines: Sequence[str], index: int) -> Problem | None:
    """A dash where no list can go on: a key above stands too far left, or the list's own key is missing."""
    above = _above(lines, index)
    if above is None or _indent(lines[above]) != _indent(lines[index]) or not _KEY.match(lines[above].strip()):
        return None
    if lines[above].lstrip().startswith("- "):
        return None
    before = _above(lines, above)
    started = any(row.lstrip().startswith("- ") and _indent(row) <= _indent(lines[index]) for row in lines[:index])
    if started and before is not None:
        return Problem(
            Spot(path, above + 1, _indent(lines[above]) + 1),
            "bad-yaml",
            "This line stands as far left as the dashes, so it belongs to none of them.",
            "Keys of a step stand two blanks further in than its dash.",
        )
    return Problem(
        Spot(path, index + 1, _indent(lines[index]) + 1),
        "bad-yaml",
        "A list begins here, and no key stands above it that it could belong to.",
        "The steps of a tree stand below a line `steps:`.",
    )


def _dash_missing(path: str, lines: Sequence[str], index: int, begun: yaml.Mark | None) -> Problem | None:
    """A line exactly below the dashes of a list, without one."""
    if begun is None or _indent(lines[index]) != begun.column:
        return None
    if not lines[begun.line][begun.column :].startswith("- "):
        return None
    return Problem(
        Spot(path, index + 1, begun.column + 1),
        "bad-yaml",
        f"A list with dashes begins in line {begun.line + 1}; this line stands below the dashes without one.",
        "Every line of a list begins with a dash, or none does.",
    )
