"""Prove the trees: every path ends, nothing is used before it is known, risky work has what it demands.

PATH is a folder of trees (or a file in it). One with a whole catalogue of its own (readings, causes, cautions, work
and instruments) is a library of its own; any other is laid over the trees that come with lowside: its trees and the
entries of its catalogue take the place of theirs. Without PATH: those, with your own laid over them.

With --against a tree that says something else than there must have another edition. The catalogue has none.

Exit code: 0 well (warnings may be printed), 1 problems found, 2 could not look.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.tree.spot import Problem


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("path", nargs="*", metavar="PATH", help="folder of trees, or a file in it")
    parser.add_argument("--against", metavar="REV|FOLDER", help="a git revision, or a folder, as the trees were before")
    parser.add_argument("--format", choices=sorted(_FORMATS), default="text", help="how problems are printed")


def run(options: argparse.Namespace) -> int:
    """Print every problem; 1 if one of them stops."""
    from tui.cli.libraries import folders_of, problems_in

    folders = folders_of(options.path)
    problems = problems_in(folders)
    if options.against is not None:
        problems = sorted([*problems, *_old_editions(options.against, folders)], key=lambda problem: problem.spot)
    _FORMATS[options.format](problems)
    return 1 if any(problem.severity == "error" for problem in problems) else 0


def _old_editions(against: str, folders: Sequence[Path]) -> list[Problem]:
    from tui.cli.revision import side
    from tui.tree.check.editions import editions, old_editions

    with side(against, folders) as before:
        return old_editions(editions(before.folders), editions(folders))


def _as_text(problems: Sequence[Problem]) -> None:
    from tui.cli.output import say
    from tui.cli.problems import problem_line

    for problem in problems:
        say(problem_line(problem))
    errors = sum(problem.severity == "error" for problem in problems)
    print(f"{_count(errors, 'problem')}, {_count(len(problems) - errors, 'warning')}.")


def _count(number: int, thing: str) -> str:
    return f"{number or 'no'} {thing}{'' if number == 1 else 's'}"


def _as_json(problems: Sequence[Problem]) -> None:
    from tui.cli.output import print_json

    print_json({"problems": [_shape(problem) for problem in problems]})


def _shape(problem: Problem) -> dict[str, object]:
    return {
        "path": problem.spot.path,
        "line": problem.spot.line,
        "column": problem.spot.column,
        "code": problem.code,
        "severity": problem.severity,
        "message": problem.message,
        "cure": problem.cure,
    }


def _for_github(problems: Sequence[Problem]) -> None:
    for problem in problems:
        spot = problem.spot
        where = f"file={_property(spot.path)},line={spot.line},col={spot.column},title={_property(problem.code)}"
        text = f"{problem.message} {problem.cure}".strip()
        print(f"::{problem.severity} {where}::{_data(text)}")


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


_FORMATS: dict[str, Callable[[Sequence[Problem]], None]] = {
    "text": _as_text,
    "json": _as_json,
    "github": _for_github,
}
