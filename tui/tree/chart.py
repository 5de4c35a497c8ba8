"""A tree as a picture would have it: its steps, the ways between them, what follows it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tui.tree.check.graph import NEXT, OFF_THE_END, OUT, ROUND, Edge, Flow, Node, flow
from tui.tree.model import (
    Ask,
    Back,
    CautionStep,
    Decide,
    Do,
    FindingStep,
    Go,
    Judge,
    Repeat,
    Step,
    Tree,
    Wait,
    WorkOut,
)
from tui.tree.printing import print_expression

TREE, END = "tree", "end"
FOLLOWS, OFFERED = "follows", "offered"
THE_END = "the end of the tree"


@dataclass(frozen=True, slots=True)
class Place:
    """A step, or a tree that follows (`form` TREE), or the end of a tree that simply ends (END).

    `name` is the step's; a tree that follows is ``tree NAME``. `says` are its words as the tree writes them;
    `inside` the repeat it stands in, or empty. `labelled`: the tree gave it the name.
    """

    name: str
    form: str
    says: str = ""
    inside: str = ""
    labelled: bool = False


@dataclass(frozen=True, slots=True)
class Way:
    """From a place to another. `kind` is one of `tui.tree.check.graph`, FOLLOWS or OFFERED; `row` as it is written."""

    start: str
    end: str
    kind: str
    row: str = ""


@dataclass(frozen=True, slots=True)
class Chart:
    """`places` down the page, then what follows the tree; `ways` in the order of their starts."""

    tree: str
    title: str
    places: tuple[Place, ...]
    ways: tuple[Way, ...]


def chart_of(tree: Tree, trees: Mapping[str, Tree]) -> Chart:
    """The chart of a tree. `trees`: those that it may call; of one that is not there nothing comes back."""
    flowing = flow(tree, {name: each.outcomes for name, each in trees.items()} | _as_written(tree, trees))
    places = [_place(flowing, node) for node in flowing.nodes if not node.turns]
    ways = list(dict.fromkeys(_ways(flowing)))
    ends = dict.fromkeys(way.end for way in ways if way.kind in (FOLLOWS, OFFERED))
    places += [_follower(end, trees) for end in ends]
    if any(way.end == THE_END for way in ways):
        places.append(Place(THE_END, END))
    return Chart(tree.name, tree.title, tuple(places), tuple(ways))


def _as_written(tree: Tree, trees: Mapping[str, Tree]) -> dict[str, tuple[str, ...]]:
    """Outcomes of called trees that are not at hand: those that the calls name."""
    calls = [step for step in tree.named.values() if isinstance(step, Go) and step.tree not in trees]
    return {call.tree: tuple(call.comes_back) for call in calls}


def _place(flowing: Flow, node: Node) -> Place:
    inside = flowing.nodes[node.inside].name if node.inside >= 0 else ""
    return Place(node.name, _FORMS[type(node.step)], _says(node.step), inside, node.step.labelled)


def _follower(end: str, trees: Mapping[str, Tree]) -> Place:
    found = trees.get(end.removeprefix(f"{TREE} "))
    return Place(end, TREE, found.title if found is not None else "")


def _ways(flowing: Flow) -> Iterator[Way]:
    for node in flowing.nodes:
        for edge in node.edges:
            if edge.kind == ROUND and node.turns:
                continue  # the way round is that back to the repeat
            if node.turns and edge.kind != OUT:
                continue  # its stops are those of the repeat
            yield _way(flowing, node, edge)
        step = node.step
        if isinstance(step, FindingStep):
            for kind, follows in ((FOLLOWS, step.go_on), (OFFERED, step.offer)):
                if follows:
                    yield Way(node.name, f"{TREE} {follows}", kind)


def _way(flowing: Flow, node: Node, edge: Edge) -> Way:
    if edge.to == OFF_THE_END:
        return Way(node.name, THE_END, edge.kind, edge.label)
    to = flowing.nodes[edge.to]
    label = edge.label or ("next round" if to.turns and edge.kind == NEXT else "")
    label = label or ("each round" if edge.kind == ROUND else "")
    return Way(node.name, to.name, edge.kind, label)


_FORMS: Mapping[type[Step], str] = {
    Ask: "ask",
    CautionStep: "caution",
    Do: "do",
    Wait: "wait",
    WorkOut: "work out",
    Judge: "judge",
    Decide: "decide",
    Repeat: "repeat",
    Go: "go",
    Back: "back",
    FindingStep: "finding",
}


def _says(step: Step) -> str:
    """What a step is about."""
    if isinstance(step, Ask):
        return ", ".join(step.readings)
    if isinstance(step, CautionStep):
        return ", ".join(step.cautions)
    if isinstance(step, Do):
        return step.tell.source
    if isinstance(step, Wait):
        return print_expression(step.duration)
    if isinstance(step, WorkOut):
        return f"{step.result} = {print_expression(step.expression)}"
    if isinstance(step, Judge):
        return f"{step.result}: {print_expression(step.compare)}"
    if isinstance(step, Decide):
        return ", ".join(step.table.columns) if step.table is not None else "first of"
    if isinstance(step, Repeat):
        return f"at most {step.most} rounds" if step.places is None else f"for each place in {step.places}"
    if isinstance(step, Go):
        return f"{step.tree}, for each circuit" if step.each_circuit else step.tree
    if isinstance(step, Back):
        return step.outcome
    if isinstance(step, FindingStep):
        return step.cause or f"could be {', '.join(step.could_be)}"
    return ""
