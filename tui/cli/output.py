"""What commands print: never a crash over a letter the terminal doesn't have."""

from __future__ import annotations

import io
import json
import os
import shutil
import sys
from collections.abc import Mapping
from typing import TextIO


def prepare_streams() -> None:
    """A sign that the terminal's encoding lacks is replaced, not a traceback (old Windows consoles)."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def silence_stdout() -> None:
    """Whoever read us has left: let the interpreter's last flush go nowhere."""
    try:
        descriptor = sys.stdout.fileno()
    except (OSError, ValueError):
        return
    os.dup2(os.open(os.devnull, os.O_WRONLY), descriptor)


def say(text: str, stream: TextIO | None = None) -> None:
    """Print lines; on a terminal they are broken at words, what goes on stands two further in."""
    out = stream or sys.stdout
    if not out.isatty():
        print(text, file=out)
        return
    from textwrap import wrap

    wide = max(40, shutil.get_terminal_size().columns)
    for line in text.split("\n"):
        indent = line[: len(line) - len(line.lstrip())] + "  "
        rows = wrap(line, wide, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)
        print("\n".join(rows), file=out)


def print_json(shape: Mapping[str, object]) -> None:
    """One JSON document; plain ASCII where the stream could not carry more."""
    utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    print(json.dumps(shape, ensure_ascii=not utf8, indent=2, allow_nan=False))
