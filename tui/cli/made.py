"""Examples that the program writes: for what none reaches, or out of a recorded session. A person reviews them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.proof.cover import Uncovered
    from tui.proof.examples import Example, Found, Outcome
    from tui.tree.library import Library

FILE = "unreviewed.yaml"
HEAD = "# Made by lowside examples. Look at each; then write in its `why` where the figures come from.\n"


def fill_gaps(library: Library, outcomes: Sequence[Outcome], gaps: Sequence[Uncovered]) -> int:
    """Writes an example for every gap that one is found for; how many gaps are left."""
    from tui.proof.made import Maker

    maker = Maker(library, outcomes)
    left = 0
    made: list[Outcome] = []
    for gap in gaps:
        name = f"{gap.tree}/{gap.step}{': ' + gap.row if gap.row else ''}"
        if any(_closes(outcome, gap) for outcome in made):
            continue  # one of those just made comes by it too
        example = maker.make(gap)
        if example is None:
            left += 1
            near = f"start from {gap.example}" if gap.example else "none comes near"
            print(f"{name}: no example was found ({near})")
            continue
        made.append(maker.keep(example))
        file = Path(gap.spot.path).parent / "examples" / FILE
        add(file, example)
        print(f"{name}: {example.name} written to {file}")
    return left


def _closes(outcome: Outcome, gap: Uncovered) -> bool:
    return (gap.tree, gap.step, gap.row) in outcome.ways if gap.row else (gap.tree, gap.step) in outcome.reached


def add(file: Path, example: Example) -> None:
    """At the end of the file; a new one says what it is."""
    from tui.proof.written import example_text

    file.parent.mkdir(parents=True, exist_ok=True)
    before = file.read_text(encoding="utf-8") if file.exists() else HEAD
    end = "" if before.endswith("\n") else "\n"
    file.write_text(f"{before}{end}{example_text(example.name, example.answers, example.expected)}", encoding="utf-8")


def from_session(library: Library, session: Path, names: Sequence[str]) -> tuple[Example, str]:
    """The example of a session, as it ends with these trees; and what a person should be told. Raises Refused."""
    from tui.proof.examples import UNREVIEWED, Example, run_example
    from tui.proof.recorded import recorded
    from tui.record import read

    answers, then = recorded(read(session))
    if answers.tree not in library.trees:
        cure = "Name the folder that has it."
        raise Refused("no-such-tree", f"{session}: it began in {answers.tree}, and there is no such tree.", cure)
    outcome = run_example(library, Example("", answers.spot, UNREVIEWED, answers, then))
    if outcome.refused:
        raise Refused("does-not-walk", f"{session}: its answers come to no end with these trees.", outcome.refused)
    base = then[-1].at.replace("/", "-") if then else f"{answers.tree}-left"
    name = next(f"{base}-{n}" for n in range(1, 10_000) if f"{base}-{n}" not in names)
    example = replace(outcome.example, name=name, expected=outcome.got)
    return example, "" if outcome.got == then else _otherwise(then, outcome.got)


def _otherwise(then: Sequence[Found], now: Sequence[Found]) -> str:
    def said(found: Sequence[Found]) -> str:
        return "; ".join(f"{each.cause} at {each.at}" for each in found) or "no finding"

    return f"The session ended in {said(then)}. With these trees, answered at once, it ends in {said(now)}."
