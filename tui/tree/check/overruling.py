"""Warning: a verdict that protects somebody, and that a technician may overrule.

At a close call of a decide with ``must be settled`` a person may put a verdict of his own in the place of the
measured one (`Walk.overrule`). From then on it counts as measured, here and wherever it is used again. So what a
verdict states to work that demands it is then stated by opinion, and so is that a rating of the plate is kept to.
Answers, cautions, earlier work and comparisons in ``first of`` can't be overruled: they hold whatever is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tui.tree.check.layout import CATALOGUE
from tui.tree.check.names import Names, every_step, in_expression, in_result, in_test
from tui.tree.model import Decide, Judge, Tree, WorkOut
from tui.tree.spot import Problem


def overrulable(trees: Mapping[str, Tree], names: Names) -> Iterator[Problem]:
    """One warning for each decide by verdicts that protect, unless it says ``overrule: no``."""
    protects = _protecting(trees, names)
    for tree in trees.values():
        for step in every_step(tree.steps):
            if isinstance(step, Decide) and step.table is not None and step.must_be_settled and step.overrule:
                hangs: dict[str, list[str]] = {}
                for column in step.table.columns:
                    if (what := protects.get(names.find(tree.name, column))) is not None:
                        hangs.setdefault(what, []).append(f"`{column}`")
                if hangs:
                    yield _warned(step, hangs)


def _warned(step: Decide, hangs: Mapping[str, list[str]]) -> Problem:
    why = ", ".join(f"{what} hangs on {' and '.join(columns)}" for what, columns in hangs.items())
    said = f"At a close call a technician may overrule `{step.name}`, and {why}."
    return Problem(step.spot, "overrule-safety", said, "Add `overrule: no` to it.", severity="warning")


def _protecting(trees: Mapping[str, Tree], names: Names) -> dict[int | None, str]:
    """Verdicts that protect, by bit, with what of."""
    judged, found = 0, dict[int | None, str]()
    rated = _worked_out_of_ratings(trees, names)
    for tree in trees.values():
        for step in every_step(tree.steps):
            if isinstance(step, Judge):
                bit = names.bit[names.key(tree.name, step.result)]
                judged |= 1 << bit
                if rated & _upper_limit(step, tree.name, names):
                    found[bit] = "a rating of the plate"
    return found | {bit: said for bit, said in _demanded(names).items() if judged >> bit & 1}


def _demanded(names: Names) -> dict[int, str]:
    """All that the catalogue's cautions and work hang on."""
    found = {}
    for caution in names.catalogue.cautions.values():
        for bit, _ in names.spread(CATALOGUE, in_test(caution.when)):
            found[bit] = f"the caution `{caution.id}`"
    for work in names.catalogue.works.values():
        for test in work.only_if:
            for bit, _ in names.spread(CATALOGUE, in_test(test)):
                found[bit] = f"the work `{work.id}`"
    return found


def _upper_limit(step: Judge, tree: str, names: Names) -> int:
    """What the most that is allowed comes from; or, where what is left under it is judged, that."""
    parts = [step.target, step.on_to, step.compare if step.on_from is not None else None]
    return names.mask(tree, (use for part in parts for use in in_expression(part)))


def _worked_out_of_ratings(trees: Mapping[str, Tree], names: Names) -> int:
    """Readings that are ratings of the plate, with what is worked out of them."""
    mask = sum(1 << names.bit[one.id] for one in names.catalogue.readings.values() if one.rating)
    steps = [
        (1 << names.bit[names.key(tree.name, step.result)], names.mask(tree.name, in_result(step)))
        for tree in trees.values()
        for step in every_step(tree.steps)
        if isinstance(step, WorkOut)
    ]
    grown = -1
    while grown != mask:
        grown = mask
        for result, needs in steps:
            mask |= result if needs & mask else 0
    return mask
