"""A tree that parts in every way a tree can, and examples of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.tree.library import Library

WALK_LIBRARY = Path(__file__).resolve().parents[1] / "walk" / "library"

ALL_EXAMPLES = """
fan-stopped:
  why: Invented; a fan that stands still ends it at once.
  tree: small
  site: {altitude: 0 ft}
  circuits:
    main: {refrigerant: R-134a, door: yes, nameplate-charge: 14 oz, fan: stopped, box-wanted: 35 °F}
  expect:
  - {circuit: main, cause: evaporator-fan, at: small/fan-is-dead}
comes-up:
  why: Invented; saturation of R-134a at the coil temperatures, sea level.
  tree: small
  site: {altitude: 0 ft}
  circuits:
    main:
      refrigerant: R-134a
      door: yes
      nameplate-charge: 14 oz
      fan: running
      box-wanted: 35 °F
      suction: [8 psig, 9 psig, 15 psig]
      scale: [200 oz, 199 oz, 198 oz]
  expect:
  - {cause: short-of-charge, at: small/came-up}
"""


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.load(WALK_LIBRARY)


@pytest.fixture
def examples(tmp_path: Path) -> Path:
    """A file of the two examples above."""
    file = tmp_path / "examples" / "small.yaml"
    file.parent.mkdir()
    file.write_text(ALL_EXAMPLES, encoding="utf-8")
    return file
