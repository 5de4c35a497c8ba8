"""Where nothing is done between a finding and its offer, what was read a moment ago is not asked again."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tui.proof.examples import walked
from tui.proof.reading import read_examples
from tui.tree.library import Library

TREES = Path(__file__).resolve().parents[2] / "trees"


@pytest.fixture(scope="module")
def bundled() -> Library:
    return Library.load(TREES)


@pytest.mark.parametrize(
    ("file", "example", "once"),
    [
        ("round-the-sensor.yaml", "cold-at-the-sensor-and-nobody-saw-why", ["box-air", "box-wanted", "air-path"]),
        ("air-control.yaml", "control-runs-on", ["box-air", "box-wanted", "gas-alarm"]),
        ("ice-too-slow.yaml", "slow-ice-water-cooled-not-felt", ["condenser-looks", "condenser-fan", "condenser-air"]),
    ],
)
def test_asked_once(bundled: Library, file: str, example: str, once: list[str]) -> None:
    chosen = [each for each in read_examples(bundled, [TREES / "examples" / file]) if each.name == example]
    walk, _ = walked(bundled, chosen[0].answers)
    assert walk is not None
    answered = Counter(event["reading"] for event in walk.events if event["event"] == "answered")
    assert {name: answered[name] for name in once} == dict.fromkeys(once, 1)
