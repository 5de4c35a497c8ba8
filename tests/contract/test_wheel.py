"""The wheel and the sdist carry the trees; installed in an empty environment, any folder will do."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
GUIDE = "README.md"  # goes where the trees go: a trainer who installed lowside finds it beside them
TREES = sorted([GUIDE, *(file.relative_to(ROOT / "trees").as_posix() for file in (ROOT / "trees").rglob("*.yaml"))])

pytestmark = pytest.mark.slow


def run(*command: str | Path, cwd: Path, home: Path) -> subprocess.CompletedProcess[str]:
    environment = {name: text for name, text in os.environ.items() if not name.startswith("PYTHON")}
    environment["LOWSIDE_HOME"] = str(home)
    return subprocess.run(
        [str(part) for part in command], cwd=cwd, env=environment, capture_output=True, text=True, check=False
    )


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the sdist and the wheel that was built from that sdist."""
    out = tmp_path_factory.mktemp("dist")
    done = run(sys.executable, "-m", "build", "--outdir", out, ROOT, cwd=out, home=out)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The scripts folder of an environment that holds the wheel and what it needs, nothing else."""
    place = tmp_path_factory.mktemp("empty")
    venv.create(place, with_pip=True)
    scripts = place / ("Scripts" if os.name == "nt" else "bin")
    (wheel,) = built.glob("*.whl")
    done = run(scripts / "python", "-m", "pip", "install", "-q", wheel, cwd=place, home=place)
    assert done.returncode == 0, done.stdout + done.stderr
    return scripts


def test_the_wheel_carries_every_tree(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    names = zipfile.ZipFile(wheel).namelist()
    carried = sorted(name.removeprefix("tui/_trees/") for name in names if name.startswith("tui/_trees/"))
    assert carried == TREES
    assert not [name for name in names if name.startswith("tests/")]


def test_the_sdist_carries_every_tree_and_the_tests(built: Path) -> None:
    (archive,) = built.glob("*.tar.gz")
    with tarfile.open(archive) as sdist:
        inside = [name.partition("/")[2] for name in sdist.getnames()]
    assert sorted(name.removeprefix("trees/") for name in inside if name.startswith("trees/")) == TREES
    assert "tests/contract/test_wheel.py" in inside


def test_installed_it_checks_its_trees_from_any_folder(installed: Path, tmp_path: Path) -> None:
    done = run(installed / "lowside", "check", cwd=tmp_path, home=tmp_path / "home")
    assert done.returncode == 0, done.stdout + done.stderr


def test_installed_it_walks_to_a_finding_from_any_folder(installed: Path, tmp_path: Path) -> None:
    for answers in sorted((ROOT / "tests" / "answers").glob("*.yaml")):
        command = (installed / "lowside", "walk", "--answers", answers, "--json")
        done = run(*command, cwd=tmp_path, home=tmp_path / "home")
        assert done.returncode == 0, done.stdout + done.stderr
        assert json.loads(done.stdout)["findings"]


def test_installed_it_looks_up_saturation(installed: Path, tmp_path: Path) -> None:
    done = run(installed / "lowside", "sat", "R-134a", "15 psig", cwd=tmp_path, home=tmp_path / "home")
    assert done.returncode == 0, done.stdout + done.stderr
