"""A chart with its marks as text that other programs draw: Mermaid and Graphviz."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping

from tui.proof.marks import Marks
from tui.tree.chart import END, FOLLOWS, OFFERED, TREE, Chart, Place, Way
from tui.tree.check.graph import COULDNT, CUT_SHORT, SKIP, UNSETTLED

#: The ways that one arrow stands for; all of them look the same.
Arrow = tuple[Way, ...]

NO_EXAMPLE, HERE = "no example", "HERE"
_WIDE = 32  # letters of a line
_LONG = 140  # letters of what a step says
_POINT = "• "  # before each of several rows at one arrow
_FAINT = frozenset({SKIP, COULDNT, CUT_SHORT, UNSETTLED, OFFERED})  # ways that are not the plain course


def mermaid(chart: Chart, marks: Marks) -> str:
    """A flowchart for Mermaid."""
    ids = _ids(chart)
    lines = ["---", f"title: {json.dumps(_heading(chart), ensure_ascii=False)}", "---", "flowchart TD"]
    lines += _mermaid_places(chart, marks, ids, "", "  ")
    arrows = arrows_of(chart, marks)
    lines += [_mermaid_arrow(arrow, marks, ids) for arrow in arrows]
    bare = [str(number) for number, arrow in enumerate(arrows) if marks.is_bare(arrow[0])]
    if bare:
        lines.append(f"  linkStyle {','.join(bare)} stroke:#c00000,color:#c00000")
    lines.append("  classDef bare stroke:#c00000,stroke-dasharray:4 3")
    lines.append("  classDef walked fill:#d9ead3,color:#000000,stroke:#38761d")
    lines.append("  classDef here fill:#ffe599,color:#000000,stroke:#7f6000,stroke-width:4px")
    for style in ("bare", "walked", "here"):
        of = [ids[place.name] for place in chart.places if _style(place, marks) == style]
        lines += [f"  class {','.join(of)} {style}"] if of else []
    return "\n".join(lines) + "\n"


def dot(chart: Chart, marks: Marks) -> str:
    """A digraph for Graphviz."""
    ids = _ids(chart)
    lines = [
        f"digraph {_dotted(chart.tree)} {{",
        f"  label={_dotted(_heading(chart))}; labelloc=t; rankdir=TB; compound=true;",
        '  node [shape=box, fontname="Helvetica"]; edge [fontname="Helvetica", fontsize=10];',
    ]
    lines += _dot_places(chart, marks, ids, "", "  ")
    lines += [_dot_arrow(arrow, marks, ids) for arrow in arrows_of(chart, marks)]
    return "\n".join([*lines, "}"]) + "\n"


# ---- what both say


def arrows_of(chart: Chart, marks: Marks) -> list[Arrow]:
    """The ways as they are drawn: those between the same two boxes are one arrow, if their marks are the same too."""
    found: dict[object, list[Way]] = {}
    for way in chart.ways:
        look = marks.is_bare(way), marks.went(way), way.kind in _FAINT
        found.setdefault((way.start, way.end, look), []).append(way)
    return [tuple(ways) for ways in found.values()]


def _ids(chart: Chart) -> dict[str, str]:
    """Names that no program stumbles over."""
    return {place.name: f"n{number}" for number, place in enumerate(chart.places)}


def _heading(chart: Chart) -> str:
    return f"{chart.tree}: {chart.title}"


def _style(place: Place, marks: Marks) -> str:
    if place.name in marks.here:
        return "here"
    if place.name in marks.passed:
        return "walked"
    return "bare" if marks.is_bare(place) else ""


def _words(place: Place, marks: Marks) -> list[str]:
    """The lines of a box: what it is, its name, what it says; and its marks in words."""
    says = place.says if len(place.says) <= _LONG else f"{place.says[:_LONG].rstrip()} ..."
    if place.form in (TREE, END):
        lines = [place.name, *_wrapped(says)]
    elif not place.labelled or says.startswith(place.name):
        lines = _wrapped(f"{place.form}: {says}")
    else:
        lines = [f"{place.form}: {place.name}", *_wrapped(says)]
    if marks.is_bare(place):
        lines.append(f"({NO_EXAMPLE})")
    if place.name in marks.here:
        lines.append(f"{HERE}: {marks.here[place.name]}")
    elif place.name in marks.passed:
        lines.append("(passed over)" if place.name in marks.over else "(walked)")
    return lines


def _said(arrow: Arrow, marks: Marks) -> list[str]:
    """The lines beside an arrow."""
    rows = [{FOLLOWS: "goes on with", OFFERED: "offers"}.get(way.kind, way.row) for way in arrow]
    several = len(rows) > 1
    lines = [line for row in rows for line in _wrapped(f"{_POINT}{row}" if several else row)]
    return [*lines, f"({NO_EXAMPLE})"] if marks.is_bare(arrow[0]) else lines


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDE, break_on_hyphens=False)


def _inside(chart: Chart, repeat: str) -> Iterator[Place]:
    return (place for place in chart.places if place.inside == repeat)


# ---- Mermaid

_SIGNS = {"#": "#35;", '"': "#quot;", "<": "#lt;", ">": "#gt;", "&": "#amp;", "`": "#96;"}
_BOXES: Mapping[str, tuple[str, str]] = {
    "ask": ("[/", "/]"),
    "caution": ("{{", "}}"),
    "wait": ("(", ")"),
    "decide": ("{", "}"),
    "go": ("[[", "]]"),
    "tree": ("[[", "]]"),
    "back": ("([", "])"),
    "finding": ("([", "])"),
    "end": ("([", "])"),
}


def _quoted(lines: list[str]) -> str:
    return '"' + "<br/>".join("".join(_SIGNS.get(c, c) for c in line) for line in lines) + '"'


def _mermaid_places(chart: Chart, marks: Marks, ids: Mapping[str, str], repeat: str, indent: str) -> Iterator[str]:
    """The boxes of one list of steps; a repeat stands in a frame with the steps of its rounds."""
    for place in _inside(chart, repeat):
        left, right = _BOXES.get(place.form, ("[", "]"))
        box = f"{ids[place.name]}{left}{_quoted(_words(place, marks))}{right}"
        if place.form == "repeat":
            yield f"{indent}subgraph s{ids[place.name]}[{_quoted([f'repeat {place.name}'])}]"
            yield f"{indent}  {box}"
            yield from _mermaid_places(chart, marks, ids, place.name, f"{indent}  ")
            yield f"{indent}end"
        else:
            yield f"{indent}{box}"


def _mermaid_arrow(arrow: Arrow, marks: Marks, ids: Mapping[str, str]) -> str:
    way = arrow[0]
    sign = "==>" if marks.went(way) else "-.->" if way.kind in _FAINT or marks.is_bare(way) else "-->"
    lines = _said(arrow, marks)
    label = f"|{_quoted(lines)}|" if lines else ""
    return f"  {ids[way.start]} {sign}{label} {ids[way.end]}"


# ---- Graphviz

_SHAPES: Mapping[str, str] = {
    "ask": "parallelogram",
    "caution": "octagon",
    "decide": "diamond",
    "go": "box3d",
    "tree": "box3d",
    "back": "cds",
    "finding": "ellipse",
    "end": "ellipse",
}
_FILLS = {
    "here": 'style=filled, fillcolor="#ffe599", penwidth=4',
    "walked": 'style=filled, fillcolor="#d9ead3"',
    "bare": 'style=dashed, color="#c00000"',
}


def _dotted(text: str) -> str:
    """A string of the dot language; a backslash stays one."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + escaped.replace("\n", "\\n") + '"'


