"""Broken files laid over the small base library of tests/tree/check, and what is said of each.

A file is one tree, or (``catalogue-SECTION-...``) entries of the catalogue that replace the base's. Its first
line names the lines and codes expected of it, with the file's name before them where it is another.
``python -m tests.broken.broken`` writes expected.txt anew, to be read before it is committed.
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from tui.tree.catalogue import SECTIONS
from tui.tree.library import BrokenLibrary, Library
from tui.tree.spot import Problem

HERE = Path(__file__).parent
BASE = HERE.parent / "tree" / "check" / "base"
EXPECTED = HERE / "expected.txt"


def files() -> list[Path]:
    """Every broken file, in name order."""
    return sorted(HERE.glob("*.yaml"))


def problems_of(file: Path) -> list[Problem]:
    """All problems of the base library with this file laid over it; paths as names alone."""
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / _place(file)
        target.parent.mkdir(exist_ok=True)
        shutil.copyfile(file, target)
        try:
            return list(Library.load(BASE, Path(folder)).problems)
        except BrokenLibrary as broken:
            return broken.problems


def _place(file: Path) -> str:
    if not file.stem.startswith("catalogue-"):
        return file.name
    rest = file.stem.removeprefix("catalogue-")
    section = next(name for name in SECTIONS if rest.startswith(f"{name}-"))
    return f"catalogue/{section}.yaml"


def places_of(file: Path) -> list[str]:
    """``line:code`` of each problem; with the file before it where it is another."""
    own = Path(_place(file)).name
    found = []
    for problem in problems_of(file):
        name = Path(problem.spot.path).name
        found.append(f"{'' if name == own else name + ':'}{problem.spot.line}:{problem.code}")
    return found


def said_of(file: Path) -> str:
    """What a trainer reads of this file."""
    lines = [f"{file.name}"]
    for problem in problems_of(file):
        spot = problem.spot
        place = f"{Path(spot.path).name}:{spot.line}:{spot.column}"
        lines.append(f"  {place}: {problem.severity}: {problem.code}: {problem.message}")
        lines.append(f"    {problem.cure}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    EXPECTED.write_text("\n".join(said_of(file) for file in files()), encoding="utf-8")
