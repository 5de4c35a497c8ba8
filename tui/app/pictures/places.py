"""The leak search as a working list: the places of this equipment in order, what each gave, what is still to do."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tui.app.pictures.canvas import Canvas
from tui.app.sheet import FAINT, STRONG, Line, shown, styled
from tui.quantity import from_json
from tui.tree.model import UNKNOWN, Ask, Repeat, Tree
from tui.walk.counted import counted_events
from tui.walk.places import place_of_round

if TYPE_CHECKING:
    from tui.walk import Walk

NOT_HAD = "not had"
HIT, FRESH, OLD, CLEAR, OUT, TO_DO, HERE = "●", "◆", "◇", "○", "-", "□", "→"
MARKS = {"hit": HIT, "growing": HIT, "fresh": FRESH, "old": OLD, "out of reach": OUT, NOT_HAD: OUT}
LEGEND = "● hit  ◆ fresh oil  ◇ old oil  ○ no find  - not reached  □ not yet  → here now"
HITS = frozenset({"hit", "growing"})
SIDES = ("from-left", "from-right", "from-below")  # looks, each out of clean air
FIRST = "sniff"
HEADS = {"oil-there": "oil", FIRST: "detector", "bubbles-there": "soap"}
FROM = "from clean air"
FEWEST = 12  # cells of a place's name, at least


@dataclass(slots=True)
class Place:
    """One place with what was answered there, by column; `looks`: the columns of looks out of clean air.

    `here`: the walk stands there now; `to_do`: the round that runs has yet to come to it; `found`: a finding names it.
    """

    name: str
    answers: dict[str, list[str]] = field(default_factory=dict)
    looks: set[str] = field(default_factory=set)
    here: bool = False
    to_do: bool = False
    found: bool = False

    @property
    def mark(self) -> str:
        """The worst of its answers, as a sign; looks from three sides put the first hit right, and count if all hit."""
        if self.found:
            return HIT
        if not self.answers:
            return HERE if self.here else TO_DO
        said = []
        for column, answers in self.answers.items():
            if column in self.looks:
                said += answers[:1] if HITS.issuperset(answers) else []
            elif column != HEADS[FIRST] or FROM not in self.looks:
                said += answers
        return next((mark for word, mark in MARKS.items() if word in said), CLEAR)

    def said(self, column: str) -> str:
        """What stands in a column: the answer, or of several looks how many hit."""
        answers = self.answers.get(column, [])
        if column not in self.looks:
            return answers[-1] if answers else ""
        return f"{sum(answer in HITS for answer in answers)} of {len(answers)} hit"


def places_of(walk: Walk) -> list[Place]:
    """Every place of the lists that were begun, in their order; none before a search has begun."""
    circuit = walk.looked_at()
    if circuit is None:
        return []
    found: dict[str, Place] = {}
    begun: list[tuple[Tree, Repeat]] = []
    for event in counted_events(walk):
        place = event.get("place")
        if event["event"] not in ("answered", "couldn't") or not place or event.get("circuit") != circuit.name:
            continue
        tree = walk.library.trees.get(str(event.get("tree")))
        repeat = _around(tree, str(event.get("step")))
        if tree is None or repeat is None:
            continue
        if (tree, repeat) not in begun:
            begun.append((tree, repeat))
            _list_all(walk, repeat, found)
        at = found.setdefault(str(place), Place(str(place)))
        for reading in (event["reading"],) if "reading" in event else event.get("readings", ()):
            answer = str(from_json(event["value"])) if "value" in event else NOT_HAD
            column = _column(repeat, reading, begun)
            at.answers.setdefault(column, []).append(answer)
            at.looks |= {column} if reading in SIDES else set()
    for event in walk.events:
        if event["event"] == "finding" and event["circuit"] == circuit.name and event.get("place") in found:
            found[event["place"]].found = True
    _where_it_stands(walk, circuit.name, found)
    return list(found.values())


def _around(tree: Tree | None, step: str) -> Repeat | None:
    """The round over places in which a step asks."""
    over = (each for each in tree.named.values() if isinstance(each, Repeat) and each.places) if tree else iter(())
    return next((each for each in over if any(s.name == step and isinstance(s, Ask) for s in each.steps)), None)


def _list_all(walk: Walk, repeat: Repeat, found: dict[str, Place]) -> None:
    """The places of a list that are not there yet, in its order."""
    values = walk.values()
    table = walk.library.catalogue.places.lists[str(repeat.places)]
    row = table.row_for(tuple(str(values.get(column, UNKNOWN)) for column in table.columns))
    for name in (part.strip() for part in row.to.split(",")) if row is not None else ():
        found.setdefault(name, Place(name))


def _column(repeat: Repeat, reading: str, begun: list[tuple[Tree, Repeat]]) -> str:
    """Its heading: looks out of clean air in one, those of a later round under its name."""
    if reading not in SIDES:
        return HEADS.get(reading, reading.replace("-", " "))
    first = next((r for _, r in begun if any(isinstance(s, Ask) and reading in s.readings for s in r.steps)), repeat)
    return FROM if repeat is first else repeat.name.replace("-", " ")


def _where_it_stands(walk: Walk, circuit: str, found: dict[str, Place]) -> None:
    """Mark the place at hand, and what the round that runs has yet to come to."""
    machine = walk.machine
    here = place_of_round(machine.circuits.get(circuit))
    if not here or walk.prompt is None:
        return
    frame = machine.circuits[circuit].frame
    names = next((frame.places[r.name] for r in frame.program.around(frame.step) if r.name in frame.places), [])
    for name in names:
        found.setdefault(name, Place(name)).here = name == here
    for name in names[names.index(here) + 1 :] if here in names else []:
        found[name].to_do = True


def searched(walk: Walk) -> bool:
    """Whether there is anything to show: a place was looked at, or is about to be."""
    return bool(places_of(walk))


# ---- drawing


def places_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """A line a place; where not all fit, those around the one at hand, and how many are left out."""
    found = places_of(walk)
    if not found:
        return []
    columns = list(dict.fromkeys(column for each in found for column in each.answers))
    wide = max(FEWEST, min(max(len(each.name) for each in found), width // 2))
    starts = _starts(found, columns, wide + 4, width)
    room = height - 3 if height > 5 else height - 1
    first, last = _window(found, max(1, room))
    canvas = Canvas(width, 1 + last - first)
    canvas.put(0, 3, "place", FAINT)
    for column, at in starts.items():
        canvas.put(0, at, column, FAINT)
    for row, each in enumerate(found[first:last], start=1):
        style = STRONG if each.here or each.mark == HIT else ""
        canvas.put(row, 1, HERE if each.here else each.mark, style)
        canvas.put(row, 3, shown(_cut(each.name, wide)), style)
        for column, at in starts.items():
            canvas.put(row, at, shown(each.said(column)), style)
    lines = canvas.lines()
    foot = [_count(found, len(found) - (last - first)), LEGEND]
    lines += [Line(styled(f" {text}"[:width], FAINT)) for text in foot[: max(0, height - len(lines))]]
    return lines


def _starts(found: list[Place], columns: list[str], first: int, width: int) -> dict[str, int]:
    """Where each column begins; those that do not fit are left out, the oldest answers first."""
    wide = {column: max(len(column), *(len(each.said(column)) for each in found)) + 2 for column in columns}
    kept = list(columns)
    while kept and first + sum(wide[column] for column in kept) > width + 2:
        kept.pop(0)
    starts, at = {}, first
    for column in kept:
        starts[column] = at
        at += wide[column]
    return starts


def _window(found: list[Place], room: int) -> tuple[int, int]:
    """From which to which place there is room for: around the one at hand, else the last looked at."""
    looked = [n for n, each in enumerate(found) if each.here] or [n for n, each in enumerate(found) if each.answers]
    middle = looked[-1] if looked else 0
    first = max(0, min(middle - room // 2, len(found) - room))
    return first, min(len(found), first + room)


def _cut(name: str, wide: int) -> str:
    return name if len(name) <= wide else f"{name[: wide - 3]}..."


def _count(found: list[Place], left_out: int) -> str:
    done = sum(bool(each.answers) for each in found)
    hits = [each.name for each in found if each.mark == HIT]
    to_do = sum(each.to_do for each in found)
    said = [f"{done} of {len(found)} places looked at"]
    said += [f"{to_do} still to do after this one"] if any(each.here for each in found) else []
    said += [f"found at {', '.join(hits)}"] if hits else ["nothing found"]
    said += [f"{left_out} not shown"] if left_out else []
    return "; ".join(said)
