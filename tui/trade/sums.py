"""What the tree language may call: a sum with its kinds, its words and its source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tui.quantity import Kind, Value


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum.

    `arguments` and `result` are kinds (CHOICE for a refrigerant or another word); `answers` lists
    the words of a CHOICE result. `say` is one line for a screen, `source` where the formula or the
    rule comes from. `call` takes (site, properties, *values) and raises Refused when it can't; `doubt`, where there is
    one, takes the same and gives the other words that the instruments leave possible.
    """

    name: str
    arguments: tuple[Kind, ...]
    result: Kind
    say: str
    source: str
    call: Callable[..., Value]
    answers: tuple[str, ...] = ()
    doubt: Callable[..., tuple[str, ...]] | None = None
