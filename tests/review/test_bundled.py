"""Sheets of whole calls on the trees that come with the package."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.record.helpers import HandClock
from tests.review.visits import flat
from tui.desk.leak import SHORT
from tui.quantity.dates import long_date, read_date
from tui.record import Writer, read
from tui.review import sheet_of
from tui.review.page import WIDTH
from tui.tree.check.names import every_step
from tui.tree.library import Library
from tui.tree.model import Ask, Repeat
from tui.walk.answers import Answers, run_answers
from tui.walk.kinds import spoken

HERE = Path(__file__).resolve().parents[1] / "answers"
TREES = HERE.parents[1] / "trees"


@cache
def library() -> Library:
    return Library.load(TREES)


@cache
def told(answers: str) -> str:
    """The sheet of a bundled call, by the name of its answers."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "visit.jsonl"
        with Writer.create(path, HandClock()) as writer:
            for event in run_answers(library(), Answers.read(HERE / f"{answers}.yaml")).events:
                writer.append(event)
        return sheet_of(read(path))


def test_a_test_of_the_compressor_is_told_as_a_test() -> None:
    sheet = flat(told("call-pump-down"))
    assert "Work Gauges fitted; pumped down as a test" in sheet
    assert "Found Compressor runs but does not pump" in sheet


@pytest.mark.parametrize("answers", sorted(HERE.glob("*.yaml")), ids=lambda path: path.stem)
def test_a_call(answers: Path, tmp_path: Path) -> None:
    walk = run_answers(library(), Answers.read(answers))
    path = tmp_path / "visit.jsonl"
    with Writer.create(path, HandClock()) as writer:
        for event in walk.events:
            writer.append(event)
    sheet = sheet_of(read(path))
    told = flat(sheet)
    for finding in walk.findings:
        if finding.cause != "cannot-tell":
            assert f"Cause {flat(library().catalogue.causes[finding.cause].say)}" in told
            leaked = any(event["event"] == "finding" and event.get("place") for event in walk.events)
            as_it_stands = "Refrigerant ha" if leaked and finding.cause == SHORT else None
            assert (as_it_stands or flat(library().catalogue.causes[finding.cause].customer)) in told
        assert flat(finding.seen) in told
        assert flat(finding.next) in told
    for event in walk.events:
        if event["event"] == "answered" and "reading" in event and event["reading"] != "altitude":
            assert event["reading"] in at_places() or spoken(event["reading"]).capitalize() in told
            assert _as_told(event["value"]) in told
    assert max(map(len, sheet.split("\n"))) <= WIDTH
    assert found_ids(sheet) == set()


@cache
def at_places() -> set[str]:
    """Readings taken at one place after the other: they stand in one line with their place."""
    steps = (step for tree in library().trees.values() for step in tree.named.values())
    inside = (inner for step in steps if isinstance(step, Repeat) and step.places for inner in every_step(step.steps))
    return {reading for step in inside if isinstance(step, Ask) for reading in step.readings}


def _as_told(value: dict[str, str]) -> str:
    """A day in words, a number without zeros at its end."""
    typed = value.get("typed", "").partition(" ")[0]
    if value["kind"] == "date":
        return long_date(read_date(typed))
    return typed.rstrip("0").rstrip(".") if "." in typed else typed


def found_ids(sheet: str) -> set[str]:
    """Ids of the catalogue that stand there instead of words."""
    catalogue = library().catalogue
    ids = {*catalogue.readings, *catalogue.causes, *catalogue.cautions, *catalogue.instruments}
    return {name for name in ids if "-" in name} & set(re.findall(r"[a-z]+(?:-[a-z]+)+", sheet))
