"""Whatever a person does in whatever order: the events give the same walk again, cut anywhere."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tui.quantity import Refused
from tui.tree.library import Library
from tui.walk import Walk

WORDS = ["R-134a", "R-290", "R-448A", "yes", "no", "running", "stopped", "14 oz", "35 °F", "4 psig", "12 psig"]
WORDS += [
    "15 psig",
    "5000 g",
    "4990 g",
    "4900 g",
    "0.1 psi",
    "zero",
    "again",
    "better",
    "go-on",
    "left",
    "nonsense",
    "",
]
READINGS = ["refrigerant", "door", "nameplate-charge", "box-wanted", "fan", "suction", "line", "scale", "nothing"]

deed = st.one_of(
    st.tuples(st.just("answer"), st.sampled_from(WORDS)),
    st.tuples(st.just("right"), st.integers(0, 2)),
    st.tuples(st.just("right"), st.integers(0, 2)),
    st.tuples(st.just("right"), st.integers(0, 2)),
    st.tuples(st.just("tell"), st.sampled_from(READINGS), st.sampled_from(WORDS)),
    st.tuples(st.just("couldnt"), st.sampled_from(["no port", ""])),
    st.tuples(st.just("undo"), st.integers(0, 4)),
    st.tuples(st.just("correct"), st.integers(0, 60), st.sampled_from(WORDS)),
    st.tuples(st.just("correct"), st.just("before"), st.sampled_from(WORDS)),
    st.tuples(st.just("correct"), st.just("site"), st.sampled_from(["0 ft", "5000 ft", "29.1 inHg", "EU"])),
    st.tuples(st.just("overrule"), st.sampled_from(["low", "on", "high", "suction-level low"])),
    st.tuples(st.just("note"), st.text(max_size=20)),
    st.tuples(st.just("close"), st.just("called away")),
    st.tuples(st.just("switch"), st.sampled_from(["left", "right", "main"])),
)
FITTING = {
    "circuits": ["left, right", "left", "middle, right"],
    "power": ["yes", "yes", "no"],
    "refrigerant": ["R-134a", "R-290", "R-448A"],
    "door": ["yes", "no", "yes"],
    "nameplate-charge": ["14 oz", "400 g", "14 oz"],
    "box-wanted": ["35 °F", "2 °C", "0 °F"],
    "fan": ["running", "running", "stopped"],
    "suction": ["4 psig", "12 psig", "15 psig"],
    "scale": ["5000 g", "4950 g", "4900 g"],
    "good-to": ["0.1 psi", "0.05 psi", "0.5 psi"],
    "altitude": ["0 ft", "5000 ft", "300 m"],
}


def fitting(walk: Walk, which: int) -> None:
    """What the prompt waits for."""
    prompt = walk.prompt
    assert prompt is not None
    if prompt.kind == "ask":
        walk.answer({prompt.readings[0].id: FITTING[prompt.readings[0].id][which]})
    elif prompt.kind == "caution":
        walk.acknowledge()
    elif prompt.kind == "do":
        walk.done()
    elif prompt.kind == "wait":
        walk.waited(240)
    else:
        walk.answer(prompt.choices[which % len(prompt.choices)][0])


def do(walk: Walk, what: tuple[Any, ...]) -> None:
    name, *rest = what
    if name == "right":
        fitting(walk, *rest)
    elif name == "correct":
        known = {"before": walk.from_before, "site": walk.of_site}
        which = next(iter(known[rest[0]]()), 0) if rest[0] in known else rest[0]
        walk.accept(walk.correct(which, rest[1]))
    elif name == "overrule":
        walk.overrule(rest[0], "looked twice")
    else:
        getattr(walk, name)(*rest)


def tried(walk: Walk, deeds: list[tuple[Any, ...]]) -> None:
    """Do them all; what is refused must have changed nothing."""
    for what in deeds:
        if walk.prompt is None:
            break
        before = json.dumps(walk.events)
        prompt = walk.prompt
        try:
            do(walk, what)
        except Refused:
            assert json.dumps(walk.events) == before
            assert walk.prompt == prompt


def holds(library: Library, walk: Walk, cut: int) -> None:
    """Its events, whole or cut after `cut`, give the same walk."""
    events = json.loads(json.dumps(walk.events))
    again = Walk.from_events(library, events)
    assert again.events == walk.events
    assert again.prompt == walk.prompt
    assert again.findings == walk.findings
    assert again.table() == walk.table()
    assert again.still_possible == walk.still_possible
    assert again.trail() == walk.trail()
    assert (again.given(), again.from_before()) == (walk.given(), walk.from_before())
    assert again.left_on == walk.left_on
    assert again.of_site() == walk.of_site()
    assert not (walk.closed and walk.left_on), "nothing is left on in silence"
    shorter = Walk.from_events(library, events[:cut])
    assert shorter.events == events[: len(shorter.events)]
    assert len(shorter.events) >= cut


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(deeds=st.lists(deed, max_size=45), circuits=st.sampled_from([["main"], ["left", "right"]]), data=st.data())
def test_the_events_are_the_walk(
    library: Library, deeds: list[tuple[Any, ...]], circuits: list[str], data: st.DataObject
) -> None:
    site = data.draw(st.sampled_from([{}, {"altitude": "0 ft"}, {"barometer": "29.9 inHg", "today": "2026-11-25"}]))
    known: dict[str, Any] = {"circuits": {name: {} for name in circuits}}
    history = [{"circuit": circuits[0], "reading": "refrigerant", "value": "R-134a", "visit": "2026-05-01"}]
    walk = Walk.start(
        library,
        "small",
        site=site,
        known=known,
        history=data.draw(st.sampled_from([(), history])),
        units=data.draw(st.sampled_from(["US", "SI"])),
    )
    tried(walk, deeds)
    holds(library, walk, data.draw(st.integers(1, len(walk.events))))


@pytest.mark.parametrize("seed", range(100))
def test_a_long_walk_with_slips(library: Library, seed: int) -> None:
    """Mostly what is asked, now and then a slip, a step back, a correction."""
    dice = random.Random(seed)
    circuits = dice.choice([["main"], ["left", "right"]])
    known: dict[str, Any] = {"circuits": {name: {} for name in circuits}}
    walk = Walk.start(library, "small", site={"altitude": "0 ft"}, known=known)
    for _ in range(70):
        slip: list[tuple[Any, ...]] = [
            ("tell", dice.choice(READINGS), dice.choice(WORDS)),
            ("couldnt", "no port"),
            ("undo", dice.randint(1, 4)),
            ("correct", dice.randint(0, 80), dice.choice(WORDS)),
            ("correct", "site", dice.choice(["0 ft", "5000 ft", "29.1 inHg"])),
            ("overrule", "low"),
            ("close", "called away"),
        ]
        tried(walk, [dice.choice(slip) if dice.random() < 0.25 else ("right", dice.randint(0, 2))])
    holds(library, walk, dice.randint(1, len(walk.events)))


@pytest.mark.parametrize("seed", range(120))
def test_a_unit_with_slips_is_left_with_nothing_on(library: Library, seed: int) -> None:
    """Circuits named anew, answers of the unit taken back: closed at last, with all that is on cleared."""
    dice = random.Random(seed)
    tree = dice.choice(["named-unit", "switched-unit"])
    known: dict[str, Any] = {} if tree == "named-unit" else {"circuits": {"left": {}, "right": {}}}
    walk = Walk.start(library, tree, site={"altitude": "0 ft"}, known=known)
    for _ in range(60):
        name = next((g for g in walk.given() if g.reading in ("circuits", "power")), None)
        texts = FITTING.get(name.reading, []) if name is not None else []
        slip: list[tuple[Any, ...]] = [
            ("undo", dice.randint(1, 12)),
            ("correct", name.event_no if name is not None else 0, dice.choice(texts or ["nonsense"])),
            ("correct", dice.randint(0, 80), dice.choice(WORDS)),
            ("close", "called away"),
        ]
        tried(walk, [dice.choice(slip) if dice.random() < 0.2 else ("right", dice.randint(0, 2))])
    while not walk.closed:
        walk.close("called away")
        if not walk.closed:
            assert walk.prompt is not None
            assert walk.prompt.kind == "do"
            walk.done()
    holds(library, walk, dice.randint(1, len(walk.events)))
