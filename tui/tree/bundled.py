"""Where the trees that come with lowside lie."""

from __future__ import annotations

from pathlib import Path

import tui


def bundled_trees() -> Path:
    """The folder inside an installed package; in a source run, `trees` beside the package."""
    package = Path(tui.__file__).parent
    inside = package / "_trees"
    return inside if inside.is_dir() else package.parent / "trees"
