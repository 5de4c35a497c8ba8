"""Is a session file whole: every line as it was written, none missing. Never writes.

The chain of hashes shows damage and edits in part. It cannot show a whole file written anew by someone who
can compute hashes, nor lines cut off the end of a visit that was not closed; only a signature could.

Exit code: whole and open 0, torn and altered 1, newer and foreign 2; the worst file wins.
"""

from __future__ import annotations

import argparse

_EXIT = {"whole": 0, "open": 0, "torn": 1, "altered": 1, "newer": 2, "foreign": 2}


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="+", metavar="FILE", help="a session file")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: argparse.Namespace) -> int:
    """Print the state of each file; the worst decides the exit code, one that can't be read is 2."""
    from tui.cli.several import each_file
    from tui.record import verify

    verdicts, unread = each_file(options.file, verify)
    if options.json:
        from tui.cli.output import print_json

        shapes = [{"path": v.path, "state": v.state, "line": v.line, "message": v.message} for v in verdicts]
        print_json({"files": shapes})
    else:
        for verdict in verdicts:
            print(f"{verdict.path}: {verdict.state}. {verdict.message}")
    return max([_EXIT[verdict.state] for verdict in verdicts] + [2] * unread)
