"""The trees that come with the package: the main visits, the ids others rely on, and gas kept out."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.bundled import library, walked_examples
from tui.quantity import Kind
from tui.walk.answers import Answers, run_answers
from tui.walk.core import Walk
from tui.walk.prompt import AskFor, Prompt

HERE = Path(__file__).parent

CAUSES = """short-of-charge overcharge air-in-circuit condenser-dirty condenser-fan hot-air-recirculating
evaporator-fan evaporator-iced evaporator-dirty air-path-blocked defrost-failed door-or-gasket heavy-load
drier-blocked strainer-blocked line-kinked cap-tube-blocked moisture-freezing valve-underfeeding
valve-overfeeding valve-hunting suction-line-restricted compressor-not-pumping bypass-leaking
thermostat-or-control supply-fault contactor start-device overload-open winding-open winding-grounded
locked-rotor refrigeration-is-well cannot-tell"""

READINGS = """refrigerant nameplate-charge equipment metering receiver compressor-speed box-wanted box-air
return-air supply-air condenser-air condenser-leaving-air suction head suction-line evaporator-outlet
compressor-inlet discharge-line condenser-outlet liquid-line drier-outlet amps plate-amps volts
standing-pressure standing-temperature low-side-rating high-side-rating evaporator-fan condenser-fan
condenser-looks frost-pattern compressor-runs sight-glass"""


def test_no_problem_and_no_warning() -> None:
    assert [problem.message for problem in library().problems] == []


def test_ids_used_from_outside_are_there() -> None:
    catalogue = library().catalogue
    assert sorted(catalogue.causes) == sorted(CAUSES.split())
    assert [r for r in READINGS.split() if r not in catalogue.readings or not catalogue.readings[r].ask] == []


def test_every_cause_has_words_for_the_customer() -> None:
    assert [cause.id for cause in library().catalogue.causes.values() if not cause.customer] == []


@pytest.mark.parametrize(
    ("name", "causes"),
    [
        ("leak", ["short-of-charge", "short-of-charge"]),
        ("drier", ["cannot-tell", "drier-blocked"]),
        ("ice", ["evaporator-iced"]),
    ],
)
def test_the_three_visits_end_in_the_right_cause(name: str, causes: list[str]) -> None:
    walk = run_answers(library(), Answers.read(HERE / f"{name}.yaml"), embed_texts=False)
    assert [finding.cause for finding in walk.findings] == causes


def test_fewer_than_one_example_in_ten_stops_on_a_close_call() -> None:
    """With the default instruments."""
    stopped = [outcome.example.name for outcome, stops in walked_examples() if stops]
    assert len(walked_examples()) >= 40
    assert 0 < len(stopped) < len(walked_examples()) / 10


# ---- whatever a person answers, gas goes in only where it may

SOUND = {
    "refrigerant": "R-134a",
    "plates-agree": "yes",
    "equipment": "reach-in cooler",
    "simple-circuit": "yes",
    "receiver": "no",
    "compressor-speed": "fixed",
    "compressor-runs": "runs steadily",
    "evaporator-fan": "running",
    "frost-pattern": "only at the inlet",
    "evaporator-coil": "clean",
    "air-path": "clear",
    "condenser-fan": "running",
    "condenser-looks": "clean",
    "gauges-on": "both",
    "needles": "steady",
    "adding-allowed": "yes",
    "cylinder-label-fits": "yes",
}
NUMBERS = {
    "nameplate-charge": ("g", 90, 700),
    "suction": ("psig", -3, 14),
    "head": ("psig", 90, 135),
    "return-air": ("°F", 38, 46),
    "evaporator-outlet": ("°F", 10, 45),
    "condenser-air": ("°F", 70, 80),
    "condenser-outlet": ("°F", 80, 95),
    "amps": ("A", 2, 5),
    "plate-amps": ("A", 5, 8),
    "scale": ("g", 5800, 5990),
    "cylinder-at-start": ("g", 6000, 6001),
    "hose-length": ("ft", 3, 6),
    "hose-bore": ("in", 0.18, 0.25),
    "high-side-rating": ("psig", 200, 300),
    "box-wanted": ("°F", 36, 38),
}


def test_gas_is_never_added_where_it_must_not_be() -> None:
    added = 0
    for seed in range(250):
        for told in _walked(random.Random(seed)):
            added += 1
            assert _may_have_gas(told), told
    assert added > 20  # else nothing was tried


def _may_have_gas(told: dict[str, str]) -> bool:
    """The "never with" of the weighed test, on what was told last."""
    return (
        told["refrigerant"] not in ("R-290", "R-600a", "R-1270")
        and float(told["nameplate-charge"].split()[0]) >= 150
        and float(told["suction"].split()[0]) >= 0
        and all(told[name] == SOUND[name] for name in ("receiver", "evaporator-coil", "air-path"))
        and told["evaporator-fan"] in ("running", "none fitted")
        and told["frost-pattern"] not in ("block of ice", "back to the compressor")
        and told["adding-allowed"] == told["cylinder-label-fits"] == "yes"
        and (told["compressor-speed"] == "fixed" or told.get("rated-speed-held") == "yes")
    )


def _walked(chance: random.Random) -> Iterator[dict[str, str]]:
    """What was told so far, at each addition of gas in one walk."""
    walk = Walk.start(library(), "charge-test", site={"altitude": "300 ft"}, units="US")
    told: dict[str, str] = {}
    while (prompt := walk.prompt) is not None:
        if prompt.work == "adds refrigerant":
            yield dict(told)
        _answer(walk, prompt, told, chance)


def _answer(walk: Walk, prompt: Prompt, told: dict[str, str], chance: random.Random) -> None:
    if prompt.kind == "ask":
        asked = prompt.readings[0]
        told[asked.id] = _said(asked, chance)
        walk.answer({asked.id: told[asked.id]})
    elif prompt.kind == "caution":
        walk.acknowledge()
    elif prompt.kind == "wait":
        walk.waited(0.0, "test")
    elif prompt.kind == "offer":
        walk.accept_offer(False)
    elif prompt.kind == "close-call":
        walk.answer("go-on")
    else:
        walk.done()


def _said(asked: AskFor, chance: random.Random) -> str:
    if asked.id in SOUND and chance.random() < 0.97:
        return SOUND[asked.id]
    if asked.choices:
        return chance.choice(asked.choices)[0]
    if asked.kind is Kind.DATE:
        return "2025-01-01"
    unit, low, high = NUMBERS.get(asked.id, (asked.unit, 20, 22))
    return f"{chance.uniform(low, high):.2f} {unit}"
