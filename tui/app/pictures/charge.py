"""The weighed test: suction, head, superheat and subcooling against what went in, one point a round."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from tui.app.pictures.canvas import Canvas
from tui.app.pictures.ladder import rows_of
from tui.app.pictures.weighed import WATCHED, Watched, Weighing, source_of, stop_of, wanted_of, weighing_of
from tui.app.sheet import FAINT, STRONG, Line, styled
from tui.quantity import Quantity, show, usual_unit

if TYPE_CHECKING:
    from tui.walk import Walk

NOW, BEFORE, WANTED, STOP, LIMIT, BETWEEN = "●", "○", "─", "=", "│", "·"
TWO_FROM = 76  # cells: narrower, they stand one below the other
LEAST, LEAST_ALONE = 5, 8  # lines of one of them, side by side and one below the other
LOW = 16  # lines: a screen with no more has one line under the picture
NEAR = 0.5  # of what is shown: a stop as near as this is brought into it
BEYOND = 1.6  # what went in is at most shown this far from the right edge


@dataclass(frozen=True, slots=True)
class Series:
    """One of the four, ready to be drawn: (net kg, SI value) of each point, edges of what is wanted, the stop."""

    words: str
    says: str
    points: tuple[tuple[float, float], ...]
    wanted: tuple[float, ...]
    stop: float | None
    shown: dict[float, str]


def charge_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """Two by two where there is room, else as many as fit one below the other; none before there are two points."""
    test = weighing_of(walk)
    if len(test.points) < 2:
        return []
    under = _under(walk, test, width, height)
    columns = 2 if width >= TWO_FROM else 1
    rows = max(1, min(4 // columns, (height - len(under)) // (LEAST if columns == 2 else LEAST_ALONE)))
    tall, wide = (height - len(under)) // rows, (width - columns + 1) // columns
    canvas = Canvas(width, tall * rows)
    for place, watched in enumerate(WATCHED[: rows * columns]):
        panel = Canvas(wide, tall)
        _draw(panel, walk, test, watched)
        canvas.paste(panel, place // columns * tall, place % columns * (wide + 1))
    return [*canvas.lines(), *under]


def _under(walk: Walk, test: Weighing, width: int, height: int) -> list[Line]:
    """What the signs mean and where it stops, in one line on a low screen; none on a very low one."""
    said = []
    head = test.points[-1].values.get("head")
    limit = stop_of(WATCHED[1], test, head.kind) if head is not None else None
    said += [f"head {_said(walk, limit)}"] if limit is not None else []
    amps = test.edges.get("amps-top", {}).get("high")
    said += [f"amps {_said(walk, amps)}"] if amps is not None else []
    if height <= LOW:
        signs = f"{NOW} now {BEFORE} before {WANTED} wanted {STOP} stop {LIMIT} most in"
        texts = [f"{signs}; stops at {', '.join(said)}" if said else signs] if height > LEAST else []
    else:
        said = [f"{words} {_said(walk, value)}" for words, value in _masses(test)] + said
        texts = [f"{NOW} now  {BEFORE} before  {WANTED} wanted  {STOP} test stops  {LIMIT} most that goes in"]
        texts += [f"it stops at: {', '.join(said)}"] if said else []
    return [Line(styled(f" {text}"[:width], FAINT)) for text in texts]


def _masses(test: Weighing) -> list[tuple[str, Quantity]]:
    """What must not be passed: the plate's charge, and what so many rounds come to."""
    named = (("plate", test.plate), (f"{test.rounds} rounds", test.most))
    return [(words, value) for words, value in named if value is not None]


def _said(walk: Walk, value: Quantity) -> str:
    return show(value, usual_unit(value, walk.units))


def series_of(walk: Walk, test: Weighing, watched: Watched) -> Series | None:
    """What there is to draw of one of them; None where it was not had."""
    source = source_of(watched, test)
    had = [(point.net, point.values[source]) for point in test.points if source in point.values]
    if not had:
        return None
    kind = had[-1][1].kind
    wanted, stop = wanted_of(walk, watched, test, kind), stop_of(watched, test, kind)
    everything = [*(value for _, value in had), *wanted, *([stop] if stop is not None else [])]
    words = watched.words if source == watched.words else f"{source.removesuffix('-now')}"
    return Series(
        words,
        {"low": "low", "high": "high", "on": "as wanted"}.get(test.verdicts.get(watched.level, ""), ""),
        tuple((net.si, value.si) for net, value in had),
        tuple(edge.si for edge in wanted),
        None if stop is None else stop.si,
        {value.si: _said(walk, value) for value in everything},
    )


