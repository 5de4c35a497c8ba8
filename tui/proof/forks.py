"""Every place where a tree parts: rows, lines, ends of rounds, outcomes; and sending one elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from tui.tree.check.names import every_step
from tui.tree.model import Decide, Go, Line, Repeat, Row, Step, Table, Tree, Wait
from tui.tree.spot import Spot
from tui.walk.machine import ALL_DONE, CUT_SHORT, RAN_OUT


@dataclass(frozen=True, slots=True)
class Fork:
    """One way out of a step: `row` as written, `to` where it leads.

    others: where its siblings lead; of an only child, the steps below that can be jumped to.
    """

    tree: str
    step: str
    row: str
    to: str
    others: tuple[str, ...]
    spot: Spot

    @property
    def way(self) -> tuple[str, str, str]:
        """Tree, step, row: what a recorded route names."""
        return self.tree, self.step, self.row


def forks(tree: Tree) -> Iterator[Fork]:
    """All forks of a tree, down the page."""
    for step, below in _with_below(tree.steps):
        ways = list(_ways(step))
        targets = list(dict.fromkeys(to for _, to, _ in ways))
        if len(targets) == 1:
            targets += [each.name for each in below if each.labelled]
        for row, to, spot in ways:
            here = _meant(to, below)
            others = tuple(dict.fromkeys(target for target in targets if _meant(target, below) != here))
            yield Fork(tree.name, step.name, row, to, others, spot)


def _meant(to: str, below: tuple[Step, ...]) -> str:
    """`carry on` and the name of the next step are one place."""
    return below[0].name if to == "carry on" and below else to


def _with_below(steps: tuple[Step, ...]) -> Iterator[tuple[Step, tuple[Step, ...]]]:
    """Each step with those below it in its own list."""
    for place, step in enumerate(steps, 1):
        yield step, steps[place:]
        if isinstance(step, Repeat):
            yield from _with_below(step.steps)


def _ways(step: Step) -> Iterator[tuple[str, str, Spot]]:
    if isinstance(step, Decide):
        parts: tuple[Row | Line, ...] = step.table.rows if step.table else step.lines
        for part in parts:
            yield part.source, part.to, part.spot
    elif isinstance(step, Repeat):
        for line in step.stops:
            yield line.source, line.to, line.spot
        yield ALL_DONE if step.places else RAN_OUT, step.out, step.spot
    elif isinstance(step, Go):
        for outcome, to in step.comes_back.items():
            yield outcome, to, step.spot
    elif isinstance(step, Wait) and step.cut_short:
        yield CUT_SHORT, step.cut_short, step.spot


def retargeted(tree: Tree, fork: Fork, to: str) -> Tree:
    """The same tree with one fork leading elsewhere."""
    steps = _with_changed(tree.steps, fork, to)
    named = {step.name: step for step in every_step(steps)}
    return replace(tree, steps=steps, named={name: named[name] for name in tree.named})


def _with_changed(steps: tuple[Step, ...], fork: Fork, to: str) -> tuple[Step, ...]:
    changed = []
    for step in steps:
        if step.name == fork.step:
            step = _changed(step, fork, to)
        elif isinstance(step, Repeat):
            step = replace(step, steps=_with_changed(step.steps, fork, to))
        changed.append(step)
    return tuple(changed)


def _changed(step: Step, fork: Fork, to: str) -> Step:
    if isinstance(step, Decide) and step.table:
        rows = tuple(replace(row, to=to) if row.source == fork.row else row for row in step.table.rows)
        return replace(step, table=Table(step.table.columns, step.table.domains, rows))
    if isinstance(step, Decide):
        return replace(step, lines=_lines(step.lines, fork.row, to))
    if isinstance(step, Repeat) and fork.row in (ALL_DONE, RAN_OUT):
        return replace(step, out=to)
    if isinstance(step, Repeat):
        return replace(step, stops=_lines(step.stops, fork.row, to))
    if isinstance(step, Wait):
        return replace(step, cut_short=to)
    assert isinstance(step, Go), f"{fork.step} has no forks"
    return replace(step, comes_back={**step.comes_back, fork.row: to})


def _lines(lines: tuple[Line, ...], source: str, to: str) -> tuple[Line, ...]:
    return tuple(replace(line, to=to) if line.source == source else line for line in lines)
