"""The table of causes by classes of equipment, as text of at most 80 columns and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence

from tui.cli.output import print_json
from tui.proof.examples import Example
from tui.proof.table import SEVERAL_CIRCUITS, Cell, Count, Table, heads, table
from tui.tree.library import Library

_WIDE = 80
_CELL = 4
_LEGEND = f"""\
Numbers are hand-written examples; * none of them begins with the call.
A visit with more than one circuit is counted under {SEVERAL_CIRCUITS} alone.
.  none yet    x  cannot be: the reason stands at the cause in the catalogue"""
Part = Callable[[Cell], Count]
_PARTS: tuple[tuple[str, Part], ...] = (
    ("Ends in this cause alone", lambda cell: cell.alone),
    ("Ends in several causes of which this is one, and nowhere in it alone", lambda cell: cell.several),
    ("Unreviewed: made by the program, looked at by nobody, counted only here", lambda cell: cell.unreviewed),
)


def print_table(library: Library, examples: Sequence[Example], *, as_json: bool) -> None:
    """Counts the examples and prints what they come to."""
    made = table(library, examples)
    if as_json:
        print_json(_shape(made))
    else:
        print("\n".join(_lines(made)))


def _lines(made: Table) -> Iterator[str]:
    short = heads(made.classes)
    wide = max(map(len, made.causes)) + 1
    for number, (title, part) in enumerate(_PARTS):
        counted = [cause for cause in made.causes if any(part(made.cell(cause, name)).examples for name in short)]
        if number and not counted:
            continue
        yield from (f"{title}:", " " * wide + " ".join(head.rjust(_CELL - 1) for head in short.values()))
        for cause in made.causes if not number else counted:
            yield (cause.ljust(wide) + "".join(_cell(made, cause, name, part) for name in short)).rstrip()
        yield ""
    names = ", ".join(f"{head} {name}" for name, head in short.items())
    yield from textwrap.wrap(f"{names}.", _WIDE, break_long_words=False, break_on_hyphens=False)
    yield _LEGEND


def _cell(made: Table, cause: str, class_: str, part: Part) -> str:
    count = part(made.cell(cause, class_))
    if not count.examples:
        return ("x" if (cause, class_) in made.cannot else ".").rjust(_CELL - 1) + " "
    return f"{count.examples:>{_CELL - 1}}" + (" " if count.from_call else "*")


def _shape(made: Table) -> dict[str, object]:
    cells = [
        {
            "cause": cause,
            "class": class_,
            "alone": _count(cell.alone),
            "several": _count(cell.several),
            "unreviewed": _count(cell.unreviewed),
            "cannot": made.cannot.get((cause, class_)),
        }
        for cause in made.causes
        for class_ in made.classes
        for cell in [made.cell(cause, class_)]
    ]
    return {"causes": list(made.causes), "classes": list(made.classes), "cells": cells}


def _count(count: Count) -> dict[str, int]:
    return {"examples": count.examples, "from_call": count.from_call}
