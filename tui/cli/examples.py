"""Walk the trees' examples, and name the rows that none of them reaches.

PATH is a file of examples, a folder of them, or a folder of trees with `examples` in it. Without PATH: those
that come with lowside, and your own. With --swap every row is sent elsewhere in turn; a swap that no example
notices is a row that nobody holds.
Exit code: 0 well, 1 an example ended otherwise (with --swap also: a swap went unnoticed), 2 could not look.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.proof.cover import Uncovered
    from tui.proof.examples import Found, Outcome
    from tui.proof.swap import Swap


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("path", nargs="*", metavar="PATH", help="examples, or trees with examples")
    parser.add_argument("--swap", action="store_true", help="send every row elsewhere in turn")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: argparse.Namespace) -> int:
    """Walk them, print what differs and what is not reached."""
    from tui.cli.libraries import folders_for_examples, load
    from tui.proof.cover import uncovered
    from tui.proof.examples import run_examples
    from tui.proof.reading import example_files, read_examples
    from tui.proof.swap import unnoticed

    folders = folders_for_examples(options.path)
    library = load(folders)
    paths = [Path(path) for path in options.path] or folders
    outcomes = run_examples(library, read_examples(library, example_files(paths)))
    missing = uncovered(library, outcomes)
    swaps = list(unnoticed(library, outcomes)) if options.swap else None
    if options.json:
        _print_json(outcomes, missing, swaps)
    else:
        _print_text(outcomes, missing, swaps)
    return 0 if all(outcome.ok for outcome in outcomes) and not swaps else 1


def _print_text(
    outcomes: Sequence[Outcome], missing: Sequence[Uncovered], swaps: Sequence[Swap] | None
) -> None:
    for outcome in outcomes:
        if not outcome.ok:
            print("\n".join(_difference(outcome)))
    for gap in missing:
        where = f"{gap.spot.path}:{gap.spot.line}:{gap.spot.column}"
        row = f": {gap.row}" if gap.row else ""
        near = f" (start from {gap.example})" if gap.example else ""
        print(f"{where}: no example reaches {gap.tree}/{gap.step}{row}{near}")
    for swap in swaps or ():
        spot, fork = swap.fork.spot, swap.fork
        where = f"{spot.path}:{spot.line}:{spot.column}"
        print(f"{where}: {fork.tree}/{fork.step}: {fork.row}: sent to {swap.instead}, nobody notices")
    well = sum(outcome.ok for outcome in outcomes)
    told = (
        f"{well} of {len(outcomes)} examples end as they should; {len(missing)} rows or findings not reached"
    )
    print(told + ("." if swaps is None else f"; {len(swaps)} unnoticed swaps."))


def _difference(outcome: Outcome) -> list[str]:
    spot = outcome.example.spot
    lines = [f"{spot.path}:{spot.line}:{spot.column}: {outcome.example.name} ends otherwise:"]
    lines += [f"  expected {_say(found)}" for found in outcome.example.expected]
    lines += [f"  got      {_say(found)}" for found in outcome.got]
    return lines + ([f"  refused  {outcome.refused}"] if outcome.refused else [])


def _say(found: Found) -> str:
    could_be = f", could be {', '.join(found.could_be)}" if found.could_be else ""
    return f"{found.circuit}: {found.cause} at {found.at}{could_be}"


def _print_json(
    outcomes: Sequence[Outcome], missing: Sequence[Uncovered], swaps: Sequence[Swap] | None
) -> None:
    from tui.cli.output import print_json

    shape: dict[str, object] = {
        "examples": [
            {
                "file": outcome.example.spot.path,
                "name": outcome.example.name,
                "expected": [_shape(found) for found in outcome.example.expected],
                "got": [_shape(found) for found in outcome.got],
                "ok": outcome.ok,
                "steps": outcome.steps,
            }
            for outcome in outcomes
        ],
        "uncovered": [
            {"tree": gap.tree, "step": gap.step, "row": gap.row, "example": gap.example} for gap in missing
        ],
    }
    if swaps is not None:
        shape["swaps"] = [
            {
                "tree": s.fork.tree,
                "step": s.fork.step,
                "row": s.fork.row,
                "to": s.fork.to,
                "instead": s.instead,
            }
            for s in swaps
        ]
    print_json(shape)


def _shape(found: Found) -> dict[str, object]:
    return {
        "circuit": found.circuit,
        "cause": found.cause,
        "at": found.at,
        "could_be": list(found.could_be),
    }
