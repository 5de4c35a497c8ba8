"""Signs for terminals that have no line drawing: each is put by one of ASCII, so that nothing moves."""

from __future__ import annotations

import sys

from textual.content import Content

_ASCII = {
    **dict.fromkeys("│", "|"),
    **dict.fromkeys("─", "-"),
    **dict.fromkeys("┌┐└┘├┤┬┴┼", "+"),
    **dict.fromkeys("▲↑", "^"),
    **dict.fromkeys("▼↓", "v"),
    **dict.fromkeys("●◆■█▓", "#"),
    **dict.fromkeys("○◇□", "o"),
    **dict.fromkeys("▒░", ":"),
    **dict.fromkeys("·", "."),
    "←": "<",
    "→": ">",
    "×": "x",
    "±": "~",
    "°": "'",
    "Δ": "d",
    "✓": "v",
    "–": "-",
    "’": "'",
}
_TABLE = str.maketrans(_ASCII)


def plainly(content: Content) -> Content:
    """The same in ASCII, cell for cell, with its styles."""
    text = content.plain
    return content if text.isascii() else Content(text.translate(_TABLE), list(content.spans))


def plain_terminal() -> bool:
    """Whether what is drawn goes out in an encoding that cannot say ``│``."""
    encoding = getattr(sys.__stderr__, "encoding", None) or "utf-8"
    try:
        "│▼█".encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return True
    return False