def _draw(canvas: Canvas, walk: Walk, test: Weighing, watched: Watched) -> None:
    """Its title, the points on their scale, the axis of what went in."""
    series = series_of(walk, test, watched)
    if series is None:
        canvas.put(0, 1, f"{watched.words}: not had", FAINT)
        return
    tall = canvas.height - 2
    title = f"{series.words} {series.shown[series.points[-1][1]]}" + (f", {series.says}" if series.says else "")
    canvas.put(0, 1, title, STRONG)
    label = max(map(len, series.shown.values())) + 1
    stop = [series.stop] if series.stop is not None and _is_near(series) else []
    anchors = {series.points[-1][1], *series.wanted, *stop}
    first = series.points[0][1]
    anchors |= {first} if len(anchors) < tall else set()
    marks = rows_by_value(anchors, (value for _, value in series.points), tall)
    for row, text in _labels(series, marks).items():
        canvas.put(row + 1, label - len(text), text)
    left, inner = label + 2, canvas.width - label - 2
    for row in range(tall):
        canvas.put(row + 1, label + 1, "│")
    for value, sign in [*((edge, WANTED) for edge in series.wanted), *((edge, STOP) for edge in stop)]:
        canvas.put(marks[value] + 1, left, sign * inner, FAINT)
    right = _right(test)
    _axis(canvas, walk, test, left, right)
    _points(canvas, series, marks, left, right)


def _is_near(series: Series) -> bool:
    """Whether the stop is near enough to be brought into the picture."""
    numbers = [*(value for _, value in series.points), *series.wanted]
    near = NEAR * (max(numbers) - min(numbers))
    return series.stop is not None and min(numbers) - near <= series.stop <= max(numbers) + near


def rows_by_value(anchors: Iterable[float], others: Iterable[float], tall: int) -> dict[float, int]:
    """The row of each, the highest at the top, on one scale from the highest to the lowest of all.

    `anchors` (the points of now and of before, what is wanted) stand in rows of their own if there are enough, so
    that a point short of what is wanted never stands on its line; `others` keep to their side of them.
    """
    others = list(others)
    down = sorted(set(anchors), reverse=True)
    top, bottom = max([*down, *others]), min([*down, *others])
    rows = dict(zip(down, rows_of(down, top, bottom, tall), strict=True))
    for value in others:
        plain = round((top - value) / max(top - bottom, 1e-9) * (tall - 1))
        first = max((rows[each] + 1 for each in down if each > value), default=0)
        last = min((rows[each] - 1 for each in down if each < value), default=tall - 1)
        rows.setdefault(value, max(first, min(last, plain)) if first <= last else max(0, min(tall - 1, first)))
    return rows


def _labels(series: Series, marks: dict[float, int]) -> dict[int, str]:
    """A number for a row: of several the current one, else what is wanted, the stop, the first."""
    order = [series.points[-1][1], *series.wanted, *([series.stop] if series.stop is not None else [])]
    order += [value for _, value in series.points]
    return {marks[value]: series.shown[value] for value in reversed(order) if value in marks}


def _right(test: Weighing) -> float:
    """kg at the right edge: the plate's charge, unless the points would stand too close together then."""
    net = max(max(point.net.si for point in test.points), test.step.si if test.step is not None else 0.0, 1e-9)
    limits = [value.si for _, value in _masses(test)]
    return max(limits, default=0.0) if limits and max(limits) <= 2 * BEYOND * net else BEYOND * net


def _axis(canvas: Canvas, walk: Walk, test: Weighing, left: int, right: float) -> None:
    """What went in, with its numbers where there is room, and the limits of it as uprights."""
    inner, foot = canvas.width - left, canvas.height - 1
    canvas.put(foot, left - 1, "└" + "─" * inner)
    beyond = ""
    for words, mass in _masses(test):
        if mass.si <= right:
            column = left + round(mass.si / right * (inner - 1))
            for row in range(1, foot):
                canvas.put(row, column, LIMIT, FAINT)
            text = f"{words} {_said(walk, mass)}"
            canvas.put(foot, max(left, canvas.width - len(text)), text, FAINT)
        elif not beyond:
            beyond = f"{words} {_said(walk, mass)} →"
    end = canvas.width - len(beyond) - 1
    canvas.put(foot, end + 1, beyond, FAINT)
    for net in [test.points[-1].net.si, 0.0, *(point.net.si for point in test.points[1:-1])]:
        text = _said(walk, Quantity(test.points[0].net.kind, net))
        text = text if net else "0"
        start = max(left, min(end - len(text), left + round(net / right * (inner - 1)) - len(text) // 2))
        room = "".join(canvas.at(foot, at) for at in range(start - 1, start + len(text) + 1))
        if not room.strip("─└ "):
            canvas.put(foot, start, text)


def _points(canvas: Canvas, series: Series, marks: dict[float, int], left: int, right: float) -> None:
    inner = canvas.width - left
    cells = [(marks[value] + 1, left + round(net / right * (inner - 1))) for net, value in series.points]
    for (row, column), (to_row, to_column) in pairwise(cells):
        steps = max(abs(to_column - column), abs(to_row - row))
        for step in range(1, steps):
            at = round(row + (to_row - row) * step / steps), round(column + (to_column - column) * step / steps)
            if canvas.at(*at) == " ":
                canvas.put(*at, BETWEEN, FAINT)
    for row, column in cells[:-1]:
        canvas.put(row, column, BEFORE)
    canvas.put(*cells[-1], NOW, STRONG)
