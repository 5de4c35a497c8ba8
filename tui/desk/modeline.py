"""The comment line by which editors for YAML know a file's schema."""

from __future__ import annotations

from pathlib import Path

from tui.desk.files import write_whole
from tui.quantity import Refused
from tui.tree.source import read_bytes

START = "# yaml-language-server: $schema="
_MARK = "yaml-language-server:"


def modeline(schema: str) -> str:
    """The line for a schema at this path, as seen from the file's folder."""
    return f"{START}{schema}"


def has_modeline(text: str) -> bool:
    """Whether a comment of the file names a schema already."""
    return any(_MARK in line for line in text.splitlines() if line.lstrip().startswith("#"))


def with_modeline(text: str, schema: str) -> str:
    """The text with the line before all others, or as it is where it has one."""
    return text if has_modeline(text) else f"{modeline(schema)}\n{text}"


def put_modeline(file: Path, schema: str) -> bool:
    """Writes the line into a file; whether it had none. Its line ends stay. Raises Refused; then it is as it was."""
    text = read_bytes(file)  # tells what is no file of text
    if has_modeline(text):
        return False
    try:
        raw = file.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise Refused("unreadable", f"{file}: it can't be read any more.", "Try once more.") from error
    end = "\r\n" if "\r\n" in raw else "\n"
    bom = "\ufeff" if raw.startswith("\ufeff") else ""
    write_whole(file, f"{bom}{modeline(schema)}{end}{raw.removeprefix(bom)}")
    return True
