"""Walk a recorded session again: does it come to the same verdicts, route and numbers?

With the trees and property results in the file itself; with --trees, with the trees of that folder; with
--recompute, with today's property tables. The first difference is named.

Exit code: 0 all the same, 1 one differs, 2 could not look.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.record.replay import Replayed


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="+", metavar="FILE", help="a session file")
    parser.add_argument("--trees", metavar="DIR", help="walk with the trees of this folder")
    parser.add_argument("--recompute", action="store_true", help="use today's property tables")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: argparse.Namespace) -> int:
    """Print for each file whether it is the same, or the first difference."""
    from tui.cli.libraries import folders_of
    from tui.cli.several import each_file
    from tui.record.replay import replay

    trees: list[Path] = folders_of([options.trees]) if options.trees else []
    found, unread = each_file(options.file, lambda file: replay(file, trees=trees, recompute=options.recompute))
    if options.json:
        from tui.cli.output import print_json

        print_json({"files": [_shape(replayed) for replayed in found]})
    else:
        for replayed in found:
            print(_in_words(replayed))
    return 2 if unread else int(not all(replayed.same for replayed in found))


def _shape(replayed: Replayed) -> dict[str, object]:
    first = replayed.first
    parted = {"n": first.n, "what": first.what, "then": first.then, "now": first.now} if first else None
    return {"path": replayed.path, "same": replayed.same, "first": parted}


def _in_words(replayed: Replayed) -> str:
    if replayed.state == "altered":
        return f"{replayed.path}: altered, so it was not walked. {replayed.message}"
    torn = f"\n  As far as it goes: {replayed.message}" if replayed.state == "torn" else ""
    if replayed.first is None:
        return f"{replayed.path}: the same, with {replayed.walked_with}.{torn}"
    first = replayed.first
    where = f"event {first.n} (line {first.n + 1}), {first.what}"
    return (
        f"{replayed.path}: differs, with {replayed.walked_with}.\n"
        f"  First at {where}: then {first.then}, now {first.now.rstrip('.')}.{torn}"
    )
