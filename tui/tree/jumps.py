"""Ways between steps: down the page only, never into a repeat, never run into by the way."""

from __future__ import annotations

import itertools
from collections.abc import Collection

from tui.tree.outline import CARRY_ON, GO_ROUND, Outline, Raw
from tui.tree.report import Report, did_you_mean, shown
from tui.tree.source import Scalar

_RUNS_ON = frozenset({"ask", "caution", "do", "wait", "work out", "judge"})


class Jumps:
    """Checks the destinations of one tree as they are read."""

    def __init__(self, outline: Outline, report: Report, trees: Collection[str] = ()) -> None:
        """`trees`: names of the library's trees, which are no steps."""
        self.trees = trees
        self.outline = outline
        self.report = report
        self.targets: dict[str, list[Raw]] = {}

    def to(self, step: Raw, node: Scalar | None) -> str:
        """A destination of `step`; told where it can't be gone to, the text all the same."""
        if node is None or node.broken:
            return ""
        text = node.text
        if text == CARRY_ON:
            return text
        if text == GO_ROUND:
            if len(step.path) < 2:
                self.report.add(
                    node.spot,
                    "no-round",
                    "`go round` stands outside of any repeat.",
                    "Name a step further down, or put this step into a repeat.",
                )
            return text
        target = self.outline.named.get(text)
        if target is None or not target.labelled:
            self._no_such_step(node, target)
        elif self._reach(step, target, node):
            self.targets.setdefault(text, []).append(step)
        return text

    def _no_such_step(self, node: Scalar, target: Raw | None) -> None:
        if target is not None:
            cure = f"Give the step in line {target.fields.head.line} a `name`."
        elif self.outline.broken:
            return  # it may be a step that could not be read
        else:
            cure = self._cure(node.text)
        self.report.add(node.spot, "no-such-step", f"There is no step {shown(node.text)} in this tree.", cure)

    def _cure(self, text: str) -> str:
        names = [name for name, step in self.outline.named.items() if step.labelled]
        if text in self.trees:
            return f"It is a tree: write a step `- go: {text}` further down, and name that."
        if "," in text:
            return "A way leads to one step: name one."
        return did_you_mean(text, [*names, CARRY_ON, GO_ROUND], "Name a step further down, or `carry on`.")

    def _reach(self, step: Raw, target: Raw, node: Scalar) -> bool:
        """Whether the target may be gone to from this step; told where not."""
        depth = len(target.path) - 1
        line = target.fields.head.line
        if step.path[:depth] != target.path[:depth] or len(step.path) <= depth:
            self.report.add(
                node.spot,
                "jumps-into",
                f"{shown(node.text)} (line {line}) stands inside a repeat that this step is not in.",
                "Go to the repeat itself, or to a step below it.",
            )
            return False
        if target.path[depth] <= step.path[depth]:
            where = "is this step itself" if target is step else f"(line {line}) stands further up"
            self.report.add(
                node.spot,
                "jumps-up",
                f"{shown(node.text)} {where}.",
                "Steps run down the page; the one way back is a `repeat`.",
            )
            return False
        return True

    def default(self, decides: list[Raw], node: Scalar) -> bool:
        """Whether a tree's `unsettled` is a step that all these decides can jump down to; told where not."""
        target = self.outline.named.get(node.text)
        if target is None or not target.labelled:
            self._no_such_step(node, target)
            return False
        for raw in decides:
            depth = len(target.path) - 1
            if raw.path[:depth] != target.path[:depth] or len(raw.path) <= depth:
                self._reach(raw, target, node)
                return False
            if target.path[depth] <= raw.path[depth]:
                where = "is that step itself" if target is raw else f"(line {target.fields.head.line}) stands above it"
                self.report.add(
                    node.spot,
                    "jumps-up",
                    f"{shown(raw.name)} (line {raw.fields.head.line}) has no `unsettled` of its own, and "
                    f"{shown(node.text)} {where}.",
                    "Give that decide its own `unsettled`, or move the tree's further down.",
                )
                return False
            self.targets.setdefault(node.text, []).append(raw)
        return True

    def run_into(self) -> None:
        """Tell the steps that one falls into though they are jumped to."""
        self._run_into(self.outline.steps)

    def _run_into(self, steps: list[Raw]) -> None:
        for above, step in itertools.pairwise(steps):
            jumping = [other for other in self.targets.get(step.name, ()) if other is not above]
            if jumping and _runs_on(above, step.name):
                spot, line = step.fields.head, jumping[0].fields.head.line
                self.report.add(
                    spot,
                    "runs-into",
                    f"{shown(above.name)} runs into {shown(step.name)}, which line {line} jumps to.",
                    f"Write `then: {step.name}` above if that is meant.",
                )
        for step in steps:
            if step.steps:
                self._run_into(step.steps)


def _runs_on(step: Raw, below: str) -> bool:
    """Does it go on to the step below without saying so? One that says another way runs on where it is skipped."""
    fields = step.fields
    then = fields.text("then")
    if then is not None:
        return "only when" in fields and then.text != below
    if step.form in _RUNS_ON:
        return True
    if step.form == "go":
        return ("comes back" not in fields and "for each" in fields) or "only when" in fields
    return step.form == "repeat" and "only when" in fields
