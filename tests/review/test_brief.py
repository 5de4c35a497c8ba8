"""A session in a few words: how it stands, what it ended in, refrigerant and leaks; whatever lies there is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.record.helpers import HandClock
from tests.review.test_bundled import HERE, library
from tests.review.visits import begun, charged, to_the_gauges
from tui.record import Writer
from tui.review.brief import brief
from tui.walk.answers import Answers, run_answers


def recorded(path: Path, answers: str, lines: int | None = None) -> Path:
    """A bundled call, or its first lines."""
    walk = run_answers(library(), Answers.read(HERE / f"{answers}.yaml"))
    with Writer.create(path, HandClock()) as writer:
        for event in walk.events[:lines]:
            writer.append(event)
    return path


def test_an_ended_call_with_a_leak_mended(tmp_path: Path) -> None:
    """14 oz is the plate charge of that invented call; 1.98 oz its weighed test put in."""
    found = brief(recorded(tmp_path / "a.jsonl", "call-leak"))
    assert not found.open
    assert found.said == "Short of refrigerant - it has leaked; at the end: The refrigeration side is well"
    assert found.gas == "out 12.1 oz, in 1.98 oz and 14 oz, leak mended"


@pytest.mark.parametrize(
    ("answers", "gas"),
    [("call-leak-open", "in 1.98 oz, leak open"), ("call-drier", "out 83 g, in 86 g"), ("call-ice", "")],
)
def test_what_became_of_the_refrigerant(tmp_path: Path, answers: str, gas: str) -> None:
    assert brief(recorded(tmp_path / "a.jsonl", answers)).gas == gas


def test_circuits_are_told_apart(tmp_path: Path) -> None:
    said = brief(recorded(tmp_path / "a.jsonl", "call-two-circuits")).said
    assert said == "freezer: Evaporator fan not moving the air; table: Filter drier blocked"


def test_an_open_one_says_where_it_stopped(tmp_path: Path) -> None:
    path = recorded(tmp_path / "a.jsonl", "call-leak", lines=45)
    found = brief(path)
    assert found.open
    assert found.stopped == "after door closes"
    assert found.said == "open, stopped after door closes (Look, listen, feel)"
    path.write_bytes(path.read_bytes() + b'{"at":"20')
    torn = brief(path)
    assert torn.open, "a torn end is set aside when it goes on"
    assert torn.said.startswith("TORN, as far as it goes: open, stopped after door closes")
    path.write_bytes(path.read_bytes().replace(b'"door-closes"', b'"door-shuts"', 1))
    assert not brief(path).open
    assert brief(path).said.startswith("ALTERED, as far as it goes: ")


def test_gas_that_went_in_and_was_not_weighed(tmp_path: Path) -> None:
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    visit.visit.leave()
    found = brief(visit.path)
    assert found.unit == "K-12"
    assert found.gas == "in: not weighed, leak not found yet", "the small library has no name for what it weighed"


def test_closed_early_says_why(tmp_path: Path) -> None:
    visit = begun(tmp_path / "a.jsonl")
    visit.act(lambda walk: walk.close("nobody there"))
    visit.visit.leave()
    found = brief(visit.path)
    assert (found.open, found.said) == (False, "closed early (nobody there); nothing found")


@pytest.mark.parametrize("text", [b"", b"nothing of ours\n", b"\x00\xff", b"{}\n", b'{"at":"20'])
def test_whatever_lies_there_is_told(tmp_path: Path, text: bytes) -> None:
    path = tmp_path / "a.jsonl"
    path.write_bytes(text)
    found = brief(path)
    assert not found.open
    assert found.said.partition(":")[0] in ("foreign", "torn", "altered")
    assert brief(tmp_path / "gone.jsonl").said.startswith("can't be read")
    assert not brief(tmp_path).open
