"""Classes of equipment on which a cause can't happen, each with the reason."""

from __future__ import annotations

from tui.tree.expression import group
from tui.tree.report import Fields, Report, did_you_mean, listed, shown, text_of
from tui.tree.source import Scalar
from tui.tree.typing import Typer

#: The reading whose words are the classes.
EQUIPMENT = "equipment"
NOT_ON = "not on"


def not_on(fields: Fields, typer: Typer, report: Report) -> dict[str, str]:
    """``not on``: class to reason; what is wrong in it is told and left out."""
    below = fields.mapping(NOT_ON)
    if below is None:
        return {}
    classes = typer.name(EQUIPMENT, below.spot).answers
    reasons: dict[str, str] = {}
    for key, node in below.entries:
        reason = text_of(node, f"The class {shown(key.text)}", key, report)
        for start, word in group(key.text, classes):
            if word in reasons:
                report.add(key.at(start), "duplicate-word", f"{shown(word)} stands twice.", "Take one out.")
            elif _is_class(key, start, word, classes, report) and reason is not None:
                reasons[word] = reason.text
    return reasons


def _is_class(key: Scalar, start: int, word: str, classes: tuple[str, ...], report: Report) -> bool:
    if word in classes or not classes:
        return word in classes
    report.add(
        key.at(start),
        "not-an-answer",
        f"{shown(word)} is none of the answers of {shown(EQUIPMENT)}.",
        did_you_mean(word, classes, f"They are: {listed(classes)}."),
    )
    return False
