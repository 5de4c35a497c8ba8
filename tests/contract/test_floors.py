"""Imports run downwards only, and nothing below the app brings in a screen or the property library.

The contract of pyproject.toml reads the source; the run-time tests see what is really loaded.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("quantity", "refrigerant", "trade", "tree", "walk", "record", "desk", "proof", "review")
HEAVY = ("textual", "rich", "CoolProp", "numpy")
BUILDS_THE_TABLES = "tui.refrigerant.build"


def core_modules() -> list[str]:
    """Every module below the app, the builder of the tables apart."""
    found = []
    for room in ROOMS:
        for file in sorted((ROOT / "tui" / room).rglob("*.py")):
            parts = file.relative_to(ROOT).with_suffix("").parts
            name = ".".join(parts).removesuffix(".__init__")
            if not name.startswith(BUILDS_THE_TABLES):
                found.append(name)
    return found


def loaded_by(module: str) -> set[str]:
    """Top-level packages in `sys.modules` of a fresh interpreter that imports only `module`."""
    program = f"import {module}, sys; print(*{{name.partition('.')[0] for name in sys.modules}})"
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{module} cannot be imported alone:\n{done.stderr}"
    return set(done.stdout.split())


def test_every_room_has_modules() -> None:
    rooms = {name.split(".")[1] for name in core_modules()}
    assert rooms == set(ROOMS)


@pytest.mark.parametrize("module", core_modules())
def test_a_core_module_loads_no_screen_and_no_property_library(module: str) -> None:
    assert loaded_by(module).isdisjoint(HEAVY)


def test_the_command_line_itself_is_light() -> None:
    assert loaded_by("tui.cli.main").isdisjoint({*HEAVY, "yaml", "asyncio", "argparse"})


def test_the_import_contract_is_kept() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "from importlinter.cli import lint_imports_command as run; run()",
            "--no-cache",
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "3 kept, 0 broken" in done.stdout
