"""A value that is worked out only where its guard is met: where it is not, it rests on no reading."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.walk.conftest import HERE, SEA
from tui.tree.library import Library
from tui.walk import Walk

TREE = """\
tree: sometimes
title: Only with a dead fan
edition: 1
of: circuit
steps:
- ask: fan, suction
- work out: spare
  only when: fan is stopped
  as: suction + 1 psi
- decide: which
  must be settled: yes
  first of:
    spare is unknown and suction is below 12 psig: it-is-low
    otherwise: carry on
  unsettled: too-close
- finding: it-is-well
  cause: refrigeration-is-well
  seen: Suction <suction>.
  next: Look elsewhere.
- finding: it-is-low
  cause: short-of-charge
  seen: Suction <suction>.
  next: Look for the leak.
- finding: too-close
  cause: cannot-tell
  seen: Suction <suction>.
  next: Another gauge.
"""


@pytest.fixture(scope="module")
def sometimes(tmp_path_factory: pytest.TempPathFactory) -> Library:
    folder = shutil.copytree(HERE / "library", tmp_path_factory.mktemp("library") / "trees")
    Path(folder, "sometimes.yaml").write_text(TREE, "utf-8")
    return Library.load(folder)


@pytest.mark.parametrize(
    ("suction", "found"), [("4 psig", "sometimes/it-is-low"), ("20 psig", "sometimes/it-is-well")]
)
def test_far_from_the_line_it_goes_on(sometimes: Library, suction: str, found: str) -> None:
    walk = Walk.start(sometimes, "sometimes", site=SEA)
    walk.answer({"fan": "running", "suction": suction})
    assert [finding.at for finding in walk.findings] == [found]


def test_a_close_call_asks_for_what_it_hangs_on_and_no_more(sometimes: Library) -> None:
    walk = Walk.start(sometimes, "sometimes", site=SEA)
    walk.answer({"fan": "running", "suction": "12.1 psig"})
    assert walk.prompt is not None
    assert walk.prompt.kind == "close-call"
    walk.answer("again")
    assert walk.prompt is not None
    assert [reading.id for reading in walk.prompt.readings] == ["suction"]
