"""What lies in a folder of trees and is not read, though somebody may think so: warned of, file by file."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from tui.quantity import nearest
from tui.tree import trouble
from tui.tree.spot import Problem

ENDING = ".yaml"
PARTS = ("catalogue", "examples")
_OTHERS = (".yml", ".txt", "")  # endings that editors give, whatever was typed


def unread(folder: Path) -> Iterator[Problem]:
    """One warning for each file and folder that has the wrong name. Folders that can't be read have none."""
    yield from _files(folder)
    for entry in _entries(folder):
        if not os.path.isdir(entry.path) or entry.name.startswith("."):
            continue
        if entry.name in PARTS:
            yield from _files(folder / entry.name)
        elif (meant := nearest(entry.name, PARTS)) and any(Path(entry.path).glob(f"*{ENDING}")):
            message = f"This folder is not read: its name would have to be `{meant}`."
            yield trouble.whole(entry.path, "not-a-file", message, "Rename it.", "warning")


def is_text_beside(name: str) -> bool:
    """Whether an editor leaves such a file beside another."""
    return name.startswith((".", "#"))


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as found:
            return sorted(found, key=lambda entry: entry.name)
    except OSError:
        return []


def _files(folder: Path) -> Iterator[Problem]:
    what = {"catalogue": "its", "examples": "an example file's"}.get(folder.name, "a tree's")
    for entry in _entries(folder):
        if is_text_beside(entry.name) or not _looks_like_one(entry):
            continue
        message = f"This file is not read: {what} name ends in `{ENDING}`."
        yield trouble.whole(entry.path, "not-a-file", message, "Rename it.", "warning")


def _looks_like_one(entry: os.DirEntry[str]) -> bool:
    lower = entry.name.lower()
    if lower.endswith((".yml", f"{ENDING}.txt", ".yml.txt")) or (lower.endswith(ENDING) and entry.name != lower):
        return not entry.name.endswith(ENDING)
    if os.path.splitext(lower)[1] not in _OTHERS:
        return False
    return _begins_with_tree(entry)


def _begins_with_tree(entry: os.DirEntry[str]) -> bool:
    try:
        if not entry.is_file():
            return False
        with open(entry.path, encoding="utf-8-sig", errors="replace") as text:
            lines = text.read(2000).splitlines()
    except OSError:
        return False
    said = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    return said.startswith("tree:")
