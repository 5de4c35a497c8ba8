"""A small base library, and an example laid over it."""

from __future__ import annotations

from pathlib import Path

from tui.tree.library import BrokenLibrary, Library
from tui.tree.spot import Problem

BASE = Path(__file__).parent / "base"
HEAD = "tree: example\ntitle: Example\nedition: 1\nof: circuit\nsteps:\n"


def base_texts() -> dict[str, str]:
    """The base library by relative path."""
    return {str(file.relative_to(BASE)): file.read_text("utf-8") for file in sorted(BASE.rglob("*.yaml"))}


def laid_over(example: str) -> dict[str, str]:
    """The base library with an example: steps of a tree, or the files that its ``# FILE`` lines name.

    A catalogue file is added to the base's own; any other stands for itself.
    """
    texts = base_texts()
    for path, text in files_of(example):
        texts[path] = texts[path] + text if path.startswith("catalogue/") and path in texts else text
    return texts


def files_of(example: str) -> list[tuple[str, str]]:
    """The files an example consists of."""
    files: list[tuple[str, list[str]]] = []
    for line in example.split("\n"):
        if line.startswith("# ") and line.endswith(".yaml"):
            files.append((line[2:], []))
        elif not files:
            files.append(("example.yaml", [HEAD + line] if line.startswith("- ") else [line]))
        else:
            files[-1][1].append(line)
    return [(path, "\n".join(lines) + "\n") for path, lines in files]


def problems_of(example: str) -> list[Problem]:
    """Errors and warnings of the base library with this example."""
    try:
        return list(Library.from_texts(laid_over(example)).problems)
    except BrokenLibrary as broken:
        return broken.problems
