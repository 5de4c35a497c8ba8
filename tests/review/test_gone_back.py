"""Whatever was answered, taken back and corrected: sheet and history tell the findings that the walk has."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.review.visits import SITE, SMALL
from tests.walk.test_random import FITTING, fitting
from tui.desk.past import FINDING, NO_CAUSE, past_of
from tui.quantity import Refused
from tui.record import Line
from tui.review.account import account_of
from tui.tree.library import Library
from tui.walk import Walk

LIBRARY = Library.load(SMALL)
READINGS = ["refrigerant", "nameplate-charge", "fan", "box-wanted", "suction", "scale"]

on = st.tuples(st.just("on"), st.sampled_from([0, 0, 0, 1, 2]))
deed = st.one_of(
    on,
    on,
    on,
    st.tuples(st.just("undo"), st.integers(1, 6)),
    st.tuples(st.just("correct"), st.integers(0, 3), st.sampled_from(READINGS), st.integers(0, 2)),
    st.tuples(st.just("note"), st.just(0)),
)


def do(walk: Walk, kind: str, number: int, reading: str = "", value: int = 0) -> None:
    """One of the deeds; what does not go here is left. A correction: of which take of a reading, to which value."""
    try:
        if kind == "undo":
            walk.undo(number)
        elif kind == "correct":
            there = [each for each in (*walk.given(), *walk.from_before()) if each.reading == reading]
            walk.accept(walk.correct(there[number % len(there)], FITTING[reading][value]))
        elif kind == "note":
            walk.note("so far")
        elif walk.prompt is not None:
            fitting(walk, number)
    except (Refused, ZeroDivisionError):
        pass


def lines_of(walk: Walk) -> list[Line]:
    return [Line(n, "2026-11-25T09:30:00.000+00:00", 0.0, "", "", event) for n, event in enumerate(walk.events)]


def last_causes(found: list[tuple[str, str, str]]) -> dict[str, str]:
    """As a unit's history tells them: the last real cause of each circuit."""
    last: dict[str, str] = {}
    for circuit, _, cause in found:
        if cause not in NO_CAUSE or last.get(circuit, NO_CAUSE[0]) in NO_CAUSE:
            last[circuit] = cause
    return last


def tells_the_same(walk: Walk) -> None:
    found = [(finding.circuit, finding.at, finding.cause) for finding in walk.findings]
    account = account_of(lines_of(walk), LIBRARY.catalogue)
    told = [(e.circuit, e.event["where"], e.event["cause"]) for e in account.of("finding")]
    assert told == found
    stands = {(at, e["event"]): e for c in walk.machine.circuits.values() for at, e in c.evidence.items()}
    judged: dict[Any, Any] = {(e.place, e.kind): e.event for e in account.of("judged", "routed")}
    for (at, kind), event in stands.items():
        if len(walk.machine.circuits) == 1:
            said = {part: judged[at, kind].get(part) for part in event if part not in ("properties", "close")}
            assert said == {part: event[part] for part in said}, at
    values = past_of(walk.events, "2026-11-25", LIBRARY.catalogue).values
    assert {circuit: value for (circuit, what), (value, _) in values.items() if what == FINDING} == last_causes(found)
    again = Walk.from_events(LIBRARY, json.loads(json.dumps(walk.events)))
    assert again.events == walk.events
    assert again.findings == walk.findings


TO_THE_GAUGES: list[tuple[Any, ...]] = [("on", 0)] * 5
TO_WELL = [*TO_THE_GAUGES, ("on", 2)]  # what is offered then walks it once more
TO_THE_STOPPED_FAN: list[tuple[Any, ...]] = [("on", 0), ("on", 0), ("on", 2), ("on", 0)]
AND_ON: list[tuple[Any, ...]] = [("on", 0)] * 4
PLATE = ("correct", 0, "nameplate-charge", 1)
BEGINNINGS = [TO_THE_GAUGES, TO_WELL, [*TO_WELL, ("on", 0), ("on", 0)], TO_THE_STOPPED_FAN]


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    beginning=st.sampled_from(BEGINNINGS),
    deeds=st.lists(deed, min_size=4, max_size=50),
    circuits=st.sampled_from([["main"], ["left", "right"]]),
)
@example(TO_WELL, [*AND_ON, PLATE, ("undo", 1)], ["main"])
@example(TO_WELL, [*AND_ON, PLATE, ("correct", -1, "box-wanted", 1)], ["main"])
def test_the_findings_are_those_of_the_walk(
    beginning: list[tuple[Any, ...]], deeds: list[tuple[Any, ...]], circuits: list[str]
) -> None:
    known: dict[str, Any] = {"circuits": {name: {} for name in circuits}}
    history = [{"circuit": circuits[0], "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    walk = Walk.start(LIBRARY, "small", site=SITE, known=known, history=history)
    which = [("on", 0)] * (len(circuits) - 1)
    for what in [*which, *beginning, *which, *deeds]:
        do(walk, *what)
    tells_the_same(walk)
