"""A walk goes on in edited trees: what still fits is kept, and it stands where the first answer is missing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, begin, drive
from tui.walk.refit import go_on, refit

HERE = Path(__file__).parent
ANSWERS = Path(__file__).parents[1] / "answers"


def edited(old: str, new: str, *files: str) -> Library:
    """The small library with the first such place of each file written otherwise."""
    folder = HERE / "library"
    texts = {str(path.relative_to(folder)): path.read_text(encoding="utf-8") for path in folder.rglob("*.yaml")}
    for file in files or ("small.yaml",):
        assert old in texts[file]
        texts[file] = texts[file].replace(old, new, 1)
    return Library.from_texts(texts)


def stands(walk: Walk) -> tuple[object, ...]:
    """Where a walk is and what it knows."""
    prompt = walk.prompt
    at = None if prompt is None else (prompt.kind, prompt.tree, prompt.step, prompt.circuit)
    known = {circuit: repr(walk.machine.circuits[circuit].facts.values) for circuit in walk.circuits}
    return at, known, [(f.at, f.cause) for f in walk.findings], walk.still_possible


@pytest.mark.parametrize("name", ["ice", "leak", "call-two-circuits"])
def test_in_the_same_trees_it_stands_where_it_stood(name: str) -> None:
    library = Library.load(Path(__file__).parents[2] / "trees")
    answers = Answers.read(ANSWERS / f"{name}.yaml")
    walk = begin(library, answers)
    moves = 0

    def act(intent: Callable[[Walk], object]) -> None:
        nonlocal moves
        intent(walk)
        moves += 1
        if moves % 9 == 0 or walk.prompt is None:
            anew, left = refit(library, walk)
            assert stands(anew) == stands(walk)
            assert left == []

    drive(walk, answers, act)
    assert moves > 9


def test_a_step_with_another_name_takes_the_same_answer(low: Walk) -> None:
    anew, left = refit(edited("- ask: refrigerant", "- ask: refrigerant\n  name: which-gas"), low)
    assert stands(anew) == stands(low)
    assert left == []


def test_an_answer_that_is_none_any_more_is_asked_again(low: Walk) -> None:
    library = edited("running", "turning", "small.yaml", "catalogue/readings.yaml")
    anew, left = refit(library, low)
    assert anew.prompt is not None
    assert [each.id for each in anew.prompt.readings] == ["fan"]
    assert [event["reading"] for event in left if "reading" in event] == ["fan"]
    anew.answer("turning")
    assert [event["event"] for event in go_on(anew, left)] == ["answered"]


def test_a_new_question_is_asked_and_what_follows_is_kept_for_later(low: Walk) -> None:
    library = edited("- ask: fan, box-wanted", "- ask: line\n  why: first of all\n- ask: fan, box-wanted")
    anew, left = refit(library, low)
    assert anew.prompt is not None
    assert [each.id for each in anew.prompt.readings] == ["line"]
    anew.answer("50 °F")
    assert go_on(anew, left) == []
    assert anew.prompt is not None
    assert low.prompt is not None
    assert anew.prompt.step == low.prompt.step
