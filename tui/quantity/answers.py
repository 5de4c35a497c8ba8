"""Answers in words: yes or no, and one of a list."""

from __future__ import annotations

from collections.abc import Sequence

from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.words import nearest

_YES = frozenset({"yes", "y", "yeah", "yep", "yup", "true"})
_NO = frozenset({"no", "n", "nope", "nah", "false"})


def read_yes_no(text: str) -> str:
    """``yes`` or ``no``. Refused ``not-a-choice``."""
    word = text.casefold().rstrip(".!")
    if word in _YES:
        return "yes"
    if word in _NO:
        return "no"
    raise Refused("not-a-choice", f"{quoted(text)} is neither yes nor no.", "Type yes or no.")


def read_choice(text: str, choices: Sequence[str], *, guess: bool) -> str:
    """The one of `choices` that was typed; case, blanks and hyphens don't count.

    guess: a beginning of at least two letters that only one choice has is taken too (on a screen, where
    the echo shows it). Refused ``not-a-choice`` with the nearest one, ``ambiguous`` for two beginnings.
    """
    if text in choices:
        return text
    sought = _bones(text)
    same = [choice for choice in choices if _bones(choice) == sought]
    if len(same) == 1:
        return same[0]
    if guess and len(sought) >= 2:
        begun = [choice for choice in choices if _bones(choice).startswith(sought)]
        if len(begun) == 1:
            return begun[0]
        if begun:
            raise Refused("ambiguous", f"{quoted(text)} can be {' or '.join(begun[:6])}.", "Type more of it.")
    close = nearest(text, choices)
    cure = f"Did you mean “{close}”?" if close else f"It is one of: {', '.join(choices)}."
    raise Refused("not-a-choice", f"{quoted(text)} is none of the answers.", cure)


def _bones(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter not in " -_.,'\"")
