"""What parts two sets of trees: which answers now end elsewhere, which steps, words and figures are others.

OLD and NEW are folders of trees, or git revisions of the repository that the current folder lies in (HEAD~1,
a tag, or REVISION:FOLDER where its trees lie elsewhere). The examples of both are walked with both; those that
end elsewhere are named. A changed figure is also tried alone, nothing else changed.

With --sessions, the recorded visits in DIR are walked again with both, with the answers that were given.

Exit code: 0 done, whatever differs, 2 could not compare: no such trees, or trees that do not hold.
"""

from __future__ import annotations

import argparse
import sys
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.cli.revision import Side
    from tui.proof.diff.sessions import Session
    from tui.tree.library import Library


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old", metavar="OLD", help="a folder of trees, or a git revision")
    parser.add_argument("new", metavar="NEW", help="a folder of trees, or a git revision")
    parser.add_argument("--sessions", metavar="DIR", help="a folder of recorded visits to walk again")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: argparse.Namespace) -> int:
    """Load both, print what parts them."""
    from tui.cli.revision import side

    paths = _sessions_of(options.sessions) if options.sessions is not None else None
    with ExitStack() as stack:
        old, new = (
            stack.enter_context(side(text, [other] if Path(other).exists() else []))
            for text, other in ((options.old, options.new), (options.new, options.old))
        )
        loaded = [_loaded(each) for each in (old, new)]
        then, now = loaded
        if then is None or now is None:
            return 2
        return _compare(options, (old, then), (new, now), paths)


def _compare(
    options: argparse.Namespace, old: tuple[Side, Library], new: tuple[Side, Library], paths: list[str] | None
) -> int:
    from tui.cli.several import each_file
    from tui.proof.diff.difference import difference
    from tui.proof.diff.sessions import session
    from tui.proof.diff.tried import tried, visits

    (before, then), (after, now) = old, new
    found = difference(then, now)
    examples = {} if found.nothing else visits({**before.examples(), **after.examples()})
    walked = tried(then, now, found, examples)
    sessions: list[Session] | None = None
    unread = 0
    if paths is not None:
        sessions, unread = each_file(paths, lambda path: session(path, then, now, found.names))
    if options.json:
        from tui.cli.differences_json import shape
        from tui.cli.output import print_json

        print_json(shape(before.name, after.name, found, walked, sessions))
    else:
        from tui.cli.differences import lines

        print("\n".join(lines(before.name, after.name, found, walked, sessions)))
    return 2 if unread else 0


def _loaded(side: Side) -> Library | None:
    """The library; None where it does not hold, and its problems were told as `check` tells them."""
    from tui.cli.libraries import load
    from tui.cli.problems import problem_line
    from tui.tree.library import BrokenLibrary

    try:
        return load(side.folders)
    except BrokenLibrary as broken:
        for problem in broken.problems:
            if problem.severity == "error":
                print(problem_line(side.placed(problem)), file=sys.stderr)
        print(f"The trees of {side.name} do not hold, so nothing was compared.", file=sys.stderr)
        return None


def _sessions_of(folder: str) -> list[str]:
    """The files of recorded visits in a folder, the earliest first. Raises Refused where there is none."""
    from tui.desk.store import Store

    if not Path(folder).is_dir():
        raise Refused("missing", f"{folder}: there is no such folder.", "Name the folder of recorded visits.")
    names = Store(Path(folder)).names()
    if not names:
        raise Refused("no-sessions", f"{folder}: there is no recorded visit in this folder.", "Name another.")
    return [str(path) for path in reversed(names)]
