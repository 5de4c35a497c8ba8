"""Pictures of trees as text: that each line is of the grammar, that names do no harm, that marks are there in words."""

from __future__ import annotations

import re

import pytest

from tests.cli.drawn import as_shown, by_graphviz, by_mermaid
from tui.proof.cover import uncovered
from tui.proof.drawing import arrows_of, dot, mermaid
from tui.proof.examples import run_examples
from tui.proof.marks import Marks, marks_of
from tui.proof.reading import read_examples
from tui.tree.bundled import bundled_trees
from tui.tree.chart import Chart, Place, Way, chart_of
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.passages import passages_of

HOSTILE = (
    'a "quoted" name',
    "back\\slash \\N",
    "<b>bold</b> & more",
    "#35; #quot; #1",
    "end",
    "`ticks` and 'one'",
    "semi; {a} [b] (c) |d|",
    "%% no comment",
    "--> arrow -.- ==>",
    "ångström °F – ü",
    "1. a list",
    "- a list",
)
FORMS = ("do", "ask", "decide", "go", "finding", "caution") * 2
ODD = Chart(
    'odd"tree',
    'A title: with "quotes" # and ---',
    (
        *(Place(name, form, name, labelled=True) for name, form in zip(HOSTILE, FORMS, strict=True)),
        Place("inner", "repeat", "at most 2 rounds", labelled=True),
        Place("inmost", "wait", "10 min", inside="inner", labelled=True),
    ),
    tuple(Way(one, other, "row", one) for one, other in zip(HOSTILE, [*HOSTILE[1:], "inmost"], strict=True)),
)

# Every line of a Mermaid text that lowside writes; strings hold no quote, no bracket that could be a tag.
STRING = r'"[^"<>`]*(?:<br/>[^"<>`]*)*"'
BOX = (
    rf"(?:\[\[{STRING}\]\]|\[/{STRING}/\]|\(\[{STRING}\]\)|\{{\{{{STRING}\}}\}}|"
    rf"\[{STRING}\]|\({STRING}\)|\{{{STRING}\}})"
)
MERMAID = re.compile(
    "|".join(
        (
            r"---|title: \".*\"|flowchart TD",
            rf" +n\d+{BOX}",
            rf" +subgraph sn\d+\[{STRING}\]| +end",
            rf"  n\d+ (?:-->|-\.->|==>)(?:\|{STRING}\|)? n\d+",
            r"  linkStyle \d+(?:,\d+)* [\w:#,]+",
            r"  classDef \w+ [\w:#,\- ]+|  class n\d+(?:,n\d+)* \w+",
        )
    )
)
DOTTED = r'"(?:[^"\\\n]|\\.)*"'
ATTRIBUTES = rf"\[\w+=(?:{DOTTED}|\w+)(?:, \w+=(?:{DOTTED}|\w+))*\]"
DOT = re.compile(
    "|".join(
        (
            rf"digraph {DOTTED} \{{| *\}}",
            rf" +label={DOTTED};(?: \w+=\w+;)*",
            rf"  node {ATTRIBUTES}; edge {ATTRIBUTES};",
            r" +subgraph cluster_n\d+ \{",
            rf" +n\d+ {ATTRIBUTES};",
            rf"  n\d+ -> n\d+(?: {ATTRIBUTES})?;",
        )
    )
)


@pytest.fixture(scope="module")
def charts() -> list[Chart]:
    library = Library.read(bundled_trees())
    return [ODD, *(chart_of(tree, library.trees) for tree in library.trees.values())]


def test_every_line_is_of_the_grammar(charts: list[Chart]) -> None:
    for chart in charts:
        assert [line for line in mermaid(chart, Marks()).splitlines() if not MERMAID.fullmatch(line)] == []
        assert [line for line in dot(chart, Marks()).splitlines() if not DOT.fullmatch(line)] == []


def test_rows_that_lead_to_one_place_are_one_arrow_unless_their_marks_differ() -> None:
    ways = (Way("a", "b", "row", "low"), Way("a", "b", "row", "high"), Way("a", "b", "row", "on"))
    chart = Chart("t", "t", (Place("a", "decide", "x", labelled=True), Place("b", "back", "x", labelled=True)), ways)
    assert '  n0 -->|"• low<br/>• high<br/>• on"| n1\n' in mermaid(chart, Marks())
    marks = Marks(bare=frozenset({("a", "high")}))
    assert '  n0 -->|"• low<br/>• on"| n1\n  n0 -.->|"high<br/>(no example)"| n1\n' in mermaid(chart, marks)
    assert 'n0 -> n1 [label="• low\\n• on"];' in dot(chart, marks)


