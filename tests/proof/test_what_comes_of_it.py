"""What a difference does to examples, and to visits that were recorded."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.desk.visits import TO_THE_END, walked
from tests.proof.test_difference import edited, small
from tui.proof.diff.difference import difference
from tui.proof.diff.sessions import NEITHER, OTHER, SAME, Session, session
from tui.proof.diff.tried import Tried, tried, visits
from tui.proof.examples import run_examples
from tui.proof.reading import read_examples
from tui.quantity import Refused
from tui.tree.library import Library

FIGURES = "catalogue/figures.yaml"
WIDER = (FIGURES, "band: {kind: temperature difference, is: 5 dF", "band: {kind: temperature difference, is: 40 dF")
UNUSED = (FIGURES, "settle: {kind: time span, is: 4 min", "settle: {kind: time span, is: 5 min")
OTHER_NAME = (
    ("      on or high: came-up", "      on or high: it-took-gas"),
    ("- finding: came-up", "- finding: it-took-gas"),
)
UP_TO_THE_PLATE = ("      on or high: came-up", "      on: never-came-up\n      high: came-up")


def of(old: Library, new: Library, examples: Path) -> Tried:
    return tried(old, new, difference(old, new), visits({"small.yaml": examples}))


@pytest.fixture
def visit(tmp_path: Path) -> Path:
    walked(tmp_path / "visit.jsonl", *TO_THE_END)
    return tmp_path / "visit.jsonl"


def followed(visit: Path, old: Library, new: Library) -> Session:
    return session(visit, old, new, difference(old, new).names)


# ---- examples


def test_an_example_that_ends_elsewhere(library: Library, examples: Path) -> None:
    told = of(library, small(UP_TO_THE_PLATE), examples)
    (one,) = told.elsewhere
    assert (told.walked, one.name) == (2, "comes-up")
    assert [found.at for found in one.old.found] == ["small/came-up"]
    assert [found.at for found in one.new.found] == ["small/never-came-up"]
    assert told.alone == {}


def test_an_example_that_comes_to_no_end(library: Library, examples: Path) -> None:
    """Another reading is asked for, and the file has none."""
    must = ("catalogue/readings.yaml", "line: {", "line: {must: yes, ")
    new = edited(("small.yaml", "- ask: door\n", "- ask: door, line\n"), must)
    names = {each.name: bool(each.new.refused) for each in of(library, new, examples).elsewhere}
    assert names == {"fan-stopped": True, "comes-up": True}


def test_the_same_as_walking_them_all(library: Library, examples: Path) -> None:
    """What is spared (visits that come by nothing that changed) makes no difference."""
    read = read_examples(library, [examples])
    fan = [("    running: carry on", "    running: fan-is-dead"), ("    stopped: fan-is-dead", "    stopped: carry on")]
    for new in (small(UP_TO_THE_PLATE), edited(WIDER), edited(UNUSED), small(*fan)):
        before, after = run_examples(library, read), run_examples(new, read)
        otherwise = {a.example.name for a, b in zip(before, after, strict=True) if a.got != b.got}
        assert {each.name for each in of(library, new, examples).elsewhere} == otherwise


def test_a_finding_of_another_name_is_the_same_end(library: Library, examples: Path) -> None:
    assert of(library, small(*OTHER_NAME), examples).elsewhere == ()


def test_a_figure_alone(library: Library, examples: Path) -> None:
    new = edited(WIDER, UNUSED, ("small.yaml", *UP_TO_THE_PLATE))
    told = of(library, new, examples)
    names = {figure: [each.name for each in ends] for figure, ends in told.alone.items()}
    assert names == {"band": ["comes-up"], "settle": []}
    (by_the_band,) = told.alone["band"]
    assert [found.at for found in by_the_band.new.found] != [found.at for found in by_the_band.old.found]


def test_a_figure_that_is_new_can_not_be_tried_alone(library: Library, examples: Path) -> None:
    figures = {name: each for name, each in library.catalogue.figures.items() if name != "settle"}
    without = replace(library, catalogue=replace(library.catalogue, figures=figures))
    assert of(without, library, examples).alone == {}


def test_what_an_example_expects_is_not_looked_at(library: Library, examples: Path) -> None:
    examples.write_text(examples.read_text("utf-8").replace("small/came-up", "small/not-there-yet"), "utf-8")
    with pytest.raises(Refused):
        read_examples(library, [examples])
    assert set(visits({"small.yaml": examples})) == {"fan-stopped", "comes-up"}


def test_a_file_that_is_no_file_of_visits_is_refused_by_the_name_given(examples: Path) -> None:
    examples.write_text("one: two\n", "utf-8")
    with pytest.raises(Refused, match=r"HEAD:trees/examples/small\.yaml:1:1: one: a visit was expected"):
        visits({"HEAD:trees/examples/small.yaml": examples})


# ---- recorded visits


def test_a_visit_that_goes_another_way(library: Library, visit: Path) -> None:
    found = followed(visit, library, small(UP_TO_THE_PLATE))
    assert found.state == OTHER
    assert found.parted is not None
    line = visit.read_text("utf-8").splitlines()[found.parted.line - 1]
    assert '"event":"routed"' in line
    assert '"step":"what-now"' in line
    assert (found.parted.at, found.parted.then, found.parted.now) == ("small/what-now", "came-up", "never-came-up")


def test_another_number_is_not_another_way(library: Library, visit: Path) -> None:
    """The band is wider: the limits that were recorded are others, the verdicts and the way are not."""
    slightly = edited((FIGURES, "is: 5 dF", "is: 5.5 dF"))
    assert difference(library, slightly).figures
    assert followed(visit, library, slightly) == Session(str(visit), SAME)
    assert followed(visit, library, edited(WIDER)).state == OTHER


def test_rows_in_another_order_and_a_step_that_only_works_out_are_the_same_way(library: Library, visit: Path) -> None:
    new = small(
        ("      on or high: came-up", "      high or on: came-up"),
        ("- decide: is-it-low", "- work out: twice-the-plate\n  as: nameplate-charge * 2\n- decide: is-it-low"),
    )
    assert followed(visit, library, new).state == SAME


def test_steps_of_another_name_are_followed(library: Library, visit: Path) -> None:
    new = small(*OTHER_NAME, ("- decide: what-now", "- decide: and-now"))
    assert difference(library, new).names
    assert followed(visit, library, new).state == SAME
    assert session(visit, library, new, {}).state == OTHER, "without the names it would be lost"


def test_another_question_is_another_way(library: Library, visit: Path) -> None:
    found = followed(visit, library, small(("- ask: door\n", "- ask: door, line\n")))
    assert found.state == OTHER
    assert found.parted is not None
    assert "line" in found.parted.now
    assert found.parted.at == "small/ask-nameplate-charge"


def test_a_visit_of_still_other_trees_says_nothing(library: Library, visit: Path) -> None:
    one, other = small(UP_TO_THE_PLATE), small(UP_TO_THE_PLATE, ("  next: Find the leak.", "  next: Look for it."))
    assert followed(visit, one, other) == Session(str(visit), NEITHER)


def test_trees_that_go_as_it_was_recorded_again(library: Library, visit: Path) -> None:
    found = followed(visit, small(UP_TO_THE_PLATE), library)
    assert found.state == OTHER
    assert found.parted is not None
    assert (found.parted.then, found.parted.now) == ("never-came-up", "came-up")


def test_a_visit_cut_off_is_followed_as_far_as_it_goes(library: Library, visit: Path) -> None:
    visit.write_bytes(visit.read_bytes()[:-20])
    assert followed(visit, library, small(UP_TO_THE_PLATE)).state == OTHER


def test_what_is_no_visit_or_altered_is_refused(library: Library, visit: Path, tmp_path: Path) -> None:
    altered = tmp_path / "altered.jsonl"
    altered.write_text(visit.read_text("utf-8").replace("K-12", "K-13", 1), "utf-8")
    foreign = tmp_path / "foreign.jsonl"
    foreign.write_text("{}\n", "utf-8")
    for path, says in ((altered, "altered"), (foreign, "foreign"), (tmp_path / "none.jsonl", "none.jsonl")):
        with pytest.raises(Refused, match=says):
            followed(path, library, library)
