"""The temperature ladder: air, lines, evaporating and condensing on one scale, and the differences between them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.app.pictures.canvas import Canvas
from tui.app.sheet import FAINT, STRONG, Line, styled
from tui.quantity import Kind, Quantity, Refused, Value, from_json, show, usual_unit
from tui.trade import SUMS

if TYPE_CHECKING:
    from tui.walk import Walk

BUBBLE, DEW = "bubble at head", "dew at suction"  # of a blend: subcooling and superheat count from there
BOX_NOW = ("box-now", "return-air", "box-air")
#: (name on the ladder, values it may come from, the first that is known), the ones left out last first
MEASURED = (
    ("condensing", ("condensing-now",)),
    ("evaporating", ("evaporating-now",)),
    ("condenser bend", ("condenser-bend",)),
    ("evaporator bend", ("evaporator-bend",)),
    ("condenser air", ("condenser-air",)),
    ("box air", BOX_NOW),
    ("condenser outlet", ("condenser-outlet",)),
    ("evaporator outlet", ("evaporator-outlet",)),
    (BUBBLE, ()),
    (DEW, ()),
    ("supply air", ("supply-air",)),
    ("compressor inlet", ("compressor-inlet",)),
    ("discharge line", ("discharge-line",)),
)
WANTED = (
    ("condensing", ("condensing-wanted",)),
    ("evaporating", ("evaporating-wanted",)),
    ("box", ("box-wanted",)),
    ("evaporating now", ("evaporating-wanted-now",)),
)
#: a bend stands in for what the gauge would give
INSTEAD = {"condenser bend": "condensing", "evaporator bend": "evaporating"}
DISCHARGE = "discharge line"
GAP = 0.35  # share of the scale that a discharge line may take; it stands off the scale where it would be more

EARLIER = "◇"
OF_EARLIER = f", {EARLIER} earlier: not taken again since"
WIDE, SMALL, ON = "wide", "small", "on"
BRACKETS = 4  # cells
RIGHT_FROM = 76  # cells: narrower there is no column of what is wanted
BESIDE_FROM = 48  # cells: narrower the differences stand under the scale
NUMBER = 8  # cells of a temperature, at most
LEAST = 3  # lines
APART = 0.3  # K: nearer, two temperatures are one


@dataclass(frozen=True, slots=True)
class Rung:
    """A temperature in kelvin, with its words and how it is shown.

    `earlier`: it was true before the last work and was not taken again since: no difference rests on it.
    """

    words: str
    kelvin: float
    shown: str
    earlier: bool = False

    @property
    def style(self) -> str:
        return FAINT if self.earlier else ""


@dataclass(frozen=True, slots=True)
class Difference:
    """`upper` over `lower`, by their words. `says`: wide, small or on, empty without a verdict; `wanted` in words."""

    words: str
    upper: str
    lower: str
    shown: str
    rounded: str
    says: str = ""
    wanted: str = ""
    close: bool = False

    @property
    def off(self) -> bool:
        return self.says in (WIDE, SMALL)

    def said(self, room: int) -> str:
        """As much as there is room for."""
        bare = f"{self.words} {self.shown}"
        says = f"{bare}, {'nearly ' if self.close else ''}{self.says}" if self.says else bare
        wanted = f"{says}, wanted {self.wanted}" if self.wanted and self.off else says
        whole = says.replace(self.shown, self.rounded)
        short = f"{self.words} {self.says}" if self.says else whole
        return next((text for text in (wanted, says, whole, short) if len(text) <= room), short[: max(0, room)])


# ---- what there is to draw


def rungs_of(walk: Walk, names: Sequence[tuple[str, tuple[str, ...]]]) -> list[Rung]:
    """Those that are known, in the order of `names`, those of earlier last; a bend only where its gauge gives nothing.

    Of several sources the first that is true now counts, else the first that was.
    """
    values, earlier = walk.values(), walk.earlier()
    ends = _glide_ends(walk)
    found: list[Rung] = []
    for words, sources in names:
        if words in ends:
            found.append(ends[words])
        known = [name for name in sources if _is(values.get(name), Kind.TEMPERATURE)]
        name = next((name for name in known if name not in earlier), known[0] if known else "")
        value = values.get(name)
        if isinstance(value, Quantity) and not any(_gives(rung, words, name in earlier) for rung in found):
            found.append(Rung(words, value.si, _shown(walk, value), name in earlier))
    return sorted(found, key=lambda rung: rung.earlier)


def _gives(rung: Rung, bend: str, earlier: bool) -> bool:
    """Does the gauge give what a bend stands in for? One of earlier does not, where the bend is of now."""
    return rung.words == INSTEAD.get(bend) and (earlier or not rung.earlier)


def _glide_ends(walk: Walk) -> dict[str, Rung]:
    """Bubble at the head and dew at the suction, where they are not the temperatures of the coils; by words."""
    values, earlier, machine = walk.values(), walk.earlier(), walk.machine
    refrigerant = values.get("refrigerant")
    found = {}
    for words, sum_of, pressure, coil in (
        (BUBBLE, "bubble-temperature", "head", "condensing-now"),
        (DEW, "dew-temperature", "suction", "evaporating-now"),
    ):
        at, mean = values.get(pressure), values.get(coil)
        if not isinstance(at, Quantity) or not isinstance(mean, Quantity) or not isinstance(refrigerant, str):
            continue
        if coil in earlier and pressure not in earlier:
            continue  # the coil's temperature is still to be worked out from this pressure
        with machine.properties.aside(), suppress(Refused):
            end = SUMS[sum_of].call(machine.at_site, machine.properties, at, refrigerant)
            if isinstance(end, Quantity) and abs(end.si - mean.si) > APART:
                found[words] = Rung(words, end.si, _shown(walk, end), pressure in earlier)
    return found


def differences_of(walk: Walk, rungs: Iterable[Rung]) -> list[Difference]:
    """Split and TD, then subcooling and superheat, of what is on the ladder and true now."""
    had = {INSTEAD.get(rung.words, rung.words): rung for rung in rungs if not rung.earlier}
    bubble = BUBBLE if BUBBLE in had else "condensing"
    dew = DEW if DEW in had else "evaporating"
    found = []
    for words, upper, lower, judged in (
        ("split", "condensing", "condenser air", (("head-level", 1), ("split-over-air", 1))),
        ("TD", "box air", "evaporating", (("suction-level", -1), ("coil-temperature", -1))),
        ("subcooling", bubble, "condenser outlet", (("subcooling-level", 1),)),
        ("superheat", "evaporator outlet", dew, (("superheat-level", 1), ("superheat-by-clamps", 1))),
    ):
        if upper in had and lower in had:
            found.append(_difference(walk, words, had[upper], had[lower], judged))
    return found


def _difference(
    walk: Walk, words: str, upper: Rung, lower: Rung, judged: tuple[tuple[str, int], ...]
) -> Difference:
    named = _now(walk, words)
    by_gauge = {upper.words, lower.words}.isdisjoint(INSTEAD)
    measured = isinstance(named, Quantity) and by_gauge
    gap = named if isinstance(named, Quantity) and measured else _span(upper.kelvin - lower.kelvin)
    at = 0 if by_gauge else -1
    level, sense = judged[at]
    verdict, close, edges = _judged(walk, level)
    says = {"on": ON, "high": WIDE if sense > 0 else SMALL, "low": SMALL if sense > 0 else WIDE}.get(verdict, "")
    if not by_gauge and len(judged) == 1:
        says, edges = "", ()
    wanted = _target(walk, words) if by_gauge else ""
    wanted = wanted or _wanted(walk, words, upper, edges)
    shown, rounded = _shown(walk, gap), show(gap, usual_unit(gap, walk.units), digits=0)
    return Difference(words, upper.words, lower.words, shown, rounded, says, wanted, close and bool(says))


def _judged(walk: Walk, level: str) -> tuple[str, bool, tuple[Quantity, ...]]:
    """(verdict, close or not, edges of what is wanted) of the latest of this name on the circuit at hand.

    Nothing where it was judged of readings that are not true any more.
    """
    if level in walk.earlier():
        return "", False, ()
    circuit = walk.looked_at()
    evidence = [] if circuit is None else list(circuit.evidence.values())
    events = [e for e in evidence if e["event"] == "judged" and e.get("name") == level]
    if not events:
        return "", False, ()
    stored = [from_json(edge) for part in ("low", "high") if isinstance(edge := events[-1].get(part), dict)]
    edges = tuple(edge for edge in stored if isinstance(edge, Quantity))
    return str(events[-1].get("verdict") or ""), bool(events[-1].get("close")), edges


def _target(walk: Walk, words: str) -> str:
    """What a split or a TD should be: from the two temperatures that are wanted."""
    ends = {"split": ("condensing-wanted", ("condenser-air",)), "TD": ("evaporating-wanted-now", BOX_NOW)}.get(words)
    if ends is None:
        return ""
    target, base = _now(walk, ends[0]), next((v for name in ends[1] if (v := _now(walk, name)) is not None), None)
    if not isinstance(target, Quantity) or not isinstance(base, Quantity):
        return ""
    return _shown(walk, _span(abs(target.si - base.si)))


def _wanted(walk: Walk, words: str, upper: Rung, edges: tuple[Quantity, ...]) -> str:
    """The edges as differences: those of a temperature are taken from the other end of the bracket."""
    if not edges:
        return ""
    if edges[0].kind is Kind.TEMPERATURE:
        other = _now(walk, "condenser-air") if words == "split" else None
        base = other.si if isinstance(other, Quantity) else upper.kelvin
        edges = tuple(_span(abs(edge.si - base)) for edge in edges)
    low, high = min(edges, key=lambda e: e.si), max(edges, key=lambda e: e.si)
    if len(edges) < 2:
        return _shown(walk, low)
    first = _shown(walk, low).split(" ")[0]
    return f"{first} to {_shown(walk, high)}"


def _now(walk: Walk, name: str) -> Value | None:
    """A value that is true now; None for one of earlier."""
    return None if name in walk.earlier() else walk.values().get(name)


def _span(kelvin: float) -> Quantity:
    return Quantity(Kind.TEMPERATURE_DIFFERENCE, kelvin)


def _is(value: Value | None, kind: Kind) -> bool:
    return isinstance(value, Quantity) and value.kind is kind


def _shown(walk: Walk, value: Quantity) -> str:
    return show(value, usual_unit(value, walk.units))


# ---- where it stands


def rows_of(kelvins: Sequence[float], top: float, bottom: float, height: int) -> list[int]:
    """The row of each of these temperatures, given hottest first: never one below a colder one.

    Each in a row of its own, as long as there are not more of them than rows.
    """
    span = max(top - bottom, 1e-9)
    rows = [min(height - 1, max(0, round((top - each) / span * (height - 1)))) for each in kelvins]
    last = -1
    for place, row in enumerate(rows):
        rows[place] = last = max(row, last + 1)
    below = height
    for place in range(len(rows) - 1, -1, -1):
        rows[place] = below = min(rows[place], below - 1)
    return [max(0, row) for row in rows]


# ---- drawing


def ladder_lines(walk: Walk, width: int, height: int) -> list[Line]:
    """At most so many lines of so many cells; empty where fewer than two temperatures are known."""
    known = rungs_of(walk, MEASURED)
    if len(known) < 2 or height < LEAST:
        return []
    measured = _hottest_first(known[: height - 1])
    wanted = _hottest_first(_apart(rungs_of(walk, WANTED))[: height - 1]) if width >= RIGHT_FROM else []
    differences = differences_of(walk, measured)
    if width >= BESIDE_FROM:
        return _drawn(measured, wanted, differences, width, height)
    below = differences[: max(0, height - 1 - len(measured))]
    under = [Line(styled(f" {each.said(width - 1)}", STRONG if each.off else "")) for each in below]
    return [*_drawn(measured, wanted, [], width, height - len(under)), *under]


def _hottest_first(rungs: list[Rung]) -> list[Rung]:
    return sorted(rungs, key=lambda rung: -rung.kelvin)


def _apart(wanted: list[Rung]) -> list[Rung]:
    """Without the present target where it is the one of the design."""
    design = next((rung.kelvin for rung in wanted if rung.words == "evaporating"), None)
    return [r for r in wanted if r.words != "evaporating now" or design is None or abs(r.kelvin - design) > APART]


def _drawn(
    measured: list[Rung], wanted: list[Rung], differences: list[Difference], width: int, height: int
) -> list[Line]:
    off_scale = _off_scale(measured)
    scaled = [*measured[off_scale:], *wanted]
    top, bottom = max(r.kelvin for r in scaled), min(r.kelvin for r in scaled)
    tall = height - 1
    canvas = Canvas(width, height)
    at = _rows(measured, top, bottom, tall, off_scale)
    number = min(NUMBER, max(len(rung.shown) for rung in measured))
    left = number + 4 + max(len(rung.words) for rung in measured)
    right = width - max((len(f"○ {r.shown} {r.words}") + 1 for r in wanted), default=0)
    title = "measured" + (OF_EARLIER if any(rung.earlier for rung in (*measured, *wanted)) else "")
    canvas.put(0, 1, title if len(title) < right else title[: title.find(":")], FAINT)
    for place, rung in enumerate(measured):
        words = f"{rung.words}, off the scale" if place < off_scale else rung.words
        sign = EARLIER if rung.earlier else "●"
        canvas.put(at[rung.words] + 1, 1, f"{rung.shown:>{number}} {sign} {words}", rung.style)
    _brackets(canvas, at, differences, left, right)
    if wanted:
        canvas.put(0, right, "wanted", FAINT)
        for rung, row in zip(wanted, rows_of([r.kelvin for r in wanted], top, bottom, tall), strict=True):
            canvas.put(row + 1, right, f"{EARLIER if rung.earlier else '○'} {rung.shown} {rung.words}", rung.style)
    return canvas.lines()


def _off_scale(measured: list[Rung]) -> int:
    """1 where the discharge line is so hot that the rest would be squeezed together, else 0."""
    if len(measured) < 3 or measured[0].words != DISCHARGE:
        return 0
    whole = measured[0].kelvin - measured[-1].kelvin
    return int(measured[0].kelvin - measured[1].kelvin > GAP * whole)


def _rows(measured: list[Rung], top: float, bottom: float, tall: int, off_scale: int) -> dict[str, int]:
    """By words. What is off the scale has the first row, and the scale begins a row lower."""
    rows = rows_of([rung.kelvin for rung in measured[off_scale:]], top, bottom, tall - off_scale)
    return {
        **{rung.words: 0 for rung in measured[:off_scale]},
        **{rung.words: row + off_scale for rung, row in zip(measured[off_scale:], rows, strict=True)},
    }


def _brackets(canvas: Canvas, at: dict[str, int], differences: list[Difference], left: int, right: int) -> None:
    """Split and TD on the outside, subcooling and superheat within, each with its words in a row of its own."""
    room = right - left - BRACKETS - 2
    spans = [_span_of(at, each) for each in differences]
    inner = [each.words in ("subcooling", "superheat") for each in differences]
    for (top, bottom), within in zip(spans, inner, strict=True):
        column = left + 1 + 2 * within
        for row in range(top, bottom + 1):
            sign = "─" if top == bottom else "┐" if row == top else "┘" if row == bottom else "│"
            canvas.put(row, column, sign)
    taken: set[int] = set()
    for place in sorted(range(len(spans)), key=lambda n: spans[n][1] - spans[n][0]):
        free = _free_row(spans[place], taken)
        if free is None:
            continue
        taken.add(free)
        each = differences[place]
        _joined(canvas, free, left + 1 + 2 * inner[place], left + BRACKETS)
        canvas.put(free, left + BRACKETS + 1, each.said(room), STRONG if each.off else "")


def _span_of(at: dict[str, int], difference: Difference) -> tuple[int, int]:
    """Its first and last row, under the title."""
    upper, lower = at[difference.upper] + 1, at[difference.lower] + 1
    return min(upper, lower), max(upper, lower)


def _free_row(span: tuple[int, int], taken: set[int]) -> int | None:
    """The row nearest to the middle where no words stand yet."""
    top, bottom = span
    rows = [row for row in range(top, bottom + 1) if row not in taken]
    return min(rows, key=lambda row: abs(row - (top + bottom) / 2), default=None)


def _joined(canvas: Canvas, row: int, column: int, end: int) -> None:
    """A stroke from the bracket to its words, across the inner one if that is in its way."""
    meets = {"│": "├", "┐": "┬", "┘": "┴", "─": "─", " ": "─"}
    canvas.put(row, column, meets.get(canvas.at(row, column), "─"))
    for place in range(column + 1, end):
        canvas.put(row, place, {"│": "┼", "┐": "┬", "┘": "┴"}.get(canvas.at(row, place), "─"))
