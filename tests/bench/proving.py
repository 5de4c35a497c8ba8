"""Proving the bundled trees against libyaml's parse of the same files into plain Python data."""

from __future__ import annotations

import yaml

from tests.bench.figures import Figure, cpu_seconds_of
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library


def proving_figures() -> list[Figure]:
    """Read, typed and proven, as `lowside check` does it, without the start of the program."""
    folder = bundled_trees()
    files = [*folder.glob("*.yaml"), *folder.glob("catalogue/*.yaml")]
    texts = [file.read_text(encoding="utf-8") for file in files]

    def parse() -> None:
        for text in texts:
            yaml.load(text, Loader=yaml.CBaseLoader)

    bare = cpu_seconds_of(parse, 1)
    proven = cpu_seconds_of(lambda: Library.load(folder), 1)
    detail = f"{proven * 1e3:.0f} ms against {bare * 1e3:.0f} ms, {len(files)} files"
    return [Figure("check of the bundled trees / libyaml's parse", proven / bare, 15, detail)]
