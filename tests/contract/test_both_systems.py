"""A figure in a text of the bundled trees stands in both systems, so that a metric reader is shown no psi."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from tests.bundled import library
from tui.quantity import lone_figures
from tui.tree.check.names import every_step
from tui.tree.model import Text

# What a law of one country says in its own unit, and what hoses are called everywhere.
AS_IT_IS = {"5 lb"}


def texts() -> Iterator[tuple[str, str]]:
    """(where, text) of all that a person is shown."""
    for tree in library().trees.values():
        for step in every_step(tree.steps):
            for part in fields(step):
                value = getattr(step, part.name)
                if isinstance(value, Text):
                    yield f"{tree.name}/{step.name} {part.name}", "".join(p for p in value.parts if isinstance(p, str))
    catalogue = library().catalogue
    for kind in ("readings", "cautions", "causes", "instruments", "doubts", "left_on"):
        for name, entry in getattr(catalogue, kind).items():
            assert is_dataclass(entry)
            for word in ("ask", "how", "say", "customer", "check", "tell", "too_much"):
                value = getattr(entry, word, None)
                if isinstance(value, str):
                    yield f"{kind}/{name} {word}", value


def test_a_figure_in_a_text_stands_in_both_systems() -> None:
    alone = [f"{where}: {found}" for where, text in texts() for found in lone_figures(text) if found not in AS_IT_IS]
    assert not alone, "\n".join(alone)