def test_no_picture_is_too_large_for_mermaid(charts: list[Chart]) -> None:
    """Its own limits, unless they are set otherwise: 50,000 letters and 500 arrows (Mermaid's configuration)."""
    assert max(len(mermaid(chart, Marks())) for chart in charts) < 50_000
    assert max(len(chart.ways) for chart in charts) < 500


@pytest.mark.slow
def test_mermaids_own_parser_reads_every_picture(charts: list[Chart]) -> None:
    for chart, found in zip(charts, by_mermaid(*(mermaid(chart, Marks()) for chart in charts)), strict=True):
        assert "error" not in found, f"{chart.tree}: {found['error']}"
        assert len(found["boxes"]) == len(chart.places), chart.tree
        ids = {place.name: f"n{number}" for number, place in enumerate(chart.places)}
        drawn = [arrow[0] for arrow in arrows_of(chart, Marks())]
        assert [arrow[:2] for arrow in found["arrows"]] == [[ids[way.start], ids[way.end]] for way in drawn]
        repeats = [place.name for place in chart.places if place.form == "repeat"]
        assert {frame[0] for frame in found["frames"]} == {f"repeat {name}" for name in repeats}


@pytest.mark.slow
def test_odd_names_come_through_mermaid_as_they_are() -> None:
    (found,) = by_mermaid(mermaid(ODD, Marks()))
    rows = ["".join(as_shown(text)) for _, _, text in found["arrows"]]
    assert rows == [way.row for way in ODD.ways]


@pytest.mark.slow
def test_graphviz_reads_every_picture(charts: list[Chart]) -> None:
    for chart in charts:
        found = by_graphviz(dot(chart, Marks()))
        boxes = [each for each in found["objects"] if not each["name"].startswith("cluster_")]
        assert len(boxes) == len(chart.places), chart.tree
        assert len(found["edges"]) == len(arrows_of(chart, Marks()))
        frames = [each for each in found["objects"] if each["name"].startswith("cluster_")]
        assert len(frames) == sum(place.form == "repeat" for place in chart.places)


@pytest.mark.slow
def test_odd_names_come_through_graphviz_as_they_are() -> None:
    found = by_graphviz(dot(ODD, Marks()))
    labels = [each["label"].replace("\\\\", "\\") for each in found["edges"]]
    assert labels == [way.row.replace("\\\\", "\\") for way in ODD.ways]
    assert found["name"] == 'odd"tree'


def test_a_row_that_no_example_reaches_is_marked_in_words(library: Library, examples: object) -> None:
    outcomes = run_examples(library, read_examples(library, [examples]))  # type: ignore[list-item]
    marks = marks_of("small", uncovered(library, outcomes))
    chart = chart_of(library.trees["small"], library.trees)
    lines = mermaid(chart, marks).splitlines()
    bare = [line for line in lines if "(no example)" in line]
    assert any('|"on or high<br/>(no example)"|' in line and "-.->" in line for line in bare)
    assert any('"finding: it-is-well<br/>refrigeration-is-well<br/>(no example)"' in line for line in bare)
    assert not any("fan-is-dead" in line for line in bare), "an example ends there"
    assert not any("stopped" in line for line in bare)
    numbers = next(line for line in lines if "linkStyle" in line).split()[1].split(",")
    arrows = arrows_of(chart, marks)
    assert [way.row for number in numbers for way in arrows[int(number)]] == [
        way.row for way in chart.ways if way.row and (way.start, way.row) in marks.bare
    ]
    assert "(no example)" in dot(chart, marks)


def test_where_a_walk_went_and_stands_is_marked_in_words(library: Library) -> None:
    walk = Walk.start(library, "small", site={"altitude": "0 ft"})
    for text in ("R-134a", "yes", "14 oz"):
        walk.answer(text)
    walk.answer({"fan": "running", "box-wanted": "35 °F"})
    marks = marks_of("small", [], passages_of(walk.machine))
    chart = chart_of(library.trees["small"], library.trees)
    drawn = mermaid(chart, marks)
    assert drawn.count("HERE: main") == 1
    assert '{{"caution: gloves, flammable<br/>HERE: main"}}' in drawn
    assert '"decide: fan-first<br/>fan<br/>(walked)"' in drawn
    assert [(way.start, way.row) for way in chart.ways if marks.went(way)] == [
        ("ask-refrigerant", ""),
        ("ask-door", ""),
        ("ask-nameplate-charge", ""),
        ("ask-fan", ""),
        ("fan-first", "running"),
    ]
    assert drawn.count("==>") == 5
    assert drawn.count("==>") == dot(chart, marks).count("style=bold")
