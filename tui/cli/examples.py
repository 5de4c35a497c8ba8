"""Walk the trees' examples, and name the rows that none of them reaches.

PATH is a file of examples, a folder of them, or a folder of trees with `examples` in it. Without PATH: those
that come with lowside, and your own. With --swap every row is sent elsewhere in turn; a swap that no example
notices is a row that nobody holds.

Exit code: 0 well, 1 an example ended otherwise (with --swap also: a swap went unnoticed), 2 could not look.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.proof.cover import Uncovered
    from tui.proof.examples import Found, Outcome
    from tui.proof.swap import Swap
    from tui.tree.spot import Spot


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
    from tui.proof.swap import UNNOTICED, swaps

    folders = folders_for_examples(options.path)
    library = load(folders)
    paths = [Path(path) for path in options.path] or folders
    outcomes = run_examples(library, read_examples(library, example_files(paths)))
    missing = uncovered(library, outcomes)
    swapped = list(swaps(library, outcomes)) if options.swap else []
    unnoticed = [swap for swap in swapped if swap.came_to == UNNOTICED]
    if options.json:
        _print_json(outcomes, missing, unnoticed if options.swap else None)
    else:
        _print_text(outcomes, missing, swapped)
    return 0 if all(outcome.ok for outcome in outcomes) and not unnoticed else 1


def _print_text(outcomes: Sequence[Outcome], missing: Sequence[Uncovered], swapped: Sequence[Swap]) -> None:
    for outcome in outcomes:
        if not outcome.ok:
            print("\n".join(_difference(outcome)))
    for gap in missing:
        row = f": {gap.row}" if gap.row else ""
        near = f" (start from {gap.example})" if gap.example else ""
        print(f"{_where(gap.spot)}: no example reaches {gap.tree}/{gap.step}{row}{near}")
    for swap in swapped:
        if swap.came_to == "unnoticed":
            fork = swap.fork
            say = f"{fork.tree}/{fork.step}: {fork.row}: sent to {swap.instead}, no example notices"
            print(f"{_where(fork.spot)}: {say}")
    well = sum(outcome.ok for outcome in outcomes)
    print(f"{well} of {len(outcomes)} examples end as they should; {len(missing)} rows or findings not reached.")
    if swapped:
        counts = Counter(swap.came_to for swap in swapped)
        told = f"{counts['noticed']} noticed by an example, {counts['refused']} by check alone"
        print(f"{len(swapped)} swaps: {told}, {counts['unnoticed']} unnoticed.")


def _where(spot: Spot) -> str:
    return f"{spot.path}:{spot.line}:{spot.column}"


def _difference(outcome: Outcome) -> list[str]:
    lines = [f"{_where(outcome.example.spot)}: {outcome.example.name} ends otherwise:"]
    lines += [f"  expected {_say(found)}" for found in outcome.example.expected]
    lines += [f"  got      {_say(found)}" for found in outcome.got]
    return lines + ([f"  refused  {outcome.refused}"] if outcome.refused else [])


def _say(found: Found) -> str:
    could_be = f", could be {', '.join(found.could_be)}" if found.could_be else ""
    return f"{found.circuit}: {found.cause} at {found.at}{could_be}"


def _print_json(outcomes: Sequence[Outcome], missing: Sequence[Uncovered], unnoticed: Sequence[Swap] | None) -> None:
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
        "uncovered": [{"tree": gap.tree, "step": gap.step, "row": gap.row, "example": gap.example} for gap in missing],
    }
    if unnoticed is not None:
        shape["unnoticed"] = [
            {
                "tree": s.fork.tree,
                "step": s.fork.step,
                "row": s.fork.row,
                "to": s.fork.to,
                "instead": s.instead,
            }
            for s in unnoticed
        ]
    print_json(shape)


def _shape(found: Found) -> dict[str, object]:
    return {
        "circuit": found.circuit,
        "cause": found.cause,
        "at": found.at,
        "could_be": list(found.could_be),
    }
