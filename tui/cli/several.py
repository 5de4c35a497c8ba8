"""The same to several files: one that can't be read is told of and doesn't keep the others from it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

from tui.quantity.refused import Refused

Result = TypeVar("Result")


def each_file(files: Sequence[str], look: Callable[[str], Result]) -> tuple[list[Result], int]:
    """What `look` gave for each file, and how many refused; those are told of on stderr."""
    from tui.cli.problems import in_words

    results, refused = [], 0
    for file in files:
        try:
            results.append(look(file))
        except (Refused, OSError) as problem:
            refused += 1
            print(in_words(problem), file=sys.stderr)
    return results, refused