def _attributes(parts: Iterator[str]) -> str:
    found = ", ".join(part for part in parts if part)
    return f" [{found}]" if found else ""


def _dot_places(chart: Chart, marks: Marks, ids: Mapping[str, str], repeat: str, indent: str) -> Iterator[str]:
    for place in _inside(chart, repeat):
        label = f"label={_dotted(chr(10).join(_words(place, marks)))}"
        shape = f"shape={_SHAPES[place.form]}" if place.form in _SHAPES else ""
        box = f"{ids[place.name]}{_attributes(iter((label, shape, _FILLS.get(_style(place, marks), ''))))};"
        if place.form == "repeat":
            yield f"{indent}subgraph cluster_{ids[place.name]} {{"
            yield f"{indent}  label={_dotted(f'repeat {place.name}')};"
            yield f"{indent}  {box}"
            yield from _dot_places(chart, marks, ids, place.name, f"{indent}  ")
            yield f"{indent}}}"
        else:
            yield f"{indent}{box}"


def _dot_arrow(arrow: Arrow, marks: Marks, ids: Mapping[str, str]) -> str:
    way = arrow[0]
    lines = _said(arrow, marks)
    bare = marks.is_bare(way)
    style = "style=bold" if marks.went(way) else "style=dashed" if way.kind in _FAINT or bare else ""
    colour = 'color="#c00000", fontcolor="#c00000"' if bare else ""
    label = f"label={_dotted(chr(10).join(lines))}" if lines else ""
    return f"  {ids[way.start]} -> {ids[way.end]}{_attributes(iter((label, style, colour)))};"
