"""A wait that is a proof: cut short it leads where the tree says, and counts for nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.walk.conftest import HERE
from tui.proof.reading import read_examples
from tui.quantity import Refused
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, Driver, begin, run_answers

Start = Callable[..., Walk]


def at_the_wait(start: Start) -> Walk:
    walk = start("held")
    walk.answer("50 °F")
    assert walk.prompt is not None
    assert walk.prompt.kind == "wait"
    return walk


def test_cut_short_leads_elsewhere_and_says_how_long_it_stood(start: Start) -> None:
    walk = at_the_wait(start)
    walk.waited(7, "no time")
    assert [(f.at, f.seen) for f in walk.findings] == [("held/not-held", "Not proven, 7 s of 60 min.")]
    routed = next(e for e in walk.events if e["event"] == "routed")
    assert (routed["step"], routed["rows"], routed["to"]) == ("hold", ["cut short"], "not-held")
    finding = next(e for e in walk.events if e["event"] == "finding")
    assert finding["still_possible"] == ["refrigeration-is-well"], "what the wait was to show is not ruled out"


def test_waited_in_full_it_goes_on(start: Start) -> None:
    walk = at_the_wait(start)
    walk.waited(3600)
    walk.answer("15 psig")
    assert [(f.at, f.seen) for f in walk.findings] == [("held/it-held", "Held 60 min.")]


def test_back_at_it_after_a_cut_it_is_waited_anew(start: Start) -> None:
    walk = start("held")
    walk.tell("suction", "15 psig")
    walk.answer("50 °F")
    walk.waited(7, "no time")
    walk.undo()
    walk.answer("51 °F")
    assert walk.prompt is not None
    assert walk.prompt.kind == "wait"
    walk.waited(3600)
    walk.undo()
    walk.answer("52 °F")
    assert [f.at for f in walk.findings] == ["held/it-held"], "a full one is not asked for twice"


def test_the_events_give_the_same_walk_again(start: Start, library: Library) -> None:
    walk = at_the_wait(start)
    walk.waited(7, "no time")
    again = Walk.from_events(library, walk.events)
    assert [f.at for f in again.findings] == ["held/not-held"]


def answers(tmp_path: Path, more: str = "") -> Answers:
    file = tmp_path / "visit.yaml"
    head = "tree: held\nsite: {altitude: 0 ft}\ncircuits:\n  main:\n    line: 50 °F\n    suction: 15 psig\n"
    file.write_text(head + more, encoding="utf-8")
    return Answers.read(file)


def test_an_answers_file_waits_in_full_but_where_it_says_cut(tmp_path: Path) -> None:
    library = Library.load(HERE / "library")
    assert run_answers(library, answers(tmp_path)).findings[0].at == "held/it-held"
    cut = run_answers(library, answers(tmp_path, "    cut short: [held/hold]\n"))
    assert cut.findings[0].seen == "Not proven, 0 s of 60 min."
    with pytest.raises(Refused, match="held/hold"):
        run_answers(library, answers(tmp_path, "    cut short: [held/hodl]\n"))


def test_what_is_known_only_once_it_was_cut_is_not_told_before() -> None:
    """The nitrogen hold says how long it stood; while it stands, nobody knows that."""
    trees = Library.read(bundled_trees())
    (found,) = [
        each
        for each in read_examples(trees, [bundled_trees() / "examples" / "hold-too-close.yaml"])
        if each.name == "hold-too-close-cut-short-si"
    ]
    walk = begin(trees, found.answers, embed_texts=False)
    driver = Driver(walk, found.answers, lambda intent: intent(walk))
    told = []
    while (prompt := walk.prompt) is not None:
        told += [prompt.cut_short] if prompt.kind == "wait" and prompt.tree == "nitrogen-hold" else []
        driver.step(prompt)
    assert "Not proven" in told
    assert not [each for each in told if "unknown" in each]
