"""What holds for every sum: kinds, words, the one door to properties, errors."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import pytest

from tests.trade.asking import SEA_LEVEL, TABLES, site_at, value
from tui.quantity import Kind, Quantity, Value
from tui.refrigerant import Look, ids
from tui.trade import SUMS, Site

# One call of each sum that is in range for every refrigerant named beside it.
REFRIGERANTS = ("R-134a", "R-448A", "R-600a")
CALLS: dict[str, tuple[str, ...]] = {
    "dew-temperature": ("12 psig",),
    "bubble-temperature": ("12 psig",),
    "mid-temperature": ("12 psig",),
    "dew-pressure": ("23.4 °F",),
    "bubble-pressure": ("23.4 °F",),
    "mid-pressure": ("23.4 °F",),
    "glide": ("12 psig",),
    "vapour-density": ("3 psig", "61.3 °F"),
    "liquid-density": ("61.3 °F",),
    "safety-class": (),
    "charges-as": (),
    "evaporating-temperature": ("12 psig",),
    "suction-wanted": ("14.2 °F",),
    "condensing-temperature": ("120 psig",),
    "head-wanted": ("101.3 °F",),
    "superheat": ("31 °F", "12 psig"),
    "compressor-superheat": ("61 °F", "12 psig"),
    "subcooling": ("88 °F", "120 psig"),
    "hose-holds": ("5 ft", "0.25 in", "3 psig"),
    "hose-from-cylinder": ("5 ft", "0.25 in", "71.3 °F"),
    "hose-of-liquid": ("5 ft", "0.25 in", "71.3 °F"),
    "suction-for-box": ("34.2 °F", "20 dF"),
    "head-for-air": ("71.3 °F", "30 dF"),
    "standing-says": ("60 psig", "70 °F"),
}
ALONE: dict[str, tuple[str, ...]] = {
    "compression-ratio": ("120 psig", "12 psig"),
    "unbalance": ("460 V", "467 V", "450 V"),
    "capacitance": ("3 A", "370 V", "60"),
    "orifice-superheat": ("67 °F", "95 °F"),
    "hose-volume": ("5 ft", "0.25 in"),
    "step-size": ("400 g", "7 %", "200 g"),
    "net-added": ("5000 g", "4900 g", "20 g"),
    "share-missing": ("60 g", "400 g"),
    "leak-per-year": ("60 g", "2024-01-02", "2025-11-25"),
    "nitrogen-expected": ("150 psig", "83 °F", "71 °F"),
    "nitrogen-fall": ("150 psig", "83 °F", "71 °F", "143 psig"),
    "air-pressure": ("5000 ft",),
    "full-vacuum": ("5000 ft",),
    "leak-over": ("60 g", "6 months"),
    "leak-share": ("60 g", "6 months", "400 g"),
    "us-leak-rate": ("4 lb", "20 lb", "2025-06-01", "2025-11-25"),
    "bubbles-limit": ("R-448A",),
    "vacuum-rise-limit": ("3 L", "0.002 psi", "10 min", "R-448A"),
    "nitrogen-hold-needed": ("3 L", "14 g/yr", "150 psig", "71 °F", "R-448A", "1 psi"),
    "us-recovery-level": ("R-134a", "3 lb", "2015-06-01"),
    "us-leak-rule": ("R-404A", "20 lb", "2026-11-25"),
    "eu-tonnes": ("R-404A", "4.2 kg"),
    "eu-check-interval": ("R-404A", "4.2 kg", "yes"),
}
CASES = [(name, (*said, fluid)) for name, said in CALLS.items() for fluid in REFRIGERANTS] + [*ALONE.items()]
SITES = (SEA_LEVEL, site_at("5000 ft"))


def typed(said: tuple[str, ...]) -> list[Value]:
    return [value(one) for one in said]


def call(name: str, site: Site, properties: object, values: list[Value]) -> Value:
    return SUMS[name].call(site, properties, *values)


@dataclass
class Recorder:
    """The real tables, written down."""

    looks: dict[tuple[str, str, tuple[float, ...]], Look] = field(default_factory=dict)
    facts: dict[tuple[str, str], str] = field(default_factory=dict)

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        return self.looks.setdefault((name, refrigerant, xs), TABLES.look(name, refrigerant, *xs))

    def fact(self, name: str, refrigerant: str) -> str:
        return self.facts.setdefault((name, refrigerant), TABLES.fact(name, refrigerant))


@dataclass
class Replayed:
    """Only what was written down: a sum that wants anything else fails with KeyError."""

    of: Recorder

    def look(self, name: str, refrigerant: str, *xs: float) -> Look:
        return self.of.looks[name, refrigerant, xs]

    def fact(self, name: str, refrigerant: str) -> str:
        return self.of.facts[name, refrigerant]


def test_every_sum_has_a_case() -> None:
    assert set(SUMS) == {name for name, _ in CASES}


def test_every_sum_says_what_it_is_and_where_it_is_from() -> None:
    for name, one in SUMS.items():
        assert one.name == name
        assert 0 < len(one.say) <= 75
        assert one.source
        assert bool(one.answers) is (one.result is Kind.CHOICE)


@pytest.mark.parametrize(("name", "said"), CASES)
def test_a_sum_takes_and_gives_the_kinds_it_promises(name: str, said: tuple[str, ...]) -> None:
    values = typed(said)
    kinds = tuple(one.kind if isinstance(one, Quantity) else Kind.CHOICE for one in values)
    assert kinds == SUMS[name].arguments
    found = call(name, SEA_LEVEL, TABLES, values)
    if isinstance(found, Quantity):
        assert found.kind is SUMS[name].result
        assert math.isfinite(found.si)
    else:
        assert SUMS[name].result is Kind.CHOICE
        assert found in SUMS[name].answers


@pytest.mark.parametrize(("name", "said"), CASES)
def test_a_sum_can_be_replayed_from_what_it_was_told(name: str, said: tuple[str, ...]) -> None:
    values = typed(said)
    recorder = Recorder()
    once = call(name, SITES[1], recorder, values)
    assert call(name, SITES[1], Replayed(recorder), values) == once
    if name in CALLS:
        assert recorder.looks or recorder.facts


@pytest.mark.parametrize(("name", "said"), CASES)
@pytest.mark.parametrize("site", SITES)
def test_the_error_of_each_reading_is_what_it_would_move_the_result_by(
    name: str, said: tuple[str, ...], site: Site
) -> None:
    values = typed(said)
    for place, one in enumerate(values):
        if not isinstance(one, Quantity) or one.kind is Kind.DATE:
            continue
        step = (abs(one.si) if one.kind is Kind.LEAK_RATE else max(abs(one.si), 1.0)) * 1e-5
        unsure = [replace(v, errors={"meter": step}) if v is one else v for v in values]
        found = call(name, site, TABLES, unsure)
        if not isinstance(found, Quantity):
            continue
        up, down = (
            call(name, site, TABLES, [*values[:place], replace(one, si=one.si + s), *values[place + 1 :]])
            for s in (step, -step)
        )
        assert isinstance(up, Quantity)
        assert isinstance(down, Quantity)
        half = (up.si - down.si) / 2
        assert found.errors.get("meter", 0.0) == pytest.approx(half, rel=0.02, abs=1e-12)


@pytest.mark.parametrize("refrigerant", ids())
def test_every_refrigerant_has_all_that_leaks_and_rules_ask_for(refrigerant: str) -> None:
    for name in ("bubbles-limit", "us-recovery-level", "us-leak-rule", "eu-tonnes", "nitrogen-hold-needed"):
        said = [refrigerant if one[:2] == "R-" else value(one) for one in ALONE[name]]
        found = call(name, SEA_LEVEL, TABLES, said)
        assert isinstance(found, Quantity) or found in SUMS[name].answers


@pytest.mark.parametrize("refrigerant", ids())
def test_every_refrigerant_has_a_class_and_a_way_to_charge_among_the_words(refrigerant: str) -> None:
    for name in ("safety-class", "charges-as"):
        assert call(name, SEA_LEVEL, TABLES, [refrigerant]) in SUMS[name].answers


@pytest.mark.parametrize(
    ("refrigerant", "way"),
    [
        ("R-134a", "vapour"),
        ("R-290", "vapour"),
        ("R-404A", "liquid"),
        ("R-448A", "liquid"),
        ("R-455A", "liquid"),
    ],
)
def test_a_blend_leaves_its_cylinder_as_liquid(refrigerant: str, way: str) -> None:
    """Common practice: drawn as vapour, a blend would change its composition."""
    assert call("charges-as", SEA_LEVEL, TABLES, [refrigerant]) == way
