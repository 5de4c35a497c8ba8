"""The sum behind a number: its values are those that were recorded, and each says where it is from."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from tui.quantity import Quantity, from_json, show
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, begin, drive
from tui.walk.behind import Working, names_of, working_of

ANSWERS = Path(__file__).resolve().parents[1] / "answers"
FILES = sorted(path.stem for path in ANSWERS.glob("*.yaml"))


@cache
def library() -> Library:
    return Library.read(bundled_trees())


@pytest.mark.parametrize("name", FILES)
def test_every_sum_of_every_visit_gives_the_number_that_was_recorded(name: str) -> None:
    answers = Answers.read(ANSWERS / f"{name}.yaml")
    walk = begin(library(), answers, embed_texts=False)
    looked = 0

    def act(intent: Callable[[Walk], object]) -> None:
        nonlocal looked
        before = len(walk.events)
        intent(walk)
        made = [e for e in walk.events[before:] if e["event"] in ("judged", "worked-out")]
        if not made or walk.looked_at() is None:
            return
        for event in made[-2:]:
            looked += check(walk, event)

    drive(walk, answers, act)
    assert looked or not any(e["event"] == "judged" for e in walk.events)


def check(walk: Walk, event: dict[str, object]) -> int:
    """1 where the sum still stands and could be compared."""
    name = next((each for each in names_of(walk) if each.rpartition("/")[2] == event["name"]), None)
    stored = event.get("value")
    value = from_json(stored) if isinstance(stored, dict) else None
    if name is None or event["circuit"] != getattr(walk.looked_at(), "name", "") or not isinstance(value, Quantity):
        return 0
    before = list(walk.events)
    found = working_of(walk, name)
    assert walk.events == before, "looking writes nothing"
    assert found.result == show(value, walk.machine.unit_for(value)), (event["name"], found)
    assert found.formula
    assert all(what and source for what, _, source in found.inputs)
    return 1


def superheat() -> Working:
    answers = Answers.read(ANSWERS / "leak.yaml")
    walk = begin(library(), answers, embed_texts=False)

    class Enough(Exception):
        pass

    def act(intent: Callable[[Walk], object]) -> None:
        if walk.prompt is not None and walk.prompt.step == "ask-adding-allowed":
            raise Enough
        intent(walk)

    with pytest.raises(Enough):
        drive(walk, answers, act)
    name = next(each for each in names_of(walk) if each.endswith("superheat-level"))
    return working_of(walk, name)


def test_a_verdict_says_what_it_is_held_against_and_how_near_that_is() -> None:
    found = superheat()
    assert found.wanted.startswith("wanted ")
    assert found.wanted.endswith("from the nearest edge")
    assert found.errors, "which instrument it hangs on"
    shares = [share for _, share in found.errors]
    assert len(shares) >= 2


def test_the_parts_of_a_sum_say_instrument_figure_and_source() -> None:
    found = superheat()
    sources = [source for _, _, source in found.inputs]
    assert any(source.startswith("figure: ") for source in sources)


def test_brackets_stand_where_the_sum_needs_them() -> None:
    answers = Answers.read(ANSWERS / "leak.yaml")
    walk = begin(library(), answers, embed_texts=False)
    found: list[str] = []

    def act(intent: Callable[[Walk], object]) -> None:
        intent(walk)
        wanted = [each for each in names_of(walk) if each.endswith("evaporating-wanted-now")]
        if wanted and not found:
            found.append(working_of(walk, wanted[0]).formula)

    drive(walk, answers, act)
    assert found == ["box now - (box wanted - evaporating wanted)"]
