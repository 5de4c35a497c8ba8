"""`lowside` alone, as far as it goes without a screen; what is said when it has gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.record.helpers import HandClock
from tests.review.visits import SITE, SMALL
from tui.cli import home as command
from tui.desk.session import Visit
from tui.quantity import Refused
from tui.tree.library import Library
from tui.walk import Walk


@pytest.mark.parametrize("arguments", [(), ("home",)], ids=["alone", "home"])
def test_without_a_terminal_it_says_how_to_walk(program: Command, home: Path, arguments: tuple[str, ...]) -> None:
    done = program(*arguments)
    assert done.code == 2
    assert done.err.startswith("The screen needs a terminal, and this is none.")
    assert done.err.split()[-3:] == ["lowside", "walk", "--plain."]
    assert not home.exists(), "nothing was written"


def test_every_open_visit_is_told_of_once_with_what_is_left_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    library = Library.load(SMALL)

    def begun(name: str) -> Visit:
        walk = Walk.start(library, "small", site=SITE, unit="K-7")
        visit = Visit.begin(walk, HandClock(), tmp_path / name)
        for answer in ("R-134a", "yes", "14 oz", {"fan": "running", "box-wanted": "35 °F"}):
            visit.act(lambda walk, given=answer: walk.answer(given))  # type: ignore[misc]
        visit.act(lambda walk: walk.acknowledge())
        return visit

    closed, open_one = begun("closed.jsonl"), begun("open.jsonl")
    closed.act(lambda walk: walk.close("nobody there"))
    open_one.act(lambda walk: walk.answer("4 psig"))
    open_one.act(lambda walk: walk.done())
    assert open_one.walk.left_on
    command._last_words([open_one, closed, open_one])
    said = capsys.readouterr().err
    assert said.count("lowside resume") == 1
    assert "open.jsonl" in said
    assert "closed.jsonl" not in said
    assert f"Not cleared yet: {open_one.walk.left_on[0][1]}" in said
    for visit in (closed, open_one):
        visit.leave()


def test_a_demo_that_cannot_be_shown_is_told_at_home(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(options: object) -> int:
        raise Refused("no-tree", "The tree call is not there.", "Look into your own trees.")

    monkeypatch.setattr("tui.cli.demo.run", broken)
    assert command._watch() == "The tree call is not there. Look into your own trees."
