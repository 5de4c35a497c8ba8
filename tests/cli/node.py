"""Tools for Node that some tests try lowside's output against, where they are installed. Nothing is fetched here."""

from __future__ import annotations

import os
import shutil
import subprocess
from functools import cache
from pathlib import Path

import pytest

FOLDER = "LOWSIDE_NODE_MODULES"


@cache
def _folders() -> tuple[Path, ...]:
    """Where packages may lie: the folder that is named, else the one that npm installs for everybody."""
    named = os.environ.get(FOLDER)
    if named:
        return (Path(named),)
    npm = shutil.which("npm")
    if npm is None:
        return ()
    done = subprocess.run([npm, "root", "-g"], capture_output=True, text=True, check=False, timeout=60)
    return (Path(done.stdout.strip()),) if done.returncode == 0 and done.stdout.strip() else ()


def package(*names: str) -> Path:
    """The folder with these packages in it; skips the test, with the reason, where one of them is missing."""
    if shutil.which("node") is None:
        pytest.skip("Node is not installed")
    for folder in _folders():
        if all((folder / name).is_dir() for name in names):
            return folder
    pytest.skip(f"not installed: npm install -g {' '.join(names)} (or name their folder in {FOLDER})")
