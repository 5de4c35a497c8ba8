"""A refrigerant that is none of these: taken as an answer, treated as flammable, judged by typed saturation."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.quantity import Quantity, Refused
from tui.refrigerant import UNLISTED
from tui.tree.library import Library
from tui.walk.answers import Answers, run_answers
from tui.walk.core import Walk
from tui.walk.reading import parse_reading

LIBRARY = Library.load(Path(__file__).parents[2] / "trees")
READING = LIBRARY.catalogue.readings["refrigerant"]
VISIT = """tree: take-the-readings
site: {{altitude: 300 ft}}
circuits:
  main:
    refrigerant: {refrigerant}
    plates-agree: yes
    nameplate-charge: 14 oz
    equipment: reach-in cooler
    metering: TXV
    receiver: no
    gas-alarm: {alarm}
    gauges-on: both
    needles: steady
    box-wanted: 38 °F
    return-air: 42 °F
    suction: 6.6 psig
    suction-saturation: -4 °F
    head: 121.9 psig
    head-saturation: 90 °F
    evaporator-outlet: 34 °F
    condenser-air: 75 °F
    condenser-outlet: 87 °F
    amps: 3.2 A
"""


def walked(tmp_path: Path, refrigerant: str, alarm: str = "nothing") -> Walk:
    file = tmp_path / "visit.yaml"
    file.write_text(VISIT.format(refrigerant=refrigerant, alarm=alarm), encoding="utf-8")
    return run_answers(LIBRARY, Answers.read(file), embed_texts=False)


def asked(walk: Walk) -> set[str]:
    return {event["reading"] for event in walk.events if event["event"] == "answered"}


@pytest.mark.parametrize("typed", [UNLISTED, " Unlisted ", "UNLISTED"])
def test_it_is_an_answer(typed: str) -> None:
    assert parse_reading(None, READING, typed) == UNLISTED


@pytest.mark.parametrize("typed", ["R-123", "banana", "R-999"])
def test_who_types_another_is_told_of_it(typed: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_reading(None, READING, typed)
    assert f"Type {UNLISTED}" in refused.value.cure


def test_a_listed_one_needs_no_typed_saturation(tmp_path: Path) -> None:
    walk = walked(tmp_path, "R-134a")
    assert not asked(walk) & {"suction-saturation", "head-saturation", "gas-alarm"}


def test_an_unlisted_one_is_asked_for_saturation_and_a_detector(tmp_path: Path) -> None:
    walk = walked(tmp_path, UNLISTED)
    assert asked(walk) >= {"suction-saturation", "head-saturation", "gas-alarm"}


def test_no_detector_stops_an_unlisted_one(tmp_path: Path) -> None:
    file = tmp_path / "visit.yaml"
    lines = VISIT.format(refrigerant=UNLISTED, alarm="nothing").splitlines()
    file.write_text("\n".join(line for line in lines if "gas-alarm" not in line), encoding="utf-8")
    walk = run_answers(LIBRARY, Answers.read(file), embed_texts=False)
    assert [finding.at for finding in walk.findings] == ["gas-check/no-detector"]


def test_superheat_comes_from_what_was_typed(tmp_path: Path) -> None:
    """34 °F at the outlet over -4 °F typed: 38 dF; 90 °F typed over 87 °F of liquid: 3 dF."""
    walk = walked(tmp_path, UNLISTED)
    circuit = next(iter(walk.machine.circuits.values()))
    superheat, subcooling = (circuit.facts.values[name] for name in ("superheat", "subcooling"))
    assert isinstance(superheat, Quantity)
    assert isinstance(subcooling, Quantity)
    assert superheat.si * 1.8 == pytest.approx(38, abs=0.01)
    assert subcooling.si * 1.8 == pytest.approx(3, abs=0.01)
