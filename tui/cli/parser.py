"""argparse, but misuse is a refusal like any other: one message, with the right usage as its cure."""

from __future__ import annotations

import argparse
from textwrap import fill
from typing import NoReturn

from tui.quantity.refused import Refused

WIDTH = 80  # columns


class Parser(argparse.ArgumentParser):
    """Raises Refused (code ``misuse``) where argparse would print and leave."""

    def __init__(self, prog: str, description: str | None) -> None:
        super().__init__(
            prog=prog,
            description=folded(description or ""),
            allow_abbrev=False,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )

    def error(self, message: str) -> NoReturn:
        usage = " ".join(self.format_usage().split()).removeprefix("usage: ")
        raise Refused("misuse", f"{self.prog}: {message}.", f"It is used so: {usage}")


def folded(text: str) -> str:
    """Paragraphs to the width of a small terminal; indented ones as they stand."""
    paragraphs = text.strip("\n").split("\n\n")
    return "\n\n".join(part if part.startswith(" ") else fill(part, WIDTH) for part in paragraphs)
