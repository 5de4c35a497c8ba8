"""Ids of the language as a person reads them."""

from __future__ import annotations

import re

from tui.walk.kinds import spoken

OTHERWISE = "otherwise"
_ID = re.compile(r"(?<![\w-])[a-z][a-z0-9]*(?:-[a-z0-9]+)+(?![\w-])")


_RUNS = re.compile(r" runs is (?!not known)")
_YES = re.compile(r" is (not )?(yes|no)\b")


def plain(text: str) -> str:
    """A test as a person says it: ``compressor stops and starts``, not *runs is stops and starts*; ``receiver no``."""
    return _RUNS.sub(" ", _YES.sub(r" \1\2", text))


def said(text: str) -> str:
    """A text of the language with its ids spoken: ``head-level is low`` without the hyphen."""
    return _ID.sub(lambda match: spoken(match.group()), text)
