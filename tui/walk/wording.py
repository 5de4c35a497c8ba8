"""Ids of the language as a person reads them."""

from __future__ import annotations

import re

from tui.walk.kinds import spoken

OTHERWISE = "otherwise"
_ID = re.compile(r"(?<![\w-])[a-z][a-z0-9]*(?:-[a-z0-9]+)+(?![\w-])")


def said(text: str) -> str:
    """A text of the language with its ids spoken: ``head-level is low`` without the hyphen."""
    return _ID.sub(lambda match: spoken(match.group()), text)
