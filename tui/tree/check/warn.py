"""Warnings: what does not stop a library, and a lead should look at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tui.quantity import Kind
from tui.tree.check.finer import bands
from tui.tree.check.names import Use, every_step, in_test, step_uses
from tui.tree.model import (
    Ask,
    Catalogue,
    Do,
    Figure,
    FindingStep,
    Judge,
    Reading,
    Repeat,
    Step,
    Text,
    Tree,
    Wait,
    WorkOut,
)
from tui.tree.spot import Problem

WIDTH = 76  # an 80 by 24 screen, less its frame
QUESTION_LINES = 3
PROMPT_LINES = 12


def warnings(trees: Mapping[str, Tree], catalogue: Catalogue) -> Iterator[Problem]:
    """Everything that is worth a look and does not stop."""
    for tree in trees.values():
        for step in every_step(tree.steps):
            yield from _too_long(step)
            if isinstance(step, FindingStep) and not step.next.source.strip():
                said = f"`{step.name}` says nothing under `next:`."
                yield _warning(step, "no-next", said, "Say what to do now.")
    yield from _never_used(trees, catalogue)
    yield from _without_source(catalogue)
    yield from _turned_round(catalogue)
    yield from bands(trees, catalogue)


def _warning(step: Step | Figure | Reading, code: str, message: str, cure: str) -> Problem:
    return Problem(step.spot, code, message, cure, severity="warning")


# ---- texts


def _too_long(step: Step) -> Iterator[Problem]:
    main = _main_text(step)
    if main is not None and lines_of(main) > QUESTION_LINES:
        yield _long(step, main, QUESTION_LINES)
        return
    texts = [text for text in (main, *_other_texts(step)) if text is not None]
    if sum(lines_of(text) for text in texts) > PROMPT_LINES:
        said = f"All that `{step.name}` says takes more than {PROMPT_LINES} lines of an 80 by 24 screen."
        yield _warning(step, "too-long", said, "Shorten it, or make two steps of it.")


def _long(step: Step, text: Text, most: int) -> Problem:
    said = f"This takes {lines_of(text)} lines of an 80 by 24 screen; it should not be more than {most}."
    cure = "Shorten it; what explains belongs under `why:`."
    return Problem(text.spot, "too-long", said, cure, severity="warning")


def _main_text(step: Step) -> Text | None:
    if isinstance(step, Ask):
        return step.question
    if isinstance(step, Do):
        return step.tell
    if isinstance(step, Wait):
        return step.because
    return step.seen if isinstance(step, FindingStep) else None


def _other_texts(step: Step) -> Iterator[Text | None]:
    yield step.why
    yield step.how
    if isinstance(step, FindingStep):
        yield step.next
        yield step.told_apart


def lines_of(text: Text) -> int:
    """Lines it takes at 76 columns, a filled-in part counted as eight characters."""
    lines, column = 1, 0
    filled = "".join(part if isinstance(part, str) else "0" * 8 for part in text.parts)
    if len(filled) <= WIDTH:
        return lines
    for word in filled.split():
        if column and column + 1 + len(word) > WIDTH:
            lines, column = lines + 1, 0
        column += len(word) + (1 if column else 0)
    return lines


# ---- readings and figures


def _never_used(trees: Mapping[str, Tree], catalogue: Catalogue) -> Iterator[Problem]:
    within = {name: {use.name for use in _tree_uses(tree, catalogue)} for name, tree in trees.items()}
    used = {use.name for use in _catalogue_uses(catalogue)}.union(*within.values())
    seen: set[str] = set()
    for tree in trees.values():
        yield from _results_never_used(tree, catalogue, within[tree.name])
        for step in every_step(tree.steps):
            for name in step.readings if isinstance(step, Ask) else ():
                reading = catalogue.readings.get(name)
                if reading is None or name in used or name in seen or _for_the_record(reading):
                    continue
                seen.add(name)
                said = f"`{name}` is asked, and nothing is made of it."
                cure = "Use it in a decide, a sum or a finding, or don't ask it."
                yield _warning(step, "never-used", said, cure)


def _results_never_used(tree: Tree, catalogue: Catalogue, used: set[str]) -> Iterator[Problem]:
    """Results of a tree's own; those that the catalogue knows are shown, too."""
    for step in every_step(tree.steps):
        if isinstance(step, WorkOut | Judge) and step.result not in catalogue.readings and step.result not in used:
            said = f"`{step.result}` is {'worked out' if isinstance(step, WorkOut) else 'judged'}, and nothing uses it."
            yield _warning(step, "never-used", said, "Use it in a decide, a sum or a finding, or take it out.")


def _for_the_record(reading: Reading) -> bool:
    """Free text and what is remembered for the next visit is asked to be written down."""
    return reading.kind is Kind.TEXT or reading.remembered


def _tree_uses(tree: Tree, catalogue: Catalogue) -> Iterator[Use]:
    for step in every_step(tree.steps):
        yield from step_uses(step, catalogue)
        for line in step.stops if isinstance(step, Repeat) else ():
            yield from in_test(line.test)


def _catalogue_uses(catalogue: Catalogue) -> Iterator[Use]:
    for figure in catalogue.figures.values():
        for column in figure.table.columns if figure.table is not None else ():
            yield Use(column, figure.spot)
    for work in catalogue.works.values():
        for name in work.needs:
            yield Use(name, work.spot)
        for test in work.only_if:
            yield from in_test(test)
    for caution in catalogue.cautions.values():
        yield from in_test(caution.when)


def _without_source(catalogue: Catalogue) -> Iterator[Problem]:
    for figure in catalogue.figures.values():
        if not figure.source.strip():
            said = f"The figure `{figure.id}` does not say where it is from."
            cure = "Add `from:` with the source, or `from: common practice`."
            yield _warning(figure, "no-source", said, cure)


# ---- answers

FOUND, NOT_FOUND = ("yes", "hit", "growing", "it shows"), ("no", "clear", "none", "nothing")


def _turned_round(catalogue: Catalogue) -> Iterator[Problem]:
    """A digit means one thing: who has typed 1 for yes types 1 for a hit."""
    for reading in catalogue.readings.values():
        found = [reading.answers.index(word) for word in FOUND if word in reading.answers]
        before = reading.answers[: max(found)] if found else ()
        if any(word in before for word in NOT_FOUND):
            said = f"`{reading.id}` offers what was not found before what was; elsewhere the first digit is a find."
            yield _warning(reading, "turned-round", said, "Put yes, hit or growing first.")
