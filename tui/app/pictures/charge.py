"""The weighed test: suction, head, superheat and subcooling against what went in, one point a round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.content import Content

from tui.app.sheet import FAINT, STRONG, Line
from tui.quantity import Kind, Quantity, from_json, show, usual_unit

if TYPE_CHECKING:
    from tui.walk import Walk

TREE = "charge-test"
NET = "net-added"
PANELS = ("suction", "head", "superheat", "subcooling")
LABEL = 11  # cells of a number beside its axis


@dataclass(frozen=True, slots=True)
class Point:
    """After a round: what had gone in by then, and each value in its SI unit. `number`: of its event."""

    number: int
    net: Quantity
    values: dict[str, Quantity]


def points_of(walk: Walk) -> list[Point]:
    """One a round of the test on the circuit at hand, after the one before it began; none that was taken back."""
    circuit = _circuit(walk)
    now: dict[str, Quantity] = {}
    points: list[Point] = []
    for number, event in enumerate(walk.events):
        kind = event["event"]
        if kind == "undone":
            points = [point for point in points if point.number < event["back_to"]]
        elif kind == "corrected":
            points = [point for point in points if point.number < event["event_no"]]
        if event.get("circuit") != circuit:
            continue
        if kind == "done" and event.get("tree") == TREE and event.get("work") == "connects a cylinder":
            points = []
        _take(now, event)
        if kind == "done" and event.get("work") == "adds refrigerant" and not points and now:
            points = [Point(number, _nothing(), dict(now))]
        if kind == "worked-out" and event.get("name") == NET and (net := _quantity(event.get("value"))) is not None:
            points.append(Point(number, net, dict(now)))
    return points


def _circuit(walk: Walk) -> str:
    prompt = walk.prompt
    if prompt is not None and prompt.circuit:
        return prompt.circuit
    return walk.findings[-1].circuit if walk.findings else ""


def _nothing() -> Quantity:
    return Quantity(Kind.MASS, 0.0)


def _take(now: dict[str, Quantity], event: dict[str, Any]) -> None:
    name = event.get("reading") or event.get("name") or ""
    value = _quantity(event.get("value"))
    if name in PANELS and value is not None:
        now[name] = value


def _quantity(stored: object) -> Quantity | None:
    value = from_json(stored) if isinstance(stored, dict) else None
    return value if isinstance(value, Quantity) else None


# ---- drawing


def charge_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """Two by two where there is room, else one below the other as far as they fit."""
    points = points_of(walk)
    if len(points) < 2:
        return []
    two = width >= 76
    stops = _stops(walk)
    height -= bool(stops)
    rows = 2 if two else max(1, min(4, height // 6))
    shown = PANELS if two else PANELS[:rows]
    tall = max(5, height // rows)
    wide = width // 2 - 1 if two else width
    drawn = [list(_panel(walk, points, name, wide, tall)) for name in shown]
    foot = [Line(Content.styled(f" {stops}"[:width], FAINT))] if stops else []
    if not two:
        return [*[Line(Content(text)) for panel in drawn for text in panel][:height], *foot]
    lines = []
    for left, right in ((drawn[0], drawn[1]), (drawn[2], drawn[3])):
        pair = [Content(f" {a:<{wide}} {b}"[:width]) for a, b in zip(left, right, strict=True)]
        lines += [Line(pair[0].stylize(STRONG)), *map(Line, pair[1:])]
    return [*lines[:height], *foot]


def _stops(walk: Walk) -> str:
    """What the test stops at, as far as it is known."""
    values = walk.values()
    named = (("head-limit", "head over"), ("plate-amps", "more amps than"), ("nameplate-charge", "more in than"))
    said = [f"{words} {_said(walk, value)}" for name, words in named if isinstance(value := values.get(name), Quantity)]
    return f"it stops at {', '.join(said)}" if said else ""


def _panel(walk: Walk, points: list[Point], name: str, width: int, height: int) -> Iterator[str]:
    """A title, the drawing, its lower axis: exactly `height` lines."""
    had = [(point.net, point.values[name]) for point in points if name in point.values]
    if not had:
        yield f"{name}: not had"[:width]
        yield from [""] * (height - 1)
        return
    edges = _wanted(walk, name)
    numbers = [value.si for _, value in had] + [edge.si for edge in edges]
    low, high = min(numbers), max(numbers)
    low, high = (low, high) if high > low else (low - 1, high + 1)
    inner, tall = max(8, width - LABEL - 2), height - 2
    grid = [[" "] * inner for _ in range(tall)]
    for edge in edges:
        _across(grid, _row(edge.si, low, high, tall))
    right = max(net.si for net, _ in had) or 1.0
    for place, (net, value) in enumerate(had):
        column = round(net.si / right * (inner - 1))
        grid[_row(value.si, low, high, tall)][max(0, min(inner - 1, column))] = "●" if place == len(had) - 1 else "○"
    last = _said(walk, had[-1][1])
    yield f"{name} {last}{'  wanted ─' if edges else ''}"[:width]
    labels = {_row(value.si, low, high, tall): _said(walk, value) for _, value in reversed(had)}
    labels |= {_row(edge.si, low, high, tall): _said(walk, edge) for edge in edges}
    for number, row in enumerate(grid):
        yield f"{labels.get(number, ''):>{LABEL}} │{''.join(row)}"[:width]
    foot = f"0 to {_said(walk, had[-1][0])} in, {len(had) - 1} {'round' if len(had) == 2 else 'rounds'}"
    yield f"{'':>{LABEL}} └{foot:─<{inner}}"[:width]


def _across(grid: list[list[str]], row: int) -> None:
    grid[row] = ["─"] * len(grid[row])


def _row(value: float, low: float, high: float, tall: int) -> int:
    return round((high - value) / (high - low) * (tall - 1))


def _said(walk: Walk, value: Quantity) -> str:
    return show(value, usual_unit(value, walk.units))


def _wanted(walk: Walk, name: str) -> list[Quantity]:
    """The target of a pressure, or the edges of what is wanted, as they were last judged."""
    target = walk.values().get(f"{name}-target")
    if isinstance(target, Quantity):
        return [target]
    judged = [e for e in walk.events if e["event"] == "judged" and e.get("name") == f"{name}-level"]
    if not judged:
        return []
    return [edge for part in ("low", "high") if (edge := _quantity(judged[-1].get(part))) is not None]

