"""Walk the trees' examples, and name the rows that none of them reaches.

PATH is a file of examples, a folder of them, or a folder of trees with `examples` in it. Without PATH: those
that come with lowside, and your own. With --swap every row (with PATH: of its trees) is sent elsewhere in turn; a
swap that no example notices is a row that nobody holds.

With --table nothing is walked: how many hand-written examples end in which cause, by class of equipment, as they say.

With --write an example is made for what none reaches, out of one that comes near; --from SESSION makes one out of
a recorded visit. Both are marked unreviewed until somebody writes in `why` where the figures come from.

Exit code: 0 well, 1 an example ended otherwise (with --swap also: a swap went unnoticed), 2 could not look.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.cli.libraries import ForExamples
    from tui.proof.cover import Uncovered
    from tui.proof.examples import Found, Outcome
    from tui.proof.swap import Swap
    from tui.tree.library import Library
    from tui.tree.spot import Spot


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("path", nargs="*", metavar="PATH", help="examples, or trees with examples")
    parser.add_argument("--swap", action="store_true", help="send every row elsewhere in turn")
    parser.add_argument("--table", action="store_true", help="causes by classes of equipment, counted")
    parser.add_argument("--write", action="store_true", help="add a ready-made example for what none reaches")
    parser.add_argument("--from", dest="session", metavar="SESSION", help="make one out of this session file")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: argparse.Namespace) -> int:
    """Walk them, print what differs and what is not reached."""
    from tui.cli.libraries import for_examples, load
    from tui.proof.cover import uncovered
    from tui.proof.examples import run_examples
    from tui.proof.reading import example_files, read_examples
    from tui.proof.swap import UNNOTICED, swaps

    where = for_examples(options.path)
    library = load(where.folders)
    _tell_unread(library, where)
    if options.session:
        return _from_session(options, library, where.paths)
    examples = read_examples(library, example_files(where.paths, may_lack=options.write))
    if options.table:
        from tui.cli.counted import print_table

        print_table(library, examples, as_json=options.json)
        return 0
    outcomes = run_examples(library, examples)
    missing = [gap for gap in uncovered(library, outcomes) if _told_of(where, gap.spot)]
    if options.write:
        from tui.cli.made import fill_gaps

        failed = [outcome for outcome in outcomes if not outcome.ok]
        for outcome in failed:
            print("\n".join(_difference(outcome)))
        return 1 if fill_gaps(library, outcomes, missing) or failed else 0
    swapped = list(swaps(library, outcomes, lambda tree: _told_of(where, tree.spot))) if options.swap else []
    unnoticed = [swap for swap in swapped if swap.came_to == UNNOTICED]
    if options.json:
        _print_json(outcomes, missing, unnoticed if options.swap else None)
    else:
        _print_text(outcomes, missing, swapped)
    return 0 if all(outcome.ok for outcome in outcomes) and not unnoticed else 1


def _tell_unread(library: Library, where: ForExamples) -> None:
    """Files that somebody may take for examples, and that are not read for their name."""
    from tui.cli.output import say
    from tui.cli.problems import problem_line

    for problem in library.problems:
        if problem.code == "not-a-file" and any(Path(problem.spot.path).is_relative_to(told) for told in where.told):
            say(problem_line(problem), sys.stderr)


def _told_of(where: ForExamples, spot: Spot) -> bool:
    """Of trees laid over those of lowside only they are told, not those they lie over."""
    return Path(spot.path).parent in where.told


def _from_session(options: argparse.Namespace, library: Library, paths: Sequence[Path]) -> int:
    """Prints it, or adds it to the examples with --write."""
    from tui.cli.made import FILE, add, from_session
    from tui.proof.reading import example_files, read_examples
    from tui.proof.written import example_text

    names = [example.name for example in read_examples(library, example_files(paths, may_lack=True))]
    example, notice = from_session(library, Path(options.session), names)
    if options.write:
        last = paths[-1]
        file = last if last.suffix == ".yaml" else (last if last.name == "examples" else last / "examples") / FILE
        add(file, example)
        print(f"{example.name} written to {file}.")
    else:
        print(example_text(example.name, example.answers, example.expected), end="")
    if notice:
        print(notice, file=sys.stderr)
    return 0


def _print_text(outcomes: Sequence[Outcome], missing: Sequence[Uncovered], swapped: Sequence[Swap]) -> None:
    from tui.cli.output import say

    for outcome in outcomes:
        if not outcome.ok:
            say("\n".join(_difference(outcome)))
    for gap in missing:
        row = f": {gap.row}" if gap.row else ""
        near = f" (start from {gap.example})" if gap.example else ""
        say(f"{_where(gap.spot)}: no example reaches {gap.tree}/{gap.step}{row}{near}")
    for swap in swapped:
        if swap.came_to == "unnoticed":
            fork = swap.fork
            sent = f"{fork.tree}/{fork.step}: {fork.row}: sent to {swap.instead}, no example notices"
            say(f"{_where(fork.spot)}: {sent}")
    for outcome in outcomes:
        if outcome.example.unreviewed:
            say(f"{_where(outcome.example.spot)}: {outcome.example.name} is unreviewed: nobody has written its why")
    well = sum(outcome.ok for outcome in outcomes)
    print(f"{well} of {len(outcomes)} examples end as they should; {len(missing)} rows or steps not reached.")
    if swapped:
        print("\n".join(_swap_table(swapped)))


def _swap_table(swapped: Sequence[Swap]) -> list[str]:
    """Tree by tree: how many swaps, and who noticed them."""
    heads = ("tree", "swaps", "by example", "by check alone", "unnoticed")
    trees = list(dict.fromkeys(swap.fork.tree for swap in swapped))
    rows = [(tree, Counter(swap.came_to for swap in swapped if swap.fork.tree == tree)) for tree in trees]
    rows.append(("all", Counter(swap.came_to for swap in swapped)))
    words = ("noticed", "refused", "unnoticed")
    cells = [(name, str(counts.total()), *(str(counts[word]) for word in words)) for name, counts in rows]
    wide = [max(len(row[n]) for row in (heads, *cells)) for n in range(len(heads))]
    lines = [""]
    for row in (heads, *cells):
        numbers = [cell.rjust(w) for cell, w in zip(row[1:], wide[1:], strict=True)]
        lines.append("  ".join([row[0].ljust(wide[0]), *numbers]))
    return lines


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
