"""What a finding says was seen, without what nobody knows."""

from __future__ import annotations

import re

_UNKNOWN = re.compile(r"\bunknown\b")
_IN_BRACKETS = re.compile(r" \([^()]*\bunknown\b[^()]*\)")
_SAYS_SO = re.compile(r"\b(?:missing|too close|not measured|could not|not certain)\b")
_ENDS = re.compile(r"(?<=[.?!]) ")
_JOINED_BY = re.compile(r"^(?:and|or|so|but) ")


def known_clauses(text: str) -> str:
    """``Fan stopped. Door yes.`` of ``Fan stopped. Fins unknown, door yes.``: a clause ends at a comma or a sentence.

    A bracket goes by itself. The first sentence is never lost, and one that says itself that something is missing or
    too close stays as it is.
    """
    if "unknown" not in text:
        return text
    first, *others = _ENDS.split(_IN_BRACKETS.sub("", text))
    return " ".join(filter(None, (_known(first) or first, *map(_known, others))))


def _known(sentence: str) -> str:
    if not _UNKNOWN.search(sentence) or _SAYS_SO.search(sentence):
        return sentence
    end = sentence[-1:] if sentence[-1:] in ".?!" else ""
    said = [clause for clause in sentence.removesuffix(end).split(", ") if not _UNKNOWN.search(clause)]
    if not said:
        return ""
    first = _JOINED_BY.sub("", said[0])
    return ", ".join([first[:1].upper() + first[1:], *said[1:]]) + end
