"""Prove the trees: every path ends, nothing is used before it is known, risky work has what it demands.

PATH is a folder of trees (or a file in it). One with causes of its own (catalogue/causes.yaml) is a library of
its own; any other is laid over the trees that come with lowside: its trees and the entries of its catalogue take
the place of theirs. Without PATH: those, with your own laid over them.

Exit code: 0 well (warnings may be printed), 1 problems found, 2 could not look.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.tree.spot import Problem


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("path", nargs="*", metavar="PATH", help="folder of trees, or a file in it")
    parser.add_argument("--format", choices=sorted(_FORMATS), default="text", help="how problems are printed")


def run(options: argparse.Namespace) -> int:
    """Print every problem; 1 if one of them stops."""
    from tui.cli.libraries import folders_of, problems_in

    problems = problems_in(folders_of(options.path))
    _FORMATS[options.format](problems)
    return 1 if any(problem.severity == "error" for problem in problems) else 0


def _as_text(problems: Sequence[Problem]) -> None:
    from tui.cli.problems import problem_line

    for problem in problems:
        print(problem_line(problem))
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
