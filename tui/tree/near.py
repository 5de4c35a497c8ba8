"""The file or folder that a path was most likely meant to be."""

from __future__ import annotations

import os
from pathlib import Path

from tui.quantity import nearest


def meant(path: Path, otherwise: str) -> str:
    """The cure for a path that is not there: a name that is near, where the first folder ends that is there."""
    whole = path if path.is_absolute() else Path(os.path.abspath(path))
    for below in (whole, *whole.parents):
        try:
            names = os.listdir(below.parent)
        except OSError:
            continue
        found = nearest(below.name, [name for name in names if not name.startswith(".")])
        if found is None or found == below.name:
            return otherwise
        parts = list(path.parts)
        parts[len(parts) - 1 - len(whole.relative_to(below).parts)] = found
        return f"Did you mean {Path(*parts)}?"
    return otherwise
