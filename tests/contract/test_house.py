"""The repository's own house rules, where a machine can see them."""

from __future__ import annotations

import subprocess
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "tui", "trees", "tests", "screenshots"}
GUIDE = Path("trees/README.md")


def tracked() -> list[Path]:
    """Files under version control; in an unpacked sdist, every file but the one that packing adds."""
    done = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode == 0:
        return [Path(name) for name in done.stdout.split("\0") if name]
    return [file.relative_to(ROOT) for file in ROOT.rglob("*") if file.is_file() and file.name != "PKG-INFO"]


def test_the_top_level_holds_what_the_layout_names() -> None:
    seen = {file.parts[0] for file in tracked() if not file.parts[0].startswith(".")}
    assert seen <= TOP


def test_the_package_is_named_as_the_design_says() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["name"] == "lowside"
    assert project["requires-python"] == ">=3.11"
    assert project["license"] == "Apache-2.0"
    assert set(project["scripts"]) == {"lowside"}


def test_trees_hold_data_only() -> None:
    assert {file.suffix for file in tracked() if file.parts[0] == "trees" and file != GUIDE} == {".yaml"}


def test_modules_stay_small() -> None:
    """A file has one reason to change; 500 lines are the most."""
    long = {
        str(file): lines
        for file in tracked()
        if file.suffix == ".py" and (lines := (ROOT / file).read_text(encoding="utf-8").count("\n")) > 500
    }
    assert long == {}
